import type { Entity, TextEntity } from '../drawing/drawing.ts';
import type { Finding, Place } from '../base/findings.ts';
import { nearestOnPath } from '../geometry/measuring/nearest.ts';
import { tracedKinds } from './edges.ts';
import type { LayerMap, LayerMeaning, Role } from './layers.ts';
import { layerName, meaningOf } from './layers.ts';
import { listed } from '../base/wording.ts';
import type { Feature } from './feature.ts';

/**
 * A text names a line if its insertion point is within so many mm of it, or within twice the height of
 * its letters if that is more.
 */
export const reach = 60;

/** A text must be so many mm nearer to the line that it names than to any other of that layer. */
export const clearer = 2;

/** An edge that a set file speaks of by its name, and the role of its line. */
export interface SaidEdge {
  readonly role: Role;
  readonly edge: string;
}

/**
 * Gives features their names: a text on the layer of an edge's line names the nearest line of that layer,
 * inside the outline or outside. A text on NOTE, or on a layer that says nothing, names a line only where
 * two things agree: the set file speaks of an edge of that name (`said`), and one line of its role alone,
 * with no name yet, lies beside the one text that says it. Findings: a text without a line beside it or as near to two lines, a text
 * without letters or digits, and a line with two names.
 */
export function edgeNames(
  features: readonly Feature[],
  entities: readonly Entity[],
  map: LayerMap,
  where: Place,
  said: readonly SaidEdge[] = [],
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
  const elsewhere: NamedElsewhere[] = [];
  for (const one of said) {
    const found = namedElsewhere(one, features, names, entities, map);
    if (found === null) continue;
    names.set(found.feature, found.edge);
    elsewhere.push(found);
  }
  if (elsewhere.length > 0) findings.push(readElsewhere(elsewhere, where));
  const named = features.map((feature) => ({ ...feature, name: names.get(feature) ?? null }));
  return { features: named, findings };
}

/** The words of a text as set files write names: small letters and digits, joined by hyphens. */
export function wordsJoined(text: string): string {
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

/** A line that a text on another layer names. */
interface NamedElsewhere extends SaidEdge {
  readonly feature: Feature;
  readonly text: TextEntity;
}

function namedElsewhere(
  { role, edge }: SaidEdge,
  features: readonly Feature[],
  names: ReadonlyMap<Feature, string>,
  entities: readonly Entity[],
  map: LayerMap,
): NamedElsewhere | null {
  const own = features.filter((feature) => feature.role === role);
  if (own.some((feature) => names.get(feature) === edge)) return null;
  const [text, ...more] = entities.filter(
    (one): one is TextEntity =>
      one.kind === 'text' && isUnsaid(one.layer, map) && wordsJoined(one.text) === edge,
  );
  if (text === undefined || more.length > 0) return null;
  const [feature, ...others] = own.filter((one) => isBesideEdge(text, one));
  if (feature === undefined || others.length > 0 || names.has(feature)) return null;
  return { role, edge, feature, text };
}

/** Whether a layer says nothing about what is on it, or that it is only to be read. */
function isUnsaid(layer: string, map: LayerMap): boolean {
  const meaning = meaningOf(layer, map);
  return meaning === null || meaning.role === 'NOTE';
}

/** Whether a text stands near enough to a line to name it. */
export function isBesideEdge({ at, height }: TextEntity, { path }: Feature): boolean {
  return nearestOnPath(path, at).distance < Math.max(reach, 2 * height);
}

function readElsewhere(all: readonly NamedElsewhere[], where: Place): Finding {
  const { text } = all[0]!;
  const words = all.map((one) => `"${one.text.text.trim()}" (${one.text.layer}) on ${one.role}`);
  const isOne = all.length === 1;
  return {
    severity: 'note',
    rule: 'edge-name-elsewhere',
    message: `${isOne ? 'a text on another layer is' : `${all.length} texts on other layers are`} read as the name of the one line beside ${isOne ? 'it' : 'each'}, because the set file speaks of such ${isOne ? 'an edge' : 'edges'}: ${listed(words)}.`,
    todo: 'Nothing to do: a text on the layer of its line always names it.',
    where: { ...where, line: text.line, at: text.at },
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
