import type { Entity, PathEntity } from '../../drawing/drawing.ts';
import { pathOfEntity, startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding, Place } from '../../base/findings.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { boxIndex } from '../../geometry/measuring/box-index.ts';
import { boxContains, boxesOverlap, boxOfPoints, growBox } from '../../geometry/paths/box.ts';
import { boxOfPath, segmentsOf } from '../../geometry/paths/path.ts';
import { crossingsWith } from '../../geometry/relations/crossings.ts';
import { placeInArea } from '../../geometry/relations/measured-area.ts';
import { repeats } from '../../geometry/joining/duplicates.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath, nearestPlace } from '../../geometry/measuring/measured-path.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { pointAt } from '../../geometry/paths/segment.ts';
import type { Conditions } from '../conditions.ts';
import { areContrary, bothConditions, conditionSuffix } from '../conditions.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import type { ClosedLine } from './closed-line.ts';
import type { OutlineVotes } from './twins.ts';
import { twinsAmong, votingLayers } from './twins.ts';

/** An outline, the contours inside it, and everything else that belongs to it. */
export interface Outline {
  readonly contour: ClosedLine;
  readonly inner: readonly ClosedLine[];
  /** Those of `inner` that run beside the outline all round: one of them may be meant for it. */
  readonly twins: readonly ClosedLine[];
  readonly others: readonly Entity[];
  /** Those of `others` that are its outline instead, with other options. */
  readonly alternatives: readonly PathEntity[];
  /** The outline that this one lies in, perhaps in a cutout of it. null: it lies in none. */
  readonly within: ClosedLine | null;
  /** The centreline along which it was closed, because only one half is drawn; null: it was not. */
  readonly half: PathEntity | null;
}

/** What was found among entities that belong together. */
interface FoundOutlines {
  readonly outlines: readonly Outline[];
  /** Contours and other things that belong to no outline. */
  readonly alone: readonly Entity[];
  readonly stray: readonly Entity[];
  readonly findings: readonly Finding[];
}

/**
 * Finds the outlines among the entities of a group, and what belongs to each. The layer decides what is
 * an outline. A contour on a layer without a meaning is an outline if an even number of other contours
 * contains it, none of them on a layer that says what it is. Of closed lines on several layers that run
 * beside each other all round one is the contour (see twinsAmong); the others lie on it. A centreline belongs to every outline that
 * it runs through, however long it is. Of outlines that go with options which exclude each other, in one
 * block or on each other, the first is the outline, and the others lie on it. `isBlock`: the group is a block. `votes`: those of the whole
 * drawing. Findings: a contour drawn twice, an outline within an outline, a cutout within none. Whoever
 * reads the whole drawing tells what else belongs to no outline.
 */
