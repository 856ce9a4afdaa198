import type { Entity } from '../../drawing/drawing.ts';
import type { Finding } from '../../base/findings.ts';
import { errorFinding } from '../../base/findings.ts';
import { plainName } from '../../base/names.ts';
import { decimal } from '../../base/numbers.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { cornerNear } from '../../geometry/measuring/measured-path.ts';
import { pieceWarning } from '../../pattern/findings.ts';
import { traceTolerance } from '../../pattern/edges.ts';
import { layerName } from '../../pattern/layers.ts';
import type { DrawnTrace, DrawnTraces, EdgeDraft } from './drawn-traces.ts';
import { drawnTraces } from './drawn-traces.ts';
import { drawnHalf, ontoDrawnHalf } from './half.ts';
import type { EdgeAnswer } from './planned-traces.ts';
import { plannedTraces } from './planned-traces.ts';
import { pointOn } from './stretches.ts';
import type { Span } from './spans.ts';
import { commonSpans, onRound, spanLength, spanOf, spanWithout } from './spans.ts';
import { writtenTraces } from './written-traces.ts';

/** No shorter stretch is given a kind, mm: lines and their names could not be told apart. */
export const leastStretch = 5;

/** What became of the entities of a block. */
export interface EdgesGiven {
  readonly entities: readonly Entity[];
  /** The name of the edge now. null: it has none, or nothing was drawn. */
  readonly name: string | null;
  /** Names that no edge of the piece has any more. */
  readonly gone: readonly string[];
  /** Edges that were cut: `also` is the new name of a part that could not keep the old one. */
  readonly split: readonly { readonly name: string; readonly also: string }[];
  /** What was left as it is, since lines on layers with a suffix lie there. Lengths as in EdgeAnswer. */
  readonly untouched: readonly Untouched[];
  /** Why nothing was done (errors), and what was left out (warnings). */
  readonly findings: readonly Finding[];
}

interface Untouched {
  readonly from: number;
  readonly to: number;
  /** `SEAM-WITH-TABLE`. */
  readonly layer: string;
}

/**
 * The entities of a block after a stretch of the net outline was given a kind. Lines that lie there are
 * shortened, split or taken out; with neighbours of the same kind and name the stretch becomes one line. The
 * line lies exactly on the net outline, on the layer of its kind, with its name beside it. Ends within
 * traceTolerance of the end of a line or of a vertex of the outline are taken to it, as readers do.
 *
 * Nothing else is changed, but for names that would no longer be read: these are moved beside their lines.
 * Where a line on a layer with a suffix lies nothing is drawn (see `untouched`). On a piece that is drawn half
 * the answer holds for the mirror image of the stretch, too. If nothing changes, the entities are the same array.
 */
export function withEdgeKind(draft: EdgeDraft, answer: EdgeAnswer): EdgesGiven {
  const drawn = drawnTraces(draft);
  const { outline } = drawn;
  const round = outline.length;
  const reach = snapped(answer, drawn);
  const refusal = refusalOf(draft, answer, reach, outline);
  if (reach === null || refusal !== null) return nothingDone(draft, refusal);
  const half = drawnHalf(draft, outline);
  const special = drawn.traces
    .filter(({ span, isPlain }) => span !== null && !isPlain)
    .flatMap((one) => ontoDrawnHalf(one.span!, half, round).map((span) => ({ ...one, span })));
  const asked = ontoDrawnHalf(reach, half, round);
  const untouched = asked.flatMap((one) => untouchedIn(one, special, round));
  const targets = asked
    .flatMap((one) =>
      spanWithout(
        one,
        special.map(({ span }) => span),
        round,
      ),
    )
    .filter((one) => spanLength(one) > traceTolerance);
  const plan = plannedTraces(draft, drawn, targets, answer);
  const written = writtenTraces(draft, drawn, plan.traces);
  const before = drawn.traces.map(({ name }) => name);
  const after = new Set([...plan.traces, ...special].map(({ name }) => name));
  return {
    entities: written.entities,
    name: plan.name,
    gone: [...new Set(before)].filter((name) => name !== null && !after.has(name)) as string[],
    split: plan.split,
    untouched,
    findings: [
      ...(untouched.length === 0 ? [] : [leftAlone(draft, untouched, outline)]),
      ...written.findings,
    ],
  };
}

function nothingDone({ entities }: EdgeDraft, refusal: Finding | null): EdgesGiven {
  const findings = refusal === null ? [] : [refusal];
  return { entities, name: null, gone: [], split: [], untouched: [], findings };
}

/** The stretch with its ends where readers will see them. null: nothing is left of it. */
function snapped({ from, to }: EdgeAnswer, { outline, traces }: DrawnTraces): Span | null {
  const round = outline.length;
  const asked = spanOf(from, to, round);
  if (spanLength(asked) === round) return asked;
  const ends = traces.flatMap(({ span }) => (span === null ? [] : [span.from, span.to]));
  const settled = (at: number): number => {
    const end = ends.find((one) => apart(one, at, round) <= traceTolerance);
    if (end !== undefined) return onRound(end, round);
    const vertex = cornerNear(outline, onRound(at, round));
    return onRound(apart(vertex, at, round) <= traceTolerance ? vertex : at, round);
  };
  const [begin, end] = [settled(asked.from), settled(asked.to)];
  if (begin === end) return spanLength(asked) > round / 2 ? { from: 0, to: round } : null;
  return spanOf(begin, end, round);
}

/** How far two places of a closed outline are from each other along it, mm. */
function apart(a: number, b: number, round: number): number {
  return Math.min(onRound(a - b, round), onRound(b - a, round));
}

function refusalOf(
  { piece }: EdgeDraft,
  { from, name }: EdgeAnswer,
  reach: Span | null,
  outline: MeasuredPath,
): Finding | null {
  const where = { ...piece.where, at: pointOn(outline, from) };
  if (typeof name === 'string' && !plainName.safeParse(name).success) {
    const message = `an edge cannot be called "${name}".`;
    const todo = 'Write small letters and digits, joined by single hyphens.';
    return errorFinding('edge-word', message, todo, where);
  }
  const length = reach === null ? 0 : spanLength(reach);
  if (length >= leastStretch) return null;
  const message = `this stretch is ${decimal(length, 1)} mm long, and no edge can be shorter than ${leastStretch} mm.`;
  return errorFinding('stretch-short', message, 'Choose a longer stretch.', where);
}

function untouchedIn(span: Span, special: readonly DrawnTrace[], round: number): Untouched[] {
  return special.flatMap(({ span: own, feature }) =>
    commonSpans(span, [own!], round)
      .filter((one) => spanLength(one) > traceTolerance)
      .map(({ from, to }) => ({ from, to: onRound(to, round), layer: layerName(feature) })),
  );
}

function leftAlone(
  { piece }: EdgeDraft,
  untouched: readonly Untouched[],
  outline: MeasuredPath,
): Finding {
  const layers = [...new Set(untouched.map(({ layer }) => layer))].join(', ');
  return pieceWarning(
    piece,
    {
      rule: 'stretch-optional',
      message: `what lies on ${layers} is not always there: that part of the edge was left as it is.`,
      todo: 'Change it in the drawing, and look at every choice of the options.',
    },
    { at: pointOn(outline, untouched[0]!.from) },
  );
}
