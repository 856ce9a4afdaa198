import type { Entity } from '../../drawing/drawing.ts';
import { pathOfEntity } from '../../drawing/entity-of.ts';
import type { Finding } from '../../base/findings.ts';
import { errorFinding } from '../../base/findings.ts';
import { decimal } from '../../base/numbers.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import {
  measurePath,
  nearestPlace,
  stationLength,
} from '../../geometry/measuring/measured-path.ts';
import { standAt } from '../../geometry/measuring/stand.ts';
import { polyline } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, plus, times } from '../../geometry/paths/point.ts';
import { lengthOfSewn } from '../../handing/seams/seams.ts';
import { traceTolerance } from '../../pattern/edges.ts';
import { meaningOf } from '../../pattern/layers.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { EdgeDraft } from './drawn-traces.ts';
import { isPlainLayer } from './drawn-traces.ts';
import { drawnHalf, ontoDrawnHalf } from './half.ts';
import type { AskedSeam, JudgedJoin } from './seam-facts.ts';
import { judgedJoins, placeOnSeam, sewnEnds } from './seam-facts.ts';
import type { Span } from './spans.ts';
import { isInSpan, onRound, spanOf } from './spans.ts';
import { notchAlong, pointOn } from './stretches.ts';

/** How long a notch is drawn where no material says how deep it is cut, mm. */
const usualNotch = 6;

/** Notches stand no closer together than this, mm: they would be taken for each other at the machine. */
const leastApart = 10;

/** How many notches a seam gets, evenly spread, or how far apart they stand, mm from the end where it is begun. */
export type WantedNotches = { readonly count: number } | { readonly spacing: number };

export interface NotchesSet {
  /** The entities of the block of each piece: the same ones where a piece is sewn to itself. */
  readonly entities: readonly [readonly Entity[], readonly Entity[]];
  /** Why nothing was done. */
  readonly findings: readonly Finding[];
}

/**
 * The entities of the two blocks of a seam with notches set on both edges that meet each other: as lines from
 * the outline inwards on NOTCH. On the first edge they stand as `wanted` says; on the second at the same shares of its
 * length, since ease is spread evenly. `drafts` are those of the two pieces. `isReplacing`: the notches that
 * stand on the two edges go, but for those whose layer has a suffix. Without it they stay, and where one stands
 * already none is set.
 */
export function withSeamNotches(
  patterns: PatternSet,
  materials: Materials,
  seam: AskedSeam,
  drafts: readonly [EdgeDraft, EdgeDraft],
  wanted: WantedNotches,
  isReplacing: boolean,
): NotchesSet {
  const blocks = drafts.map(({ entities }) => entities) as [readonly Entity[], readonly Entity[]];
  const { joins, findings } = judgedJoins(patterns, materials, seam);
  const shortest = Math.min(...joins.map(({ join }) => lengthOfSewn(join.edges[0])));
  const apart = 'count' in wanted ? shortest / (Math.floor(wanted.count) + 1) : wanted.spacing;
  const isSome = 'spacing' in wanted || wanted.count >= 1;
  if (joins.length > 0 && !(isSome && apart >= leastApart && apart < Infinity)) {
    const asked =
      'count' in wanted ? `${wanted.count} notches` : `notches ${wanted.spacing} mm apart`;
    const message = `${asked} cannot be set on this seam of ${decimal(shortest, 0)} mm.`;
    const todo = `Ask for one at least, and no closer together than ${leastApart} mm.`;
    findings.push(errorFinding('notch-number', message, todo, drafts[0].piece.where));
  }
  if (joins.length === 0 || findings.length > 0) return { entities: blocks, findings };
  const isItself = drafts[0].piece.name === drafts[1].piece.name;
  const [first, second] = ([0, 1] as const).map((edge) => {
    // A piece that is sewn to itself is drawn once: its first edge says for both.
    const draft = drafts[edge];
    return notched(
      draft,
      joins,
      isItself ? 0 : edge,
      wanted,
      isReplacing,
      depthOn(draft, materials),
    );
  });
  return { entities: [first!, isItself ? first! : second!], findings };
}

