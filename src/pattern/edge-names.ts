import type { Entity, TextEntity } from '../drawing/drawing.ts';
import type { Finding, Place } from '../base/findings.ts';
import { nearestOnPath } from '../geometry/measuring/nearest.ts';
import { tracedKinds } from './edges.ts';
import type { LayerMap, LayerMeaning } from './layers.ts';
import { layerName, meaningOf } from './layers.ts';
import type { Feature } from './feature.ts';

/**
 * A text names a line if its insertion point is within so many mm of it, or within twice the height of
 * its letters if that is more.
 */
const reach = 60;

/** A text must be so many mm nearer to the line that it names than to any other of that layer. */
const clearer = 2;

/**
 * Gives features their names: a text on the layer of an edge's line names the nearest line of that layer,
 * inside the outline or outside. Findings: a text without a line beside it or as near to two lines, a text
 * without letters or digits, and a line with two names.
 */
export function edgeNames(
  features: readonly Feature[],
  entities: readonly Entity[],
  map: LayerMap,
  where: Place,
): { features: Feature[]; findings: Finding[] } {
  const names = new Map<Feature, string>();
  const findings: Finding[] = [];
  for (const text of entities) {
    if (text.kind !== 'text') continue;
    const meaning = meaningOf(text.layer, map);
    if (meaning === null || tracedKinds[meaning.role] === undefined) continue;
    const name = wordsJoined(text.text);
    const { line, isClear } = nearestLine(text, meaning, features);
    const problem =
      name === ''
        ? 'has no letter or digit to name an edge by'
        : line === null
          ? 'stands beside no line of its layer'
          : !isClear
            ? 'stands as near to another line of its layer as to the one it could name'
            : names.has(line)
              ? `stands beside an edge that is named "${names.get(line)!}" already`
              : null;
    if (problem !== null) findings.push(nameFinding(text, problem, where));
    else names.set(line!, name);
  }
  const named = features.map((feature) => ({ ...feature, name: names.get(feature) ?? null }));
  return { features: named, findings };
}

function wordsJoined(text: string): string {
  const words = text.toLowerCase().match(/[a-z0-9]+/g);
  return words === null ? '' : words.join('-');
}

function nearestLine(
  { at, height }: TextEntity,
  meaning: LayerMeaning,
  features: readonly Feature[],
): { line: Feature | null; isClear: boolean } {
  const most = Math.max(reach, 2 * height);
  const [first, second] = features
    .filter((feature) => layerName(feature) === layerName(meaning))
    .map((feature) => ({ feature, off: nearestOnPath(feature.path, at).distance }))
    .filter(({ off }) => off < most)
    .sort((a, b) => a.off - b.off);
  if (first === undefined) return { line: null, isClear: true };
  return {
    line: first.feature,
    isClear: second === undefined || second.off - first.off >= clearer,
  };
}

function nameFinding(
  { text, layer, line, at }: TextEntity,
  problem: string,
  where: Place,
): Finding {
  return {
    severity: 'warning',
    rule: 'edge-name',
    message: `the text "${text}" on layer ${layer} ${problem}.`,
    todo: 'Put its insertion point beside the line it names, or move it to layer NOTE.',
    where: { ...where, line, at },
  };
}
