import type { Entity, TextEntity } from '../drawing/drawing.ts';
import { nearestOnPath } from '../geometry/measuring/nearest.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { distance } from '../geometry/paths/point.ts';
import { clearer, reach, wordsJoined } from './edge-names.ts';
import type { Feature } from './feature.ts';
import type { LayerMap } from './layers.ts';
import { layerName, meaningOf } from './layers.ts';

/** Features of which marks have their names, and the texts that gave them. */
interface NamedMarks {
  readonly features: readonly Feature[];
  readonly texts: ReadonlySet<Entity>;
}

/** Whether something is only shown and may be spoken of by its name: a drill mark, or a line on MARK. */
export function isMark({ role, path }: Feature): boolean {
  return role === 'MARK' || (role === 'HOLE' && path.vertices.length === 1);
}

/**
 * Gives marks the names by which the set file speaks of them (`said`). A text with such a name, on the layer of
 * its mark, on NOTE, or on a layer that says nothing, names the nearest mark beside it. Several marks may have one
 * name, each from a text of its own. A text that stands as near to another mark names none.
 */
export function markNames(
  features: readonly Feature[],
  entities: readonly Entity[],
  map: LayerMap,
  said: readonly string[],
): NamedMarks {
  const names = new Map<Feature, string>();
  const texts = new Set<Entity>();
  for (const text of entities) {
    if (text.kind !== 'text') continue;
    const name = wordsJoined(text.text);
    const mark = said.includes(name) ? markBeside(text, features, map) : null;
    if (mark === null || names.has(mark)) continue;
    names.set(mark, name);
    texts.add(text);
  }
  const named = features.map((one) => (names.has(one) ? { ...one, name: names.get(one)! } : one));
  return { features: named, texts };
}

function markBeside(text: TextEntity, features: readonly Feature[], map: LayerMap): Feature | null {
  const meaning = meaningOf(text.layer, map);
  const isAnywhere = meaning === null || meaning.role === 'NOTE';
  const most = Math.max(reach, 2 * text.height);
  const [first, second] = features
    .filter((one) => isMark(one) && (isAnywhere || layerName(one) === layerName(meaning)))
    .map((mark) => ({ mark, off: offFrom(mark.path, text.at) }))
    .filter(({ off }) => off < most)
    .sort((a, b) => a.off - b.off);
  if (first === undefined) return null;
  return second === undefined || second.off - first.off >= clearer ? first.mark : null;
}

function offFrom(path: Path, at: Point): number {
  const [only, ...more] = path.vertices;
  return only !== undefined && more.length === 0
    ? distance(only, at)
    : nearestOnPath(path, at).distance;
}
