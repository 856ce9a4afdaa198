import { main } from '../../src/cli/main.ts';
import type { Terminal } from '../../src/cli/terminal.ts';
import type { Outcome } from './pileway.ts';
import { withSlashes } from './pileway.ts';

/**
 * Carries a command line out in this process, standing in `folder`. One after the other only, since a
 * process stands in one folder at a time. With `interrupt`, Ctrl-C comes as soon as a lay is found.
 */
export async function commandIn(
  folder: string,
  args: readonly string[],
  { interrupt = false } = {},
): Promise<Outcome> {
  const said: Record<'stdout' | 'stderr', string> = { stdout: '', stderr: '' };
  const heeding: (() => void)[] = [];
  const terminal: Terminal = {
    say: (text) => void (said.stdout += `${text}\n`),
    warn: (text) => void (said.stderr += `${text}\n`),
    progress: interrupt ? () => heeding.forEach((heed) => heed()) : null,
    onSignal: (_, heed) => heeding.push(heed),
    endAtOnce: () => {
      throw new Error('the process would have ended here');
    },
  };
  const before = process.cwd();
  process.chdir(folder);
  try {
    const code = await main(args, terminal);
    return { code, stdout: said.stdout, stderr: withSlashes(said.stderr) };
  } finally {
    process.chdir(before);
  }
}
