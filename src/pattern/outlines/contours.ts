import type { Entity, PathEntity } from '../../drawing/drawing.ts';
import { pathOfEntity, startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding, Place } from '../../base/findings.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { boxIndex } from '../../geometry/measuring/box-index.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { boxContains, boxOfPoints, growBox } from '../../geometry/paths/box.ts';
import { boxOfPath, segmentsOf } from '../../geometry/paths/path.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import { repeats } from '../../geometry/joining/duplicates.ts';
import { distanceToPath } from '../../geometry/measuring/nearest.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { pointAt } from '../../geometry/paths/segment.ts';
import type { LayerMap, Role } from '../layers.ts';
import { meaningOf } from '../layers.ts';

/** A closed line that is cut, or that may be cut because its layer has no meaning. */
export interface ClosedLine {
  readonly entity: PathEntity;
  readonly path: Path;
  /** Area in mm2. */
  readonly area: number;
  readonly role: Role | 'unknown';
  readonly box: Box;
}

/** An outline, the contours inside it, and everything else that belongs to it. */
export interface Outline {
  readonly contour: ClosedLine;
  readonly inner: readonly ClosedLine[];
  readonly others: readonly Entity[];
}

/**
 * Finds the outlines among the entities of a group, and what belongs to each. The layer decides what is
 * an outline. A contour on a layer without a meaning is an outline if an even number of other contours
 * contains it. Findings: a contour drawn twice, an outline within an outline, a cutout within none, and
 * other entities that belong to no outline.
 */
export function outlinesOf(
  entities: readonly Entity[],
  map: LayerMap,
  where: Place,
): { outlines: Outline[]; findings: Finding[] } {
  const { contours, again } = distinctContours(
    entities.flatMap((entity) => contourOf(entity, map)),
  );
  const holdersOf = holders(contours);
  const held = contours.map((contour) => holdersOf(contour));
  const isOutline = contours.map(({ role }, i) =>
    role === 'unknown' ? held[i]!.length % 2 === 0 : role === 'OUTLINE',
  );
  const outlines = contours.flatMap((contour, i) =>
    isOutline[i] ? [{ contour, inner: [] as ClosedLine[], others: [] as Entity[] }] : [],
  );
  const byContour = new Map(outlines.map((outline) => [outline.contour, outline]));
  const findings = again.map((contour) => drawnTwice(contour, where));
  for (const [i, contour] of contours.entries()) {
    const within = held[i]!.map((one) => byContour.get(one)).find((one) => one !== undefined);
    if (isOutline[i]) {
      if (within !== undefined) findings.push(nestedOutline(contour, where));
    } else if (within === undefined) findings.push(strayCutout(contour, where));
    else within.inner.push(contour);
  }
  const known = new Set<Entity>([...contours, ...again].map(({ entity }) => entity));
  const rest = entities.filter((entity) => !known.has(entity));
  const ownerOf = owners(outlines.map(({ contour }) => contour));
  const stray = rest.filter((entity) => {
    const owner = ownerOf(placeOf(entity));
    if (owner !== undefined) byContour.get(owner)!.others.push(entity);
    return owner === undefined;
  });
  // Without any outline everything would be stray; another finding reports that.
  const told = outlines.length === 0 ? [] : strayFindings(stray, map, where);
  return { outlines, findings: [...findings, ...told] };
}

/** What lies within this distance of an outline (mm) all along is drawn on it: notches, and traces. */
const onOutline = 1;

/**
 * Returns a function that tells to which outline a thing belongs: the only one there is, otherwise the
 * smallest that contains it, otherwise one on which it is drawn.
 */
function owners(outlines: readonly ClosedLine[]): (thing: PlacedContour) => ClosedLine | undefined {
  const holding = holders(outlines);
  const near = boxIndex(outlines.map(({ box }) => box));
  return (thing) => {
    if (outlines.length === 1) return outlines[0];
    const [holder] = holding(thing);
    if (holder !== undefined) return holder;
    return near(growBox(thing.box, onOutline))
      .map((i) => outlines[i]!)
      .find(({ path }) =>
        thing.path.vertices.every((vertex) => distanceToPath(path, vertex) <= onOutline),
      );
  };
}

/**
 * Findings on entities that belong to no piece, one for each layer. Texts and notes may stand anywhere.
 */
