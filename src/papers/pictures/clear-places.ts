import type { Box } from '../../geometry/paths/box.ts';
import { boxContains, boxesOverlap, growBox } from '../../geometry/paths/box.ts';
import { flatten } from '../../geometry/paths/flatten.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';

/** What a mark in a picture must not hide. All in mm on paper. */
export interface Surroundings {
  /** Lines of the picture, as straight pieces. */
  readonly lines: readonly (readonly Point[])[];
  /** Boxes that are taken by other marks. */
  readonly taken: readonly Box[];
  /** Nothing may stand outside it. */
  readonly page: Box;
}

/** How exactly curves count, mm on paper. */
const chord = 0.05;
/** The least distance from a mark to what is drawn, mm on paper. */
const clearance = 0.45;

/** The lines of a picture as straight pieces; a path of one point counts as a small cross. */
export function linesToSpare(paths: readonly Path[]): (readonly Point[])[] {
  return paths.flatMap((path): (readonly Point[])[] => {
    if (path.vertices.length === 1) {
      const { x, y } = path.vertices[0]!;
      return [
        [
          { x: x - 0.8, y },
          { x: x + 0.8, y },
        ],
        [
          { x, y: y - 0.8 },
          { x, y: y + 0.8 },
        ],
      ];
    }
    const points = flatten(path, chord);
    return [path.closed ? [...points, points[0]!] : points];
  });
}

/** The first of several boxes that hides nothing; undefined: all do. */
export function firstClear<T extends { readonly box: Box }>(
  candidates: Iterable<T>,
  surroundings: Surroundings,
): T | undefined {
  for (const one of candidates) if (isClear(one.box, surroundings)) return one;
  return undefined;
}

/** Whether a box lies on the page and neither over a line nor over another mark. */
function isClear(box: Box, { lines, taken, page }: Surroundings): boolean {
  const wide = growBox(box, clearance);
  return (
    boxContains(page, box) &&
    !taken.some((other) => boxesOverlap(other, box)) &&
    !lines.some((line) => meetsBox(line, wide))
  );
}

function meetsBox(line: readonly Point[], box: Box): boolean {
  for (let i = 1; i < line.length; i++) if (pieceMeetsBox(line[i - 1]!, line[i]!, box)) return true;
  return false;
}

/** Whether a straight piece has a point in a box: what is left of it after each side has cut it (Liang and Barsky, 1984). */
function pieceMeetsBox(a: Point, b: Point, box: Box): boolean {
  let [from, to] = [0, 1];
  const sides = [
    [a.x - b.x, a.x - box.minX],
    [b.x - a.x, box.maxX - a.x],
    [a.y - b.y, a.y - box.minY],
    [b.y - a.y, box.maxY - a.y],
  ] as const;
  for (const [run, room] of sides) {
    if (run === 0) {
      if (room < 0) return false;
      continue;
    }
    const at = room / run;
    if (run < 0) from = Math.max(from, at);
    else to = Math.min(to, at);
  }
  return from <= to;
}
