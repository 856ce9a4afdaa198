import { boxContains, growBox } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { boxIndex } from '../geometry/measuring/box-index.ts';
import { areaOf } from '../geometry/paths/area.ts';
import { placeInPath } from '../geometry/relations/contains.ts';
import type { Path } from '../geometry/paths/path.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import { transformPath } from '../geometry/paths/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Lay } from './lay.ts';
import { placementTransform } from './lay.ts';

interface Opening {
  readonly label: string;
  readonly path: Path;
  readonly area: number;
}

/**
 * For each part that lies inside a cutout or hole of another part: its label, and the label of that other
 * part. The part must be cut before the contour round it. If it lies inside several, the innermost
 * counts. Only for lays in which no parts overlap.
 */
export function insideOf(lay: Lay, parts: readonly Part[]): ReadonlyMap<string, string> {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const laid = lay.placements.flatMap((placement) => {
    const part = byLabel.get(placement.label);
    return part === undefined ? [] : [{ part, turn: placementTransform(placement) }];
  });
  const openings = laid
    .flatMap(({ part, turn }) =>
      part.inner.map(({ path }) => openingOf(part.label, transformPath(turn, path))),
    )
    .sort((a, b) => a.area - b.area);
  const index = boxIndex(openings.map(({ path }) => boxOfPath(path)));
  const hosts = new Map<string, string>();
  for (const { part, turn } of laid) {
    const outline = transformPath(turn, part.cut);
    const around = index(boxOfPath(outline))
      .map((i) => openings[i]!)
      .find((opening) => opening.label !== part.label && holds(opening, outline));
    if (around !== undefined) hosts.set(part.label, around.label);
  }
  return hosts;
}

function openingOf(label: string, path: Path): Opening {
  return { label, path, area: areaOf(path) };
}

/**
 * Whether an outline lies in an opening. Parts do not overlap, so an outline that is not wholly in the
 * opening has no vertex inside it.
 */
function holds({ path }: Opening, outline: Path): boolean {
  if (!boxContains(growBox(boxOfPath(path), samePoint), boxOfPath(outline))) return false;
  // Vertices on the contour are allowed: a part that fills its opening has all of them there.
  return outline.vertices.every((vertex) => placeInPath(path, vertex) !== 'outside');
}