function strayFindings(stray: readonly Entity[], map: LayerMap, where: Place): Finding[] {
  const counted = stray.filter(
    ({ kind, layer }) => kind !== 'text' && meaningOf(layer, map)?.role !== 'NOTE',
  );
  const layers = [...new Set(counted.map(({ layer }) => layer))];
  return layers.map((layer) => {
    const own = counted.filter((entity) => entity.layer === layer);
    const words =
      own.length === 1 ? 'lies in no outline and belongs' : 'lie in no outline and belong';
    return {
      severity: 'warning',
      rule: 'in-no-outline',
      message: `${own.length} on layer ${layer} ${words} to no piece.`,
      todo: 'Draw it on its piece, or on NOTE if it is only to be read.',
      where: { ...where, line: own[0]!.line },
    };
  });
}

const contourRoles: ReadonlySet<string> = new Set(['OUTLINE', 'CUTOUT', 'HOLE']);

function contourOf(entity: Entity, map: LayerMap): ClosedLine[] {
  if (entity.kind !== 'path' || !entity.path.closed) return [];
  const role = meaningOf(entity.layer, map)?.role ?? 'unknown';
  if (role !== 'unknown' && !contourRoles.has(role)) return [];
  const { path } = entity;
  return [{ entity, path, area: areaOf(path), role, box: boxOfPath(path) }];
}

/**
 * A line may be drawn twice, on two layers. Only one of the two is a contour: the one whose layer has a
 * meaning.
 */
function distinctContours(drawn: readonly ClosedLine[]): {
  contours: ClosedLine[];
  again: ClosedLine[];
} {
  if (new Set(drawn.map(({ entity }) => entity.layer)).size < 2) {
    return { contours: [...drawn], again: [] };
  }
  const ranked = drawn.toSorted(
    (a, b) => Number(a.role === 'unknown') - Number(b.role === 'unknown'),
  );
  const again = new Set(repeats(ranked.map(({ path }) => path)).map((i) => ranked[i]!));
  return { contours: drawn.filter((contour) => !again.has(contour)), again: [...again] };
}

function drawnTwice({ entity }: ClosedLine, where: Place): Finding {
  return {
    severity: 'warning',
    rule: 'repeated',
    message: `a contour on layer ${entity.layer} is the same as one on another layer; it is taken once, from there.`,
    todo: 'Delete one of the two in the drawing.',
    where: { ...where, line: entity.line, at: startOfEntity(entity) },
  };
}

/** Something that may lie within a contour. */
type PlacedContour = Pick<ClosedLine, 'path' | 'area' | 'box'>;

function placeOf(entity: Entity): PlacedContour {
  const path = pathOfEntity(entity);
  const box = entity.kind === 'path' ? boxOfPath(path) : boxOfPoints([entity.at]);
  return { path, area: 0, box };
}

/** Returns a function that finds the contours which contain a thing, the smallest first. */
function holders(contours: readonly ClosedLine[]): (held: PlacedContour) => ClosedLine[] {
  const near = boxIndex(contours.map(({ box }) => box));
  return (held) =>
    near(held.box)
      .map((i) => contours[i]!)
      .filter((contour) => contour.area > held.area && holds(contour, held))
      .sort((a, b) => a.area - b.area);
}

function holds(outer: ClosedLine, held: PlacedContour): boolean {
  // A line may end on the outline itself: rounding may then put its box a trifle outside.
  if (held.area > 0 && !boxContains(outer.box, held.box)) return false;
  const looks = function* (): Generator<Point> {
    yield* held.path.vertices;
    for (const segment of segmentsOf(held.path)) yield pointAt(segment, 0.5);
  };
  // The first place that is not on the edge decides. If all are on the edge, the thing counts as inside.
  for (const point of looks()) {
    const place = placeInPath(outer.path, point);
    if (place !== 'on') return place === 'inside';
  }
  return true;
}

function nestedOutline({ entity }: ClosedLine, where: Place): Finding {
  return {
    severity: 'warning',
    rule: 'outline-in-outline',
    message: `an outline on layer ${entity.layer} lies inside another outline; it is taken as a piece of its own.`,
    todo: 'Put it on CUTOUT if it is to be cut out of the other.',
    where: { ...where, line: entity.line, at: startOfEntity(entity) },
  };
}

function strayCutout({ entity }: ClosedLine, where: Place): Finding {
  return {
    severity: 'warning',
    rule: 'cutout-alone',
    message: `a contour on layer ${entity.layer} lies in no outline.`,
    todo: 'Draw the outline around it, or put it on OUTLINE if it is one.',
    where: { ...where, line: entity.line, at: startOfEntity(entity) },
  };
}
