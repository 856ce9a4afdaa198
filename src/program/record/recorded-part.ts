import type { Path } from '../../geometry/paths/path.ts';
import type { Part } from '../../handing/part.ts';
import { contourPath } from './expected.ts';
import type { PartRecord, VertexRecord } from './run-record.ts';

/** A part as run.json has it, to be cut once more: the same numbers, and so the same geometry. */
export function recordedPart(record: PartRecord): Part {
  const cut = contourPath(record.cutContour);
  return {
    label: record.label,
    name: record.name,
    piece: record.piece,
    kind: record.kind,
    side: record.side,
    hand: record.hand,
    order: record.order,
    set: record.set,
    material: record.material,
    net: record.netContour === null ? cut : contourPath(record.netContour),
    cut,
    inner: record.inner.map(({ role, contour }) => ({ role, path: contourPath(contour) })),
    notches: record.notches.map(([[x0, y0], [x1, y1]]) => ({
      from: { x: x0, y: y0 },
      to: { x: x1, y: y1 },
    })),
    marks: record.marks.map(({ role, closed, path }) => ({
      role,
      path: pathOfRecord(path, closed),
    })),
    edges: record.stretches.map(({ kind, name, onShow, path }) => ({
      kind,
      name,
      onShow,
      path: pathOfRecord(path, false),
    })),
    pileDeg: record.pileDeg,
    ...(record.turns === null ? {} : { turns: record.turns }),
    ...(record.tilt === 0 ? {} : { tilt: record.tilt }),
  };
}

function pathOfRecord(vertices: readonly VertexRecord[], closed: boolean): Path {
  return { closed, vertices: vertices.map(([x, y, bulge]) => ({ x, y, bulge })) };
}
