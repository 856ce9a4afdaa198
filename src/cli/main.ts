import { createRequire } from 'node:module';
import type { CommandModule } from 'yargs';
import yargs from 'yargs';
import { Refusal } from '../base/findings.ts';
import { checkCommand } from './check.ts';
import type { Command } from './command.ts';
import { compareCommand } from './compare.ts';
import { cutCommand } from './cut.ts';
import { deriveCommand } from './derive.ts';
import { importCommand } from './import.ts';
import { nestCommand } from './nest.ts';
import { ordersCommand } from './orders.ts';
import { failureLines } from './print.ts';
import { proveCommand } from './prove.ts';
import { readCommand } from './read.ts';
import { recutCommand } from './recut.ts';
import { serveCommand } from './serve.ts';
import type { Terminal } from './terminal.ts';

/**
 * Carries out a command line, given without the program's name. Gives the exit code: what the command says,
 * 2 where its input or its arguments cannot be used, 130 where Ctrl-C stopped it. Never throws.
 */
export async function main(args: readonly string[], terminal: Terminal): Promise<number> {
  let code = 0;
  const known = ({ run, ...command }: AnyCommand): CommandModule => ({
    ...command,
    handler: async (given) => {
      code = await run(given, terminal);
    },
  });
  const parser = yargs([...args])
    .scriptName('pileway')
    .usage(
      '$0 <command>\n\nTurns pattern outlines of vehicle carpet into files that a knife cutter runs.',
    )
    .command(commands.map(known))
    .demandCommand(1, 'Name a command.')
    .option('debug', {
      type: 'boolean',
      default: false,
      describe: 'show where in the program a failure arose',
    })
    .strictCommands()
    .strict()
    .wrap(100)
    // All that the program says is English, whatever language the machine speaks.
    .locale('en')
    .exitProcess(false)
    .version(version)
    .check((given) => {
      const empty = Object.entries(given).find(([, value]) => value === '');
      if (empty !== undefined) throw new ArgumentError(`Nothing stands behind --${empty[0]}`);
      return true;
    })
    .fail((message, error) => {
      // A command's own failure is worded below; here are the arguments that yargs itself refuses.
      const isArgument = error instanceof ArgumentError || error?.name === 'YError';
      if (error && !isArgument) throw error;
      throw new ArgumentError(
        sentence(message.replace(missing, `Something is missing: ${usageFor(args)}`)),
      );
    });
  try {
    // Given a function, yargs hands over the help or the version that was asked for and prints nothing itself.
    await parser.parseAsync([...args], {}, (_error, _parsed, output) => {
      if (output !== '') terminal.say(output);
    });
    return code;
  } catch (error) {
    if (error instanceof ArgumentError) terminal.warn(`${error.message} See ${helpFor(args)}.`);
    else for (const line of failureLines(error, args.includes('--debug'))) terminal.warn(line);
    return wasStopped(error) ? 130 : 2;
  }
}

function wasStopped(error: unknown): boolean {
  return error instanceof Refusal && error.findings.some(({ rule }) => rule === 'stopped');
}

/** The command that shows how the given one is used, or all of them if none is given. */
function helpFor(args: readonly string[]): string {
  const name = args.find((word) => usages.has(word));
  return name === undefined ? 'pileway --help' : `pileway ${name} --help`;
}

/** What stands behind a command, as `pileway cut <run>`. */
function usageFor(args: readonly string[]): string {
  const name = args.find((word) => usages.has(word));
  return `pileway ${name === undefined ? '<command>' : usages.get(name)!}`;
}

/** A command whose arguments nobody but itself knows by their types. */
type AnyCommand = Command<Record<string, unknown>>;

/** All commands, in the order of the help. */
const commands = [
  cutCommand,
  recutCommand,
  compareCommand,
  proveCommand,
  checkCommand,
  deriveCommand,
  nestCommand,
  readCommand,
  importCommand,
  ordersCommand,
  serveCommand,
] as unknown as readonly AnyCommand[];

/** Each command with what it works on, by its name. */
const usages: ReadonlyMap<string, string> = new Map(
  commands.map(({ command }) => [String(command).split(' ')[0]!, String(command)]),
);

/** How yargs says that a command was given without the files or names that it works on. */
const missing = /^Not enough non-option arguments.*$/m;

/** Said by the package itself: looked for by yargs it is found only where the package is not installed. */
const { version } = createRequire(import.meta.url)('../../package.json') as { version: string };

/** Arguments that no command takes. */
class ArgumentError extends Error {}

/** The message as one line that ends with a full stop. */
function sentence(message: string): string {
  return message
    .trim()
    .replaceAll(/\s*\n\s*/g, ' ')
    .replace(/\.?$/, '.');
}