export function outlinesOf(
  entities: readonly Entity[],
  map: LayerMap,
  where: Place,
  isBlock: boolean,
  votes: OutlineVotes,
): FoundOutlines {
  const { contours: all, again } = distinctContours(closedLines(entities, map), map);
  const twins = twinsAmong(all, votes);
  const beside = new Set(twins.flatMap(({ others }) => others));
  const first = alternatives(
    all.filter(({ role }) => role === 'OUTLINE'),
    map,
    isBlock,
  );
  const contours = all.filter((contour) => !beside.has(contour) && !first.has(contour));
  const holdersOf = holders([...contours, ...first.keys()]);
  const held = contours.map((contour) => holdersOf(contour));
  const isOutline = contours.map(({ role }, i) =>
    role === 'unknown'
      ? held[i]!.length % 2 === 0 && held[i]!.every((holder) => holder.role === 'unknown')
      : role === 'OUTLINE',
  );
  const outlines = contours.flatMap((contour, i) => (isOutline[i] ? [newOutline(contour)] : []));
  const byContour = new Map(outlines.map((outline) => [outline.contour, outline]));
  for (const [contour, main] of first) {
    const outline = byContour.get(main)!;
    byContour.set(contour, outline);
    outline.others.push(contour.entity);
    outline.alternatives.push(contour.entity);
  }
  const findings = again.map((contour) => drawnTwice(contour, where));
  const alone: Entity[] = [];
  for (const [i, contour] of contours.entries()) {
    const within = held[i]!.map((one) => byContour.get(one)).find(
      (one) => one !== undefined && one.contour !== contour,
    );
    if (isOutline[i]) {
      if (within !== undefined) {
        findings.push(nestedOutline(contour, where));
        byContour.get(contour)!.within = within.contour;
      }
    } else if (within === undefined) {
      findings.push(contourAlone(contour, where));
      alone.push(contour.entity);
    } else within.inner.push(contour);
    const others = twins.find(({ chosen }) => chosen === contour)?.others ?? [];
    const owner = byContour.get(contour) ?? within;
    owner?.inner.push(...others);
    byContour.get(contour)?.twins.push(...others);
    if (owner === undefined) alone.push(...others.map(({ entity }) => entity));
  }
  const known = new Set<Entity>([...all, ...again].map(({ entity }) => entity));
  const ownersOf = owners(
    outlines.map(({ contour }) => contour),
    first,
    map,
    isBlock,
  );
  const stray = entities.filter((entity) => {
    if (known.has(entity)) return false;
    const found = ownersOf(entity);
    for (const owner of found) byContour.get(owner)!.others.push(entity);
    return found.length === 0;
  });
  return { outlines, alone, stray, findings };
}

function newOutline(contour: ClosedLine) {
  return {
    contour,
    inner: [] as ClosedLine[],
    twins: [] as ClosedLine[],
    others: [] as Entity[],
    alternatives: [] as PathEntity[],
    within: null as ClosedLine | null,
    half: null,
  };
}

/** The votes of a group for the layer that outlines are drawn on (see OutlineVotes), one by one. */
export function outlineVotesOf(entities: readonly Entity[], map: LayerMap): string[] {
  const { contours } = distinctContours(closedLines(entities, map), map);
  const holdersOf = holders(contours);
  return votingLayers(contours, (contour) => holdersOf(contour).length === 0);
}

/** What lies within this distance of an outline (mm) all along is drawn on it: notches, and traces. */
const onOutline = 1;

/**
 * What lies in no outline belongs to the nearest one within so many mm, or, for a text, within twice the
 * height of its letters if that is more; but not if another one is hardly further away.
 */
const nearOutline = { reach: 60, clearer: 5 };

/**
 * Returns a function that tells to which outlines a thing belongs: the smallest that contains it,
 * otherwise one on which it is drawn, otherwise all that it runs through, otherwise the nearest. In a block with one outline everything
 * belongs to that, and so do all texts where there is no other outline.
 */
function owners(
  mains: readonly ClosedLine[],
  first: Alternatives,
  map: LayerMap,
  isBlock: boolean,
): (entity: Entity) => readonly ClosedLine[] {
  const outlines = [...mains, ...first.keys()];
  const measured = measuredOnce();
  const holding = holders(outlines, measured);
  const near = boxIndex(outlines.map(({ box }) => box));
  const found = (entity: Entity): readonly ClosedLine[] => {
    const thing = placeOf(entity);
    const crossed = (): ClosedLine[] =>
      near(growBox(thing.box, samePoint))
        .map((i) => outlines[i]!)
        .filter(({ path }) => runsThrough(thing.path, path, measured));
    if (isCentreline(entity, map)) {
      const through = crossed();
      if (through.length > 0) return through;
    }
    const [holder] = holding(thing);
    if (holder !== undefined) return [holder];
    const reach = reachOf(entity);
    const around = near(growBox(thing.box, reach)).map((i) => outlines[i]!);
    const drawnOn = around.find(({ path }) =>
      thing.path.vertices.every((vertex) => isOn(measured(path), vertex, onOutline)),
    );
    if (drawnOn !== undefined) return [drawnOn];
    const through = entity.kind === 'path' ? crossed() : [];
    return through.length > 0 ? through : nearestAmong(around, first, thing.path, reach, measured);
  };
  return (entity) => {
    if (mains.length === 1 && (isBlock || entity.kind === 'text')) return mains;
    return [...new Set(found(entity).map((one) => first.get(one) ?? one))];
  };
}

