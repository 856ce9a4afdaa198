import { traceTolerance } from '../../pattern/edges.ts';
import type { EdgeKind } from '../../pattern/words.ts';
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
  const round = outline.length;
  const taken = new Set(traces.flatMap(({ name }) => (name === null ? [] : [name])));
  const plain = traces.filter(({ span, isPlain }) => span !== null && isPlain);
  const longestFirst = targets.toSorted((a, b) => spanLength(b) - spanLength(a));
  const { kind } = answer;
  const made: PlannedTrace[] = [];
  const absorbed = new Set<DrawnTrace>();
  if (kind !== null) {
    for (const target of longestFirst) {
      const name = made.length === 0 ? nameOf(target) : again(made[0]!.name, taken);
      if (name !== null) taken.add(name);
      const alike = plain.filter((one) => !one.isRepeat && one.kind === kind && one.name === name);
      const { span, joined } = joinedSpan(target, alike.map(spanOfTrace), round, traceTolerance);
      const own = alike
        .filter((one) => joined.includes(one.span!) && !absorbed.has(one))
        .sort((a, b) => spanLength(b.span!) - spanLength(a.span!));
      for (const one of own) absorbed.add(one);
      // A line that gets another name only is the same line still.
      const [renamed] = plain.filter(
        (one) =>
          one.kind === kind && !one.isRepeat && restOf(one.span!, [target], round).length === 0,
      );
      const textOf = own.find(({ text }) => text !== null) ?? null;
      made.push({ kind, name, span, of: own[0] ?? renamed ?? null, textOf });
    }
  }
  const covered = [...targets, ...made.map(({ span }) => span)];
  const left = plain
    .filter((one) => !absorbed.has(one))
    .filter((one) => !one.isRepeat || overlapping(one, covered, round) <= traceTolerance)
    .map((of) => ({ of, rest: restOf(of.span!, targets, round) }));
  const split: Plan['split'] = [];
  const kept = left.flatMap(({ of, rest }) =>
    rest.map((span, i): PlannedTrace => {
      const name = i === 0 ? of.name : again(of.name, taken);
      if (i > 0 && name !== null) {
        taken.add(name);
        split.push({ name: of.name!, also: name });
      }
      return { kind: of.kind, name, span, of, textOf: i === 0 ? of : null };
    }),
  );
  return { traces: [...kept, ...made], name: made[0]?.name ?? null, split };

  function nameOf(target: Span): string | null {
    if (answer.name !== undefined) return answer.name;
    const [own] = plain
      .filter((one) => !one.isRepeat && one.kind === kind)
      .map((one) => ({ one, over: overlapping(one, [target], round) }))
      .filter(({ over }) => over > traceTolerance)
      .sort((a, b) => b.over - a.over);
    const isWithin = own !== undefined && own.over >= spanLength(target) - traceTolerance;
    if (own !== undefined && (own.one.name !== null || isWithin)) return own.one.name;
    const path = stretchAlong(outline, target.from, onRound(target.to, round));
    return proposedName(draft.piece, path, taken);
  }
}

function spanOfTrace({ span }: DrawnTrace): Span {
  return span!;
}

function again(name: string | null, taken: ReadonlySet<string>): string | null {
  return name === null ? null : freeName(name, taken);
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
