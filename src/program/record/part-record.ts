import { areaOf } from '../../geometry/paths/area.ts';
import { pathLength } from '../../geometry/paths/path.ts';
import type { Edge, Part } from '../../handing/part.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import { pointRecord, recordedContour, recordedPath, six, verticesRecord } from './figures.ts';
import type { PartRecord } from './run-record.ts';

/** What is said of a part for the bench. */
export type SaidOfPart = Pick<PartRecord, 'next' | 'shape'>;

/** What run.json says about a part. */
export function partRecord(part: Part, { next, shape = [] }: SaidOfPart): PartRecord {
  return {
    label: part.label,
    name: part.name,
    piece: part.piece,
    kind: part.kind,
    side: part.side,
    hand: part.hand,
    order: part.order,
    set: part.set,
    material: part.material,
    ...(part.colour === undefined ? {} : { colour: part.colour }),
    pileDeg: part.pileDeg === null ? null : six(part.pileDeg),
    turns: part.turns ?? null,
    tilt: part.tilt ?? 0,
    netArea: six(areaOf(part.net)),
    cutArea: six(areaOf(part.cut)),
    cutContour: verticesRecord(part.cut),
    netContour: part.net === part.cut ? null : verticesRecord(part.net),
    inner: part.inner.map(({ role, path }) => ({ role, contour: verticesRecord(path) })),
    notches: part.notches.map(({ from, to }) => [pointRecord(from), pointRecord(to)]),
    marks: part.marks.map(({ role, path }) => ({
      role,
      closed: path.closed,
      path: verticesRecord(path),
    })),
    edges: edgeLengths(part.edges),
    stretches: part.edges.map(({ kind, name: own, onShow, path }) => ({
      kind,
      name: own,
      onShow,
      path: verticesRecord(path),
    })),
    next,
    ...(shape.length === 0 ? {} : { shape }),
  };
}

function edgeLengths(edges: readonly Edge[]): Record<EdgeKind, number> {
  const length = (kind: EdgeKind): number =>
    six(edges.filter((edge) => edge.kind === kind).reduce((sum, e) => sum + pathLength(e.path), 0));
  return {
    bound: length('bound'),
    seam: length('seam'),
    tuck: length('tuck'),
    turned: length('turned'),
    raw: length('raw'),
  };
}

/**
 * A part as run.json has it, to be cut once more. Its numbers, and so its geometry, are those of the
 * record.
 */
export function recordedPart(record: PartRecord): Part {
  const cut = recordedContour(record.cutContour);
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
    ...(record.colour === undefined ? {} : { colour: record.colour }),
    net: record.netContour === null ? cut : recordedContour(record.netContour),
    cut,
    inner: record.inner.map(({ role, contour }) => ({ role, path: recordedContour(contour) })),
    notches: record.notches.map(([[x0, y0], [x1, y1]]) => ({
      from: { x: x0, y: y0 },
      to: { x: x1, y: y1 },
    })),
    marks: record.marks.map(({ role, closed, path }) => ({
      role,
      path: recordedPath(path, closed),
    })),
    edges: record.stretches.map(({ kind, name, onShow, path }) => ({
      kind,
      name,
      onShow,
      path: recordedPath(path, false),
    })),
    pileDeg: record.pileDeg,
    ...(record.turns === null ? {} : { turns: record.turns }),
    ...(record.tilt === 0 ? {} : { tilt: record.tilt }),
  };
}