/** Outlines that are there instead of another one with other options, each with that one. */
type Alternatives = ReadonlyMap<ClosedLine, ClosedLine>;

function alternatives(
  outlines: readonly ClosedLine[],
  map: LayerMap,
  isBlock: boolean,
): Alternatives {
  const first = new Map<ClosedLine, ClosedLine>();
  const whenOf = ({ entity }: ClosedLine): Conditions => meaningOf(entity.layer, map)!.when;
  const excludes = (one: ClosedLine, other: ClosedLine): boolean =>
    areContrary(bothConditions(whenOf(one), whenOf(other)));
  for (const [i, outline] of outlines.entries()) {
    const main = outlines.slice(0, i).find((one) => {
      const shapes = [one, ...[...first].flatMap(([other, of]) => (of === one ? [other] : []))];
      const isOnIt = isBlock || boxesOverlap(one.box, outline.box);
      return !first.has(one) && isOnIt && shapes.every((other) => excludes(other, outline));
    });
    if (main !== undefined) first.set(outline, main);
  }
  return first;
}

function runsThrough(path: Path, outline: Path, measured: Measuring): boolean {
  // Questions are asked for each segment of the one that has fewer.
  const isShort = path.vertices.length < outline.vertices.length;
  const [asked, other] = isShort ? [outline, path] : [path, outline];
  return (
    crossingsWith(measured(asked), other).length > 1 ||
    path.vertices.some((vertex) => placeInArea(measured(outline), vertex) === 'inside')
  );
}

function isOn(outline: MeasuredPath, at: Point, reach: number): boolean {
  return placeInArea(outline, at, reach) === 'on';
}

/** Measures paths, each once: many questions are asked about each of them. */
type Measuring = (path: Path) => MeasuredPath;

function measuredOnce(): Measuring {
  const known = new Map<Path, MeasuredPath>();
  return (path) => {
    const measured = known.get(path) ?? measurePath(path);
    known.set(path, measured);
    return measured;
  };
}

function isCentreline(entity: Entity, map: LayerMap): boolean {
  return entity.kind === 'path' && meaningOf(entity.layer, map)?.role === 'AXIS';
}

function reachOf(entity: Entity): number {
  const { reach } = nearOutline;
  return entity.kind === 'text' ? Math.max(reach, 2 * entity.height) : reach;
}

/** How near a vertex of a path comes to an outline, mm. */
function distanceBetween({ vertices }: Path, outline: MeasuredPath): number {
  let [least, off] = [Infinity, 0];
  let last: Point | null = null;
  for (const at of vertices) {
    // No vertex is nearer than the one before it by more than the way between them.
    if (last !== null) off -= distance(last, at);
    last = at;
    if (off > least) continue;
    off = nearestPlace(outline, at).distance;
    least = Math.min(least, off);
  }
  return least;
}

/** The outline nearest to a path, if it is within reach and clearly nearer than any other. */
function nearestAmong(
  outlines: readonly ClosedLine[],
  alternative: Alternatives,
  path: Path,
  reach: number,
  measured: Measuring,
): ClosedLine[] {
  const mainOf = (outline: ClosedLine): ClosedLine => alternative.get(outline) ?? outline;
  // Where there is no choice it only matters whether it is within reach.
  if (new Set(outlines.map(mainOf)).size === 1) {
    const isNear = ({ path: own }: ClosedLine): boolean =>
      path.vertices.some((vertex) => isOn(measured(own), vertex, reach));
    return outlines.filter(isNear).slice(0, 1);
  }
  const [first, ...others] = outlines
    .map((outline) => ({
      outline,
      off: distanceBetween(path, measured(outline.path)),
    }))
    .filter(({ off }) => off <= reach)
    .sort((a, b) => a.off - b.off);
  if (first === undefined) return [];
  const second = others.find(({ outline }) => mainOf(outline) !== mainOf(first.outline));
  const isClear = second === undefined || second.off - first.off > nearOutline.clearer;
  return isClear ? [first.outline] : [];
}

