import { normalDeg } from '../geometry/paths/angle.ts';
import { reversePath } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { identity, transformPath, transformPoint } from '../geometry/paths/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Lay, Placement } from './lay.ts';

/**
 * The mirror of a roll that is turned over about the line along its middle: y' = width - y. The pile
 * leans along the roll as before.
 */
export function turnedOver(width: number): Transform {
  return { ...identity, d: -1, f: width };
}

/**
 * A lay as it lies on the bed with its face down. Every part becomes its own mirror image (y' = -y in its
 * frame), and is as far from one edge of the roll as it was from the other. Names, sides and hands stay:
 * they are those of the part when it is turned up again. Only for the very end, for what the machine
 * cuts.
 */
export function faceDown(lay: Lay, parts: readonly Part[]): { lay: Lay; parts: readonly Part[] } {
  const over = turnedOver(lay.roll.width);
  const { defects, outline } = lay.roll;
  const image = (polygon: readonly Point[]): Point[] => polygon.map((p) => transformPoint(over, p));
  return {
    lay: {
      ...lay,
      roll: {
        ...lay.roll,
        ...(defects === undefined ? {} : { defects: defects.map(image) }),
        ...(outline === undefined ? {} : { outline: image(outline) }),
      },
      placements: lay.placements.map((placement) => placedOver(placement, lay.roll.width)),
    },
    parts: parts.map(partOver),
  };
}

function placedOver({ label, x, y, rotation }: Placement, width: number): Placement {
  return { label, x, y: width - y, rotation: normalDeg(-rotation) };
}

function partOver(part: Part): Part {
  const over = turnedOver(0);
  return {
    ...part,
    net: transformPath(over, part.net),
    cut: transformPath(over, part.cut),
    inner: part.inner.map((one) => ({ ...one, path: transformPath(over, one.path) })),
    notches: part.notches.map(({ from, to }) => ({
      from: transformPoint(over, from),
      to: transformPoint(over, to),
    })),
    marks: part.marks.map((mark) => ({ ...mark, path: transformPath(over, mark.path) })),
    // The mirrored outline is run the other way, so the edges along it must be too.
    edges: part.edges
      .map((edge) => ({ ...edge, path: reversePath(transformPath(over, edge.path)) }))
      .reverse(),
    pileDeg: part.pileDeg === null ? null : normalDeg(-part.pileDeg),
  };
}
