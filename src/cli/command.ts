import type { ArgumentsCamelCase, CommandModule } from 'yargs';
import type { Terminal } from './terminal.ts';

/** A command of the command line: what yargs must know of it, and how it is carried out. */
export interface Command<Arguments> extends Omit<CommandModule<object, Arguments>, 'handler'> {
  /**
   * Carries the command out and gives its exit code: 0 where all is well, 1 where errors or differences
   * were found. Throws a Refusal where what it is given cannot be used.
   */
  readonly run: (
    args: ArgumentsCamelCase<Arguments>,
    terminal: Terminal,
  ) => number | Promise<number>;
}
