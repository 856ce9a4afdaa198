import type { Entity, PathEntity } from '../../drawing/drawing.ts';
import { pathOfEntity, startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding } from '../../base/findings.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { boxContains, growBox, heightOf, widthOf } from '../../geometry/paths/box.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { dot, lengthOf, minus } from '../../geometry/paths/point.ts';
import { distanceToPath } from '../../geometry/measuring/nearest.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import { thingWords } from '../unknown-layers.ts';

/** A closed line and the box round it. */
interface Closed {
  readonly entity: PathEntity;
  readonly path: Path;
  readonly box: Box;
  readonly area: number;
}

/** What is drawn on an outline may lie so far outside it, mm. */
const onEdge = 1;

/** A rectangle whose shorter side is longer than this, mm, is no piece: no roll is so wide. */
const widestPiece = 2000;

/** What is smaller than this share of a frame may be a hole with its centre marked, and is no piece. */
const leastOfFrame = 0.01;

/**
 * The frames of sheets: closed rectangles on layers that say nothing, round several pieces. Two on OUTLINE
 * are enough. Other closed lines are pieces if lines are drawn in them or along their edge; a rectangle
 * that might be a piece with cutouts must have three of these, and with texts in them.
 */
export function framesAmong(entities: readonly Entity[], map: LayerMap): PathEntity[] {
  const closed = entities.flatMap((entity) => closedOf(entity, map));
  const frames: Closed[] = [];
  const rectangles = closed.filter(
    ({ entity, path }) => meaningOf(entity.layer, map) === null && isRectangle(path),
  );
  // From the smallest: of a frame in a frame each must hold pieces.
  for (const one of rectangles.toSorted((a, b) => a.area - b.area)) {
    const within = closed.filter(
      (held) => held !== one && !frames.includes(held) && isWithin(held.entity, one),
    );
    if (within.length < 2) continue;
    const outermost = within.filter(
      (held, i) => !within.some((other, k) => holds(other, held, k < i)),
    );
    const named = outermost.filter(({ entity }) => meaningOf(entity.layer, map) !== null);
    const isWide = Math.min(widthOf(one.box), heightOf(one.box)) > widestPiece;
    const pieces = outermost.filter(
      (held) =>
        held.area >= leastOfFrame * one.area &&
        carries(held, entities, isDrawn) &&
        (isWide || carries(held, entities, (entity) => !isDrawn(entity))),
    );
    if (named.length >= 2 || pieces.length >= (isWide ? 2 : 3)) frames.push(one);
  }
  return frames.map(({ entity }) => entity);
}

/** A warning for each frame: it is left out. */
export function frameFindings(frames: readonly PathEntity[], file: string): Finding[] {
  return frames.map((entity) => ({
    severity: 'warning',
    rule: 'frame',
    message: `${thingWords(entity)} on layer ${entity.layer} has several pieces within it: it is taken for the frame of the sheet, and left out.`,
    todo: 'If it is a piece, put it on layer OUTLINE.',
    where: { file, line: entity.line, at: startOfEntity(entity) },
  }));
}

function closedOf(entity: Entity, map: LayerMap): Closed[] {
  if (entity.kind !== 'path' || !entity.path.closed) return [];
  const role = meaningOf(entity.layer, map)?.role;
  if (role !== undefined && role !== 'OUTLINE') return [];
  const { path } = entity;
  return [{ entity, path, box: boxOfPath(path), area: areaOf(path) }];
}

function isRectangle({ vertices }: Path): boolean {
  if (vertices.length !== 4 || vertices.some(({ bulge }) => bulge !== 0)) return false;
  const sides = vertices.map((vertex, i) => minus(vertices[(i + 1) % 4]!, vertex));
  return sides.every((side, i) => {
    const next = sides[(i + 1) % 4]!;
    return Math.abs(dot(side, next)) <= 1e-3 * lengthOf(side) * lengthOf(next);
  });
}

/** Whether a thing lies in a closed line, or on it. */
function isWithin(entity: Entity, { path, box }: Closed): boolean {
  const own = pathOfEntity(entity);
  return (
    boxContains(growBox(box, onEdge), boxOfPath(own)) &&
    own.vertices.every(
      (vertex) => placeInPath(path, vertex) !== 'outside' || distanceToPath(path, vertex) <= onEdge,
    )
  );
}

/** Whether a closed line lies within another; `isLater`: of two that are the same, it is the second. */
function holds(outer: Closed, held: Closed, isLater: boolean): boolean {
  const isLarger = outer.area > held.area || (outer.area === held.area && isLater);
  return outer !== held && isLarger && isWithin(held.entity, outer);
}

function isDrawn({ kind }: Entity): boolean {
  return kind !== 'text';
}

/** Whether something of a kind lies in a closed line or along it. */
function carries(
  closed: Closed,
  entities: readonly Entity[],
  isKind: (entity: Entity) => boolean,
): boolean {
  return entities.some(
    (entity) => entity !== closed.entity && isKind(entity) && isWithin(entity, closed),
  );
}
