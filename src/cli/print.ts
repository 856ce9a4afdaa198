import { isAbsolute, relative } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { alikeFindings, Refusal, wordAlike, worstFirst } from '../base/findings.ts';
import type { FindingGroup } from '../papers/pictures/check/finding-list.ts';
import { listedWords } from '../papers/pictures/check/finding-list.ts';

const marks = { error: 'ERROR', warning: 'warning', note: 'note' } as const;

/** One line for each finding, the worst first. What is so in several places is one line with all of them. */
export function findingLines(findings: readonly Finding[]): string[] {
  return alikeFindings(worstFirst(findings).map(shortened)).map((alike) => {
    const [{ severity, rule }] = alike;
    return `${marks[severity]}  ${wordAlike(alike)}  [${rule}]`;
  });
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
  const short = relative('.', file);
  if (short === '' || short.startsWith('..')) return finding;
  return { ...finding, where: { ...finding.where, file: short } };
}

/** Says what went wrong. A stack trace stands below it only where asked for. */
export function failureLines(error: unknown, debug: boolean): string[] {
  if (error instanceof Refusal) return findingLines(error.findings);
  const message = error instanceof Error ? error.message : String(error);
  const stack = debug && error instanceof Error ? [error.stack ?? ''] : [];
  return [
    `pileway failed: ${message}. This is a fault of the program; run again with --debug and report what it shows.`,
    ...stack,
  ];
}
