import { traceTolerance } from '../../pattern/edges.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { stretchAlong } from '../../geometry/measuring/measured-path.ts';
import type { DrawnTrace, DrawnTraces, EdgeDraft } from './drawn-traces.ts';
import { freeName, proposedName } from './edge-naming.ts';
import type { Span } from './spans.ts';
import { commonSpans, joinedSpan, onRound, spanLength, spanWithout } from './spans.ts';

/** What somebody says of a stretch of the net outline. */
export interface EdgeAnswer {
  /** mm along the net outline from its first vertex. `to` <= `from`: across that start; equal: all of it. */
  readonly from: number;
  readonly to: number;
  /** null: what was said is taken away. */
  readonly kind: EdgeKind | null;
  /**
   * The name of the edge. null: none. Left out: that of the line of this kind that lies there already, or
   * a new one that says where the edge lies (see proposedName).
   */
  readonly name?: string | null;
}

/** A line on a plain layer as it is to be drawn. */
export interface PlannedTrace {
  readonly kind: EdgeKind;
  readonly name: string | null;
  readonly span: Span;
  /** The line that it is made of, and whose place among the entities it takes. null: it is new. */
  readonly of: DrawnTrace | null;
  /** The line whose text it keeps. null: a text is written anew if it has a name. */
  readonly textOf: DrawnTrace | null;
}

interface Plan {
  /** All lines on plain layers that follow the outline. */
  readonly traces: readonly PlannedTrace[];
  readonly name: string | null;
  readonly split: { readonly name: string; readonly also: string }[];
}

/** What a plan is made from. */
interface Planning {
  readonly draft: EdgeDraft;
  readonly outline: MeasuredPath;
  /** The lines on plain layers that follow the outline. */
  readonly plain: readonly DrawnTrace[];
  readonly answer: EdgeAnswer;
  /** The names that edges of the piece have; new ones are added. */
  readonly taken: Set<string>;
}

/**
 * The lines that say what was said before outside `targets`, and in them what `answer` says. Targets do not
 * touch each other.
 */
export function plannedTraces(
  draft: EdgeDraft,
  { outline, traces }: DrawnTraces,
  targets: readonly Span[],
  answer: EdgeAnswer,
): Plan {
  const taken = new Set(traces.flatMap(({ name }) => (name === null ? [] : [name])));
  const plain = traces.filter(({ span, isPlain }) => span !== null && isPlain);
  const planning = { draft, outline, plain, answer, taken };
  const { made, absorbed } = madeTraces(planning, targets);
  const covered = [...targets, ...made.map(({ span }) => span)];
  const left = plain
    .filter((one) => !absorbed.has(one))
    .filter((one) => !one.isRepeat || overlapping(one, covered, outline.length) <= traceTolerance);
  const split: Plan['split'] = [];
  const kept = left.flatMap((of) =>
    restOf(of.span!, targets, outline.length).map((span, i): PlannedTrace => {
      const name = i === 0 ? of.name : nextName(of.name, taken);
      if (i > 0 && name !== null) split.push({ name: of.name!, also: name });
      return { kind: of.kind, name, span, of, textOf: i === 0 ? of : null };
    }),
  );
  return { traces: [...kept, ...made], name: made[0]?.name ?? null, split };
}

/** A line for each target, the longest first, and the lines that became part of one. */
function madeTraces(
  planning: Planning,
  targets: readonly Span[],
): { made: PlannedTrace[]; absorbed: ReadonlySet<DrawnTrace> } {
  const { outline, plain, answer, taken } = planning;
  const { kind } = answer;
  const made: PlannedTrace[] = [];
  const absorbed = new Set<DrawnTrace>();
  if (kind === null) return { made, absorbed };
  const ofKind = plain.filter((one) => !one.isRepeat && one.kind === kind);
  for (const target of targets.toSorted((a, b) => spanLength(b) - spanLength(a))) {
    const name =
      made.length === 0 ? nameFor(target, planning, ofKind) : nextName(made[0]!.name, taken);
    if (name !== null) taken.add(name);
    const alike = ofKind.filter((one) => one.name === name);
    const all = alike.map(({ span }) => span!);
    const { span, joined } = joinedSpan(target, all, outline.length, traceTolerance);
    const own = alike
      .filter((one) => joined.includes(one.span!) && !absorbed.has(one))
      .sort((a, b) => spanLength(b.span!) - spanLength(a.span!));
    for (const one of own) absorbed.add(one);
    // A line that only gets another name is the same line still.
    const renamed = ofKind.find((one) => restOf(one.span!, [target], outline.length).length === 0);
    const textOf = own.find(({ text }) => text !== null) ?? null;
    made.push({ kind, name, span, of: own[0] ?? renamed ?? null, textOf });
  }
  return { made, absorbed };
}

/** The name of what is drawn in a target: see EdgeAnswer. */
function nameFor(
  target: Span,
  { draft, outline, answer, taken }: Planning,
  ofKind: readonly DrawnTrace[],
): string | null {
  if (answer.name !== undefined) return answer.name;
  const [own] = ofKind
    .map((one) => ({ one, over: overlapping(one, [target], outline.length) }))
    .filter(({ over }) => over > traceTolerance)
    .sort((a, b) => b.over - a.over);
  const isWithin = own !== undefined && own.over >= spanLength(target) - traceTolerance;
  if (own !== undefined && (own.one.name !== null || isWithin)) return own.one.name;
  const path = stretchAlong(outline, target.from, onRound(target.to, outline.length));
  return proposedName(draft.piece, path, taken);
}

/** The next free name like another, which is then taken. null: there is none to be like. */
function nextName(name: string | null, taken: Set<string>): string | null {
  if (name === null) return null;
  const next = freeName(name, taken);
  taken.add(next);
  return next;
}

/** How much of a line lies in spans, mm. */
function overlapping({ span }: DrawnTrace, spans: readonly Span[], round: number): number {
  return commonSpans(span!, spans, round).reduce((sum, one) => sum + spanLength(one), 0);
}

/** What is left of a line outside spans; the longest part comes first. */
function restOf(span: Span, spans: readonly Span[], round: number): Span[] {
  if (commonSpans(span, spans, round).every((one) => spanLength(one) <= traceTolerance))
    return [span];
  return spanWithout(span, spans, round)
    .filter((one) => spanLength(one) > traceTolerance)
    .sort((a, b) => spanLength(b) - spanLength(a));
}
