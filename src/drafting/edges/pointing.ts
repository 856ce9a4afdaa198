import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import {
  measurePath,
  nearestPlace,
  stationLength,
} from '../../geometry/measuring/measured-path.ts';
import type { EdgeDraft } from './drawn-traces.ts';
import { isInSpan, onRound, spanLength, spanOf } from './spans.ts';
import type { Division, OutlineStretch, Stretches } from './stretches.ts';
import { pointOn } from './stretches.ts';
import { leastStretch } from './with-edge-kind.ts';

/** A place on the net outline that somebody points at. */
export interface OutlinePlace {
  /** mm along the net outline from its first vertex. */
  readonly along: number;
  readonly at: Point;
  /** How far it is from the point, mm. */
  readonly distance: number;
  /** What it was taken to. null: it is the nearest place of the outline. */
  readonly snapped: Division['by'] | null;
}

/**
 * The place of the net outline that somebody means who points at `point` (mm, in the frame of the block): a
 * corner, notch or end within `reach` mm of it, the nearest of them; otherwise the nearest place of the outline.
 */
export function pointedAt(
  { piece }: EdgeDraft,
  { divisions }: Pick<Stretches, 'divisions'>,
  point: Point,
  reach: number,
): OutlinePlace {
  const [division] = divisions
    .map((one) => ({ ...one, distance: distance(one.at, point) }))
    .filter((one) => one.distance <= reach)
    .sort((a, b) => a.distance - b.distance);
  if (division !== undefined) {
    const { along, at, by } = division;
    return { along, at, distance: division.distance, snapped: by };
  }
  const outline = measurePath(piece.outline);
  const { station, point: on, distance: off } = nearestPlace(outline, point);
  const at = { x: on.x, y: on.y };
  return { along: stationLength(outline, station), at, distance: off, snapped: null };
}

/** The stretch on which a place of the outline lies: at a division, the one that begins there. */
export function stretchAt({ stretches, round }: Stretches, along: number): OutlineStretch {
  const at = onRound(along, round);
  const found = stretches.filter(({ from, to }) => isInSpan(spanOf(from, to, round), at, round));
  return found.find(({ to }) => onRound(to, round) !== at) ?? found[0] ?? stretches[0]!;
}

/** A stretch in two: ends for withEdgeKind. */
export interface CutStretch {
  readonly along: number;
  readonly at: Point;
  readonly parts: readonly [
    { readonly from: number; readonly to: number },
    { readonly from: number; readonly to: number },
  ];
}

/**
 * Divides the stretch on which a place of the outline lies. `along`: mm from the outline's first vertex, or
 * from a place to go from (`from`), negative against the outline's direction. null: it is so near to an end
 * of the stretch that one part would be shorter than leastStretch.
 */
export function cutAt(
  { piece }: EdgeDraft,
  stretches: Stretches,
  along: number,
  from = 0,
): CutStretch | null {
  const { round } = stretches;
  const place = onRound(from + along, round);
  const own = stretchAt(stretches, place);
  const parts = [
    { from: own.from, to: place },
    { from: place, to: own.to },
  ] as const;
  const isLong = parts.every((one) => {
    const length = onRound(one.to - one.from, round);
    return length >= leastStretch;
  });
  // A stretch that is all of an outline without divisions has no end there: any other place parts it.
  if (!isLong || spanLength(spanOf(own.from, own.to, round)) < 2 * leastStretch) return null;
  return { along: place, at: pointOn(measurePath(piece.outline), place), parts };
}