function depthOn({ piece: { entry } }: EdgeDraft, materials: Materials): number {
  return entry.notch ?? materials.get(entry.material)?.notchDepth ?? usualNotch;
}

function notched(
  draft: EdgeDraft,
  joins: readonly JudgedJoin[],
  edge: 0 | 1,
  wanted: WantedNotches,
  isReplacing: boolean,
  depth: number,
): Entity[] {
  const outline = measurePath(draft.piece.outline);
  const half = drawnHalf(draft, outline);
  const sewn = joins.map((judged) => sewnSpan(judged, edge, outline));
  const standing = draft.entities.map((entity) => standsAt(entity, draft, outline));
  const isOnSeam = (at: number | null): boolean =>
    at !== null &&
    sewn
      .flatMap((span) => ontoDrawnHalf(span, half, outline.length))
      .some((span) => isInSpan(span, at, outline.length, traceTolerance));
  const kept = draft.entities.filter((_, i) => !isReplacing || !isOnSeam(standing[i]!));
  const left = isReplacing ? standing.filter((at) => !isOnSeam(at)) : standing;
  const known = left.flatMap((at) => (at === null ? [] : [pointOn(outline, at)]));
  const made: Entity[] = [];
  for (const at of joins.flatMap((judged) => placesOf(judged, edge, wanted))) {
    const place = drawnPlace(at, half, outline);
    if (known.some((one) => distance(one, place) <= traceTolerance)) continue;
    known.push(place);
    made.push(notchLine(place, outline, depth));
  }
  return [...kept, ...made];
}

/** The places of notches on an edge, in the frame of its block. */
function placesOf(judged: JudgedJoin, edge: 0 | 1, wanted: WantedNotches): Point[] {
  const [length, own] = [judged.join.edges[0], judged.join.edges[edge]].map(lengthOfSewn);
  return sharesOf(length!, wanted).map((share) => placeOnSeam(judged, edge, share * own!));
}

/** Where notches stand on an edge, as shares of its length. The last is half a step from the end at least. */
function sharesOf(length: number, wanted: WantedNotches): number[] {
  if ('count' in wanted) {
    const count = Math.floor(wanted.count);
    return Array.from({ length: count }, (_, i) => (i + 1) / (count + 1));
  }
  const { spacing } = wanted;
  const count = Math.max(0, Math.floor((length - spacing / 2) / spacing));
  return Array.from({ length: count }, (_, i) => ((i + 1) * spacing) / length);
}

/** The sewn part of an edge on the net outline of its piece, as drawn. */
function sewnSpan(judged: JudgedJoin, edge: 0 | 1, outline: MeasuredPath): Span {
  const [from, to] = sewnEnds(judged, edge).map((at) =>
    stationLength(outline, nearestPlace(outline, at).station),
  );
  return spanOf(from!, to!, outline.length);
}

/** Where a notch on a plain layer stands on the outline, mm along it. null: it is something else. */
function standsAt(entity: Entity, { map }: EdgeDraft, outline: MeasuredPath): number | null {
  const meaning = meaningOf(entity.layer, map);
  const isNotch = entity.kind !== 'text' && meaning?.role === 'NOTCH' && isPlainLayer(meaning);
  return isNotch ? (notchAlong(pathOfEntity(entity), outline)[0] ?? null) : null;
}

/** A place of the outline on the half that is drawn. */
function drawnPlace(at: Point, half: Span | null, outline: MeasuredPath): Point {
  const along = stationLength(outline, nearestPlace(outline, at).station);
  if (half === null || isInSpan(half, along, outline.length, traceTolerance))
    return pointOn(outline, along);
  return pointOn(outline, onRound(2 * half.from - along, outline.length));
}

function notchLine(at: Point, outline: MeasuredPath, depth: number): Entity {
  const { point, outward } = standAt(outline, at);
  const path = polyline([point, plus(point, times(outward, -depth))], false);
  return { kind: 'path', layer: 'NOTCH', line: 0, path };
}
