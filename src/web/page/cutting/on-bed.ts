import type { Placement } from '../../../lay/lay.ts';
import type { MachineCard } from '../../api/cutting.ts';
import type { PicturedPart } from '../../api/pictured.ts';
import type { Matrix } from '../picture/view.ts';
import { matrixProduct } from '../picture/view.ts';
import { placeMatrix } from '../roll-picture/places/placing.ts';

/** A part as a picture of the bed shows it: y runs down, and the roll lies as the machine has it. */
export interface PartOnBed {
  readonly part: PicturedPart;
  /** Takes the part's own frame to the picture's: SVG. */
  readonly transform: string;
  /** minX, minY, maxX, maxY of its outline, mm. */
  readonly box: readonly [number, number, number, number];
  /** Where its name has most room. */
  readonly spot: readonly [number, number];
}

/**
 * Parts where they are laid on a roll (mm, its frame with the pile up), on the bed. A roll that lies face up is seen
 * with Y upwards; face down it is turned over about the line along its middle, so that Y is mirrored.
 */
export function partsOnBed(
  parts: readonly PicturedPart[],
  placements: readonly Placement[],
  width: number,
  face: MachineCard['face'],
): PartOnBed[] {
  const known = new Map(parts.map((part) => [part.label, part]));
  return placements.flatMap((placement) => {
    const part = known.get(placement.label);
    if (part === undefined) return [];
    const matrix = matrixOf(placement, width, face);
    const corners = Array.from({ length: part.ring.length / 2 }, (_, i) =>
      moved(matrix, part.ring[2 * i]!, part.ring[2 * i + 1]!),
    );
    const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
    return [
      {
        part,
        transform: `matrix(${matrix.join(' ')})`,
        box: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)] as const,
        spot: moved(matrix, part.at[0], part.at[1]),
      },
    ];
  });
}

/** Corners on a roll (mm, an x and a y for each), as points of a polygon in the picture. */
export function turnedPoints(
  corners: readonly number[],
  width: number,
  face: MachineCard['face'],
): string {
  const down = (y: number): number => (face === 'up' ? width - y : y);
  return corners.map((value, i) => (i % 2 === 0 ? value : down(value))).join(' ');
}

/** Turns a part, moves it to its place, and turns the roll over into the picture. */
function matrixOf(placement: Placement, width: number, face: MachineCard['face']): Matrix {
  const place = placeMatrix(placement);
  return face === 'up' ? matrixProduct([1, 0, 0, -1, 0, width], place) : place;
}

function moved([a, b, c, d, e, f]: Matrix, x: number, y: number): [number, number] {
  return [a * x + c * y + e, b * x + d * y + f];
}
