import type { Finding } from '../../base/findings.ts';
import { rememberedFor } from '../../base/remembered.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { nearestPlace, placeAlong, stretchAlong } from '../../geometry/measuring/measured-path.ts';
import { standAt } from '../../geometry/measuring/stand.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { pathLength } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { hiderOf } from '../../handing/carpet.ts';
import { claimEdges, tracesOf, traceTolerance } from '../../pattern/edges.ts';
import { layerName } from '../../pattern/layers.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import { shapeDivisions, shortestSide } from './dividing.ts';
import type { DrawnTrace, EdgeDraft } from './drawn-traces.ts';
import { drawnTraces, isThereAsDrawn } from './drawn-traces.ts';
import { drawnHalf, mirroredSpan } from './half.ts';
import { isInSpan, joinedSpans, onRound, spanOf } from './spans.ts';

/** A place at which the outline is divided into stretches. */
export interface Division {
  /** mm along the net outline from its first vertex. */
  readonly along: number;
  readonly at: Point;
  /** What divides it: the end of a trace, a notch, or the shape of the outline. */
  readonly by: 'trace' | 'notch' | 'corner';
}

/** A part of the net outline for which one answer is given. mm, in the frame of the block. */
export interface OutlineStretch {
  /** Along the net outline from its first vertex; `to` <= `from`: across that start. Equal: all of it. */
  readonly from: number;
  readonly to: number;
  /** Open, in the direction of the outline. */
  readonly path: Path;
  readonly length: number;
  /** null: nobody has decided. */
  readonly kind: EdgeKind | null;
  readonly name: string | null;
  /** What says the kind: a line drawn there, or `edge:` of the piece or the set. null: nothing. */
  readonly saidBy: 'trace' | 'rest' | null;
  /** The index of its trace among the entities of the block. null: it has none. */
  readonly trace: number | null;
  /** What covers a raw edge or what a tucked one goes under, as the set file says. null: it says nothing. */
  readonly hiddenBy: string | null;
  /**
   * The layers with a suffix that have a line there (`SEAM-WITH-TABLE`, `BOUND-DRIVER`), whether it is
   * there as usual or not. Nothing is decided here for such a stretch: withEdgeKind leaves it alone.
   */
  readonly special: readonly string[];
}

export interface Stretches {
  readonly stretches: readonly OutlineStretch[];
  readonly divisions: readonly Division[];
  /** The length of the net outline, mm. */
  readonly round: number;
  /** Lines that do not follow the outline, texts that name none, stretches that are claimed twice. */
  readonly findings: readonly Finding[];
}

/**
 * Divides the net outline of a piece into the stretches that a person would point at, in order round it: at
 * its corners and round corners (see shapeDivisions), at its notches, and at the ends of traces, of those
 * too that only some vehicles have. The start of the outline divides nothing by itself. Without a
 * division there is one stretch, from 0 to 0. What happens to each stretch is as read for the hand that is
 * drawn and the usual options. Worked out once for each draft.
 */
export const stretchesOf = rememberedFor((draft: EdgeDraft): Stretches => {
  const { piece } = draft;
  const { outline, traces, findings } = drawnTraces(draft);
  const sound = wholeTraces(draft, outline, traces);
  const claimed = claimEdges(
    piece.outline,
    tracesOf(piece.features.filter((feature) => isThereAsDrawn(feature, draft))),
    piece.entry.edge ?? 'raw',
    piece.where,
  );
  const divisions = divisionsOf(draft, outline, sound);
  return {
    stretches: betweenDivisions(divisions).map(([from, to]) =>
      stretchBetween(from, to, draft, outline, sound),
    ),
    divisions,
    round: outline.length,
    findings: [...findings, ...claimed.findings],
  };
});

