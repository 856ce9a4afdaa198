import type { Drawing, Entity } from '../drawing/drawing.ts';
import type { Finding } from '../findings.ts';
import { areaOf } from '../geometry/area.ts';
import { boxOfPath } from '../geometry/box.ts';
import { placeInPath } from '../geometry/contains.ts';
import type { Path } from '../geometry/path.ts';
import { pathLength, segmentsOf } from '../geometry/path.ts';
import type { Role } from './layers.ts';
import { meaningOf } from './layers.ts';

/** An outline in a drawing with what lies inside it; areas in mm2, lengths in mm. */
export interface PieceReport {
  readonly name: string;
  readonly outline: {
    readonly area: number;
    readonly perimeter: number;
    readonly bbox: readonly [number, number, number, number];
    readonly segments: { readonly lines: number; readonly arcs: number };
  };
  readonly inner: readonly { readonly role: Role | 'unknown'; readonly area: number }[];
  readonly layers: readonly string[];
}

/** What the tool sees in a drawing, before any set exists. */
export interface DrawingReport {
  readonly file: string;
  readonly units: Drawing['units'];
  readonly unitsFrom: Drawing['unitsFrom'];
  readonly pieces: readonly PieceReport[];
  readonly findings: readonly Finding[];
}

type PathEntity = Extract<Entity, { kind: 'path' }>;

/**
 * The pieces of a drawing: in each block, or in model space where there are no blocks, every closed
 * contour that lies in no other is an outline, and those inside it are its inner contours.
 */
export function describeDrawing({
  file,
  units,
  unitsFrom,
  blocks,
  entities,
  findings,
}: Drawing): DrawingReport {
  const groups = blocks.length > 0 ? blocks : [{ name: 'drawing', entities }];
  return { file, units, unitsFrom, pieces: groups.flatMap(piecesOf), findings };
}

function piecesOf({
  name,
  entities,
}: {
  name: string;
  entities: readonly Entity[];
}): PieceReport[] {
  const closed = entities.filter(
    (entity): entity is PathEntity => entity.kind === 'path' && entity.path.closed,
  );
  const isPad = ({ layer }: PathEntity): boolean => meaningOf(layer, new Map())?.role === 'PAD';
  const contours = closed.filter((entity) => !isPad(entity));
  const outer = contours.filter(
    (one) => !contours.some((other) => other !== one && holds(other.path, one.path)),
  );
  const layers = [...new Set(entities.map(({ layer }) => layer))].sort();
  return outer.map((one, i) => ({
    name: outer.length > 1 ? `${name}-${i + 1}` : name,
    outline: outlineReport(one.path),
    inner: contours
      .filter((other) => other !== one && holds(one.path, other.path))
      .map(({ layer, path }) => ({
        role: meaningOf(layer, new Map())?.role ?? 'unknown',
        area: areaOf(path),
      })),
    layers,
  }));
}

function holds(outer: Path, inner: Path): boolean {
  return areaOf(outer) > areaOf(inner) && placeInPath(outer, inner.vertices[0]!) !== 'outside';
}

function outlineReport(path: Path): PieceReport['outline'] {
  const { minX, minY, maxX, maxY } = boxOfPath(path);
  const segments = segmentsOf(path);
  const arcs = segments.filter(({ bulge }) => bulge !== 0).length;
  return {
    area: areaOf(path),
    perimeter: pathLength(path),
    bbox: [minX, minY, maxX, maxY],
    segments: { lines: segments.length - arcs, arcs },
  };
}