const contourRoles: ReadonlySet<string> = new Set(['OUTLINE', 'CUTOUT', 'HOLE']);

function closedLines(entities: readonly Entity[], map: LayerMap): ClosedLine[] {
  return entities.flatMap((entity): ClosedLine[] => {
    if (entity.kind !== 'path' || !entity.path.closed) return [];
    const role = meaningOf(entity.layer, map)?.role ?? 'unknown';
    if (role !== 'unknown' && !contourRoles.has(role)) return [];
    const { path } = entity;
    return [{ entity, path, area: areaOf(path), role, box: boxOfPath(path) }];
  });
}

/**
 * A line may be drawn twice, on two layers that mean the same: then it is one contour. On layers that do
 * not mean the same both are kept: the second may be the tape along the edge.
 */
function distinctContours(
  drawn: readonly ClosedLine[],
  map: LayerMap,
): {
  contours: ClosedLine[];
  again: ClosedLine[];
} {
  const suffixOf = ({ entity }: ClosedLine): string =>
    conditionSuffix(meaningOf(entity.layer, map)?.when ?? []);
  const roles = [...contourRoles].flatMap((role) => {
    const ofRole = drawn.filter((one) => one.role === role);
    const suffixes = [...new Set(ofRole.map(suffixOf))];
    return suffixes.map((suffix) => ofRole.filter((one) => suffixOf(one) === suffix));
  });
  const again = new Set(
    roles
      .filter((own) => new Set(own.map(({ entity }) => entity.layer)).size > 1)
      .flatMap((own) => repeats(own.map(({ path }) => path)).map((i) => own[i]!)),
  );
  return { contours: drawn.filter((contour) => !again.has(contour)), again: [...again] };
}

function drawnTwice({ entity }: ClosedLine, where: Place): Finding {
  return {
    severity: 'warning',
    rule: 'repeated',
    message: `a contour on layer ${entity.layer} is the same as one on another layer that means the same; it is taken once, from there.`,
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
function holders(
  contours: readonly ClosedLine[],
  measured = measuredOnce(),
): (held: PlacedContour) => ClosedLine[] {
  const near = boxIndex(contours.map(({ box }) => box));
  return (held) =>
    near(held.box)
      .map((i) => contours[i]!)
      .filter((contour) => contour.area > held.area && holds(contour, held, measured))
      .sort((a, b) => a.area - b.area);
}

function holds(outer: ClosedLine, held: PlacedContour, measured: Measuring): boolean {
  // A line may end on the outline itself: rounding may then put its box a trifle outside.
  if (held.area > 0 && !boxContains(outer.box, held.box)) return false;
  const looks = function* (): Generator<Point> {
    yield* held.path.vertices;
    for (const segment of segmentsOf(held.path)) yield pointAt(segment, 0.5);
  };
  // The first place that is not on the edge decides. If all are on the edge, the thing counts as inside. A
  // line may begin a little off the edge that it belongs to, in the piece beside it.
  const isLine = held.area === 0 && held.path.vertices.length > 1;
  const area = measured(outer.path);
  for (const tolerance of isLine ? [onOutline, samePoint] : [samePoint]) {
    for (const point of looks()) {
      const place = placeInArea(area, point, tolerance);
      if (place !== 'on') return place === 'inside';
    }
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

function contourAlone({ entity }: ClosedLine, where: Place): Finding {
  return {
    severity: 'warning',
    rule: 'cutout-alone',
    message: `a contour on layer ${entity.layer} lies in no outline.`,
    todo: 'Draw the outline around it, or put it on OUTLINE if it is one.',
    where: { ...where, line: entity.line, at: startOfEntity(entity) },
  };
}
