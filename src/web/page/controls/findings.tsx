import type { JSX } from 'preact';
import type { Finding } from '../../../base/findings.ts';

const signs: Readonly<Record<Finding['severity'], string>> = {
  error: 'Stops',
  warning: 'Look',
  note: 'Note',
};

/**
 * A list of findings, the worst first. A word says how bad each one is, and its frame says so once
 * more.
 */
export function Findings({
  findings,
  label = 'Findings',
}: {
  findings: readonly Finding[];
  label?: string;
}): JSX.Element | null {
  if (findings.length === 0) return null;
  const rank = { error: 0, warning: 1, note: 2 };
  const sorted = findings.toSorted((a, b) => rank[a.severity] - rank[b.severity]);
  return (
    <ul class="findings" aria-label={label} role="list">
      {sorted.map((one) => (
        <li class={`finding ${one.severity}`}>
          <strong>{signs[one.severity]}</strong>
          <span>
            {placeOf(one)}
            {sentence(one.message)} {one.todo}
          </span>
        </li>
      ))}
    </ul>
  );
}

function placeOf({ where }: Finding): string {
  const { file, line, piece, part, hand } = where;
  const words = [
    file === undefined ? '' : line === undefined ? file : `${file}, line ${line}`,
    piece === undefined ? '' : `piece ${piece}`,
    part === undefined ? '' : `part ${part}`,
    hand === undefined ? '' : `in ${hand}`,
  ].filter((word) => word !== '');
  return words.length === 0 ? '' : `${words.join(', ')}: `;
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