/** The lines that follow the outline, each once; on a piece that is drawn half with their mirror images. */
function wholeTraces(
  draft: EdgeDraft,
  outline: MeasuredPath,
  traces: readonly DrawnTrace[],
): DrawnTrace[] {
  const half = drawnHalf(draft, outline);
  const sound = traces.filter(({ span, isRepeat }) => span !== null && !isRepeat);
  if (half === null) return sound;
  return sound.flatMap((trace): DrawnTrace[] => {
    if (trace.feature.follows !== null) return [trace];
    const both = [trace.span!, mirroredSpan(trace.span!, half, outline.length)];
    return joinedSpans(both, outline.length, samePoint).map((span) => ({ ...trace, span }));
  });
}

/**
 * The places at which the outline of a piece is divided, rising. Of several within traceTolerance one is left;
 * what its shape says so near to the end of a line that a bit of no use would be left over is not taken.
 */
function divisionsOf(
  { piece }: EdgeDraft,
  outline: MeasuredPath,
  traces: readonly DrawnTrace[],
): Division[] {
  const ends = traces.flatMap(({ span }) =>
    span === null || span.to - span.from >= outline.length ? [] : [span.from, span.to],
  );
  const notches = piece.features.flatMap(({ role, path }) =>
    role === 'NOTCH' ? notchAlong(path, outline) : [],
  );
  const all = [
    ...ends.map((along) => ({ along, by: 'trace' as const })),
    ...notches.map((along) => ({ along, by: 'notch' as const })),
    ...shapeDivisions(outline).map((along) => ({ along, by: 'corner' as const })),
  ].map(({ along, by }) => ({ along: onRound(along, outline.length), by }));
  const apart = (a: number, b: number): number =>
    Math.min(onRound(a - b, outline.length), onRound(b - a, outline.length));
  const kept: typeof all = [];
  for (const one of all) {
    const isNear = ({ along, by }: (typeof all)[number]): boolean =>
      apart(along, one.along) <=
      (by === 'trace' && one.by === 'corner' ? shortestSide : traceTolerance);
    if (!kept.some(isNear)) kept.push(one);
  }
  return kept
    .sort((a, b) => a.along - b.along)
    .map(({ along, by }) => ({ along, at: pointOn(outline, along), by }));
}

/** The place of a point on an outline, without what else a vertex says. */
export function pointOn(outline: MeasuredPath, along: number): Point {
  const { x, y } = placeAlong(outline, onRound(along, outline.length)).point;
  return { x, y };
}

/** Where a notch stands on the outline, mm along it. None: it does not stand on it. */
export function notchAlong({ vertices }: Path, outline: MeasuredPath): number[] {
  const ends = [vertices[0]!, vertices.at(-1)!];
  const [first, last] = ends.map((end) => nearestPlace(outline, end).distance) as [number, number];
  if (Math.min(first, last) > traceTolerance) return [];
  return [standAt(outline, first <= last ? ends[0]! : ends[1]!).along];
}

function betweenDivisions(divisions: readonly Division[]): [from: number, to: number][] {
  if (divisions.length === 0) return [[0, 0]];
  return divisions.map(({ along }, i) => [along, divisions[(i + 1) % divisions.length]!.along]);
}

function stretchBetween(
  from: number,
  to: number,
  { piece: { entry } }: EdgeDraft,
  outline: MeasuredPath,
  traces: readonly DrawnTrace[],
): OutlineStretch {
  const round = outline.length;
  const span = spanOf(from, to, round);
  const middle = (span.from + span.to) / 2;
  const here = traces.filter((trace) => trace.span !== null && isInSpan(trace.span, middle, round));
  const own = here.find(({ isThere }) => isThere);
  const kind = own?.kind ?? entry.edge ?? null;
  const name = own?.name ?? null;
  const path = stretchAlong(outline, from, to);
  return {
    from,
    to,
    path,
    length: pathLength(path),
    kind,
    name,
    saidBy: own === undefined ? (kind === null ? null : 'rest') : 'trace',
    trace: own?.index ?? null,
    hiddenBy: kind === null ? null : (hiderOf(entry, kind, name) ?? null),
    special: here.filter(({ isPlain }) => !isPlain).map(({ feature }) => layerName(feature)),
  };
}
