import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import { pastFindings } from '../server/client.ts';
import { onLinkNews } from '../server/link.ts';
import { findingWords } from './finding-words.ts';

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
  const [, look] = useState(0);
  useEffect(() => onLinkNews(() => look((before) => before + 1)), []);
  const present = findings.filter((one) => !pastFindings.has(one));
  if (present.length === 0) return null;
  const rank = { error: 0, warning: 1, note: 2 };
  const sorted = present.toSorted((a, b) => rank[a.severity] - rank[b.severity]);
  return (
    <ul class="findings" aria-label={label} role="list">
      {sorted.map((one) => (
        <li class={`finding ${one.severity}`}>
          <strong>{signs[one.severity]}</strong>
          <span>{findingWords(one)}</span>
        </li>
      ))}
    </ul>
  );
}
