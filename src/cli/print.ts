import { isAbsolute, relative } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { Refusal, wordFinding, worstFirst } from '../base/findings.ts';
import type { FindingGroup } from '../papers/pictures/check/finding-list.ts';
import { listedWords } from '../papers/pictures/check/finding-list.ts';

/**
 * Writes a result to stdout. All that is said about results goes to stderr, so that another program can
 * read stdout.
 */
export function say(text: string): void {
  process.stdout.write(`${text}\n`);
}

export function warn(text: string): void {
  process.stderr.write(`${text}\n`);
}

const marks = { error: 'ERROR', warning: 'warning', note: 'note' } as const;

/** One line for each finding, the worst first. */
export function findingLines(findings: readonly Finding[]): string[] {
  return worstFirst(findings).map(
    (one) => `${marks[one.severity]}  ${wordFinding(shortened(one))}  [${one.rule}]`,
  );
}

/** A heading for each piece, and a line for each finding with the number that it has in the picture. */
export function groupLines(groups: readonly FindingGroup[]): string[] {
  return groups.flatMap(({ piece, findings }) => [
    piece === null ? 'the set' : `piece ${piece}`,
    ...findings.map((one) => {
      const { severity, rule } = one.finding;
      const words = listedWords({ ...one, finding: shortened(one.finding) });
      return `  ${one.number}. ${marks[severity]}  ${words}  [${rule}]`;
    }),
  ]);
}

/** The finding with its file named from the current folder, if it lies in there. */
function shortened(finding: Finding): Finding {
  const { file } = finding.where;
  if (file === undefined || !isAbsolute(file)) return finding;
  const short = relative(process.cwd(), file);
  if (short === '' || short.startsWith('..')) return finding;
  return { ...finding, where: { ...finding.where, file: short } };
}

/** Prints what went wrong and returns the exit code for it. A stack trace is only printed if `debug`. */
export function printFailure(error: unknown, debug: boolean): number {
  if (error instanceof Refusal) {
    for (const line of findingLines(error.findings)) warn(line);
    return 2;
  }
  const message = error instanceof Error ? error.message : String(error);
  warn(
    `pileway failed: ${message}. This is a fault of the program; run again with --debug and report what it shows.`,
  );
  if (debug && error instanceof Error) warn(error.stack ?? '');
  return 2;
}
