import { normalDeg } from '../geometry/paths/angle.ts';
import { reversePath } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { identity, transformPath, transformPoint } from '../geometry/paths/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Lay, Placement } from './lay.ts';

/** A roll turned over about the line along its middle: y' = width - y. The pile leans along the roll as before. */
export function turnedOver(width: number): Transform {
  return { ...identity, d: -1, f: width };
}

/**
 * A lay as it lies on the bed with its face down: every part is its own mirror image (in its frame
 * y' = -y), and lies where the roll's other edge was as far away. Names, sides and hands stay: they
 * are those of the part once it is turned up again. Only for the very end, for what the machine cuts.
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
    // The outline is run the other way now, and so are the stretches of it.
    edges: part.edges
      .map((edge) => ({ ...edge, path: reversePath(transformPath(over, edge.path)) }))
      .reverse(),
    pileDeg: part.pileDeg === null ? null : normalDeg(-part.pileDeg),
  };
}
