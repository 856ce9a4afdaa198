import { basename } from 'node:path';
import type { Finding, Place } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';

/** A fault that the proof has found. The files must then not reach the machine. */
export function fault(rule: string, message: string, where: Place): Finding {
  return {
    severity: 'error',
    rule,
    message,
    todo: 'Do not cut from this folder: write it anew, and report the fault if it comes again.',
    where,
  };
}

/** So many places are named after the first one. */
const mostPlaces = 12;

/**
 * One fault for each cause, with the other places where it shows: one mistake can show on a thousand
 * lines, in many parts, and in several files. Faults of one rule that say the same, but for numbers and
 * names, have one cause.
 */
export function firstOfEach(findings: readonly Finding[]): Finding[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const key = `${finding.rule}\n${gistOf(finding)}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [finding]);
    else group.push(finding);
  }
  return [...groups.values()].map(withPlaces);
}

/** What a finding says, without what differs from one place to another. */
function gistOf({ message }: Finding): string {
  return message
    .replaceAll(/"[^"]*"/g, '"')
    .replaceAll(/\S*\d\S*/g, '0')
    .replaceAll(/(?:0[ ,]*)+/g, '0 ');
}

function withPlaces(group: readonly Finding[]): Finding {
  const first = group[0]!;
  const own = placeIn(first, first);
  const places = [...new Set(group.slice(1).map((finding) => placeIn(finding, first)))].filter(
    (place) => place !== own && place !== '',
  );
  if (places.length === 0) return first;
  const more = places.length - mostPlaces;
  const shown = linesTogether(places.slice(0, mostPlaces)).join(', ');
  return {
    ...first,
    message: `${first.message} (Also in ${shown}${more > 0 ? ` and ${more} more` : ''}.)`,
  };
}

/** The places with `line` said once before all lines that follow each other. */
function linesTogether(places: readonly string[]): string[] {
  return places.map((place, i) =>
    place.startsWith('line ') && places[i - 1]?.startsWith('line ') === true
      ? place.slice('line '.length)
      : place,
  );
}

/** Where a finding is, in words that follow those of the first. */
function placeIn({ where }: Finding, first: Finding): string {
  const { file, line, part } = where;
  const name = file === undefined || file === first.where.file ? undefined : basename(file);
  if (part !== undefined && part !== first.where.part) {
    return name === undefined ? part : `${name}: ${part}`;
  }
  if (line === undefined) return name ?? part ?? '';
  return name === undefined ? `line ${line}` : `${name}:${line}`;
}

/** The value that `read` returns, or the findings of the Refusal that it throws. */
export function attempt<T>(read: () => T): { value: T } | { findings: readonly Finding[] } {
  try {
    return { value: read() };
  } catch (error) {
    if (error instanceof Refusal) return { findings: error.findings };
    throw error;
  }
}
