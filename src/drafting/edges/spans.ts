/**
 * A part of a closed outline: lengths in mm along it from its first vertex. `from` lies on it, from 0 up
 * to its length; `to` is always more than `from`, by one length of the outline at most, so it may exceed it.
 */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** A length along an outline brought to [0, round). */
export function onRound(at: number, round: number): number {
  const on = ((at % round) + round) % round;
  // A tiny negative number plus the length is the length itself.
  return on === round ? 0 : on;
}

/** From one length to another; equal ones mean the whole way round. */
export function spanOf(from: number, to: number, round: number): Span {
  const begin = onRound(from, round);
  const length = onRound(to - from, round);
  return { from: begin, to: begin + (length === 0 ? round : length) };
}

/** The length of a span, mm. */
export function spanLength({ from, to }: Span): number {
  return to - from;
}

/** Whether a length along the outline lies in a span, or within `tolerance` mm of it. */
export function isInSpan({ from, to }: Span, at: number, round: number, tolerance = 0): boolean {
  return onRound(at - from + tolerance, round) <= to - from + 2 * tolerance;
}

/** The parts of a span that none of the others covers, in its direction. */
export function spanWithout(span: Span, others: readonly Span[], round: number): Span[] {
  const [first] = others;
  if (first === undefined) return [span];
  // The whole way round has no ends of its own: it is begun where something is taken out of it.
  const begun = spanLength(span) < round ? span : { from: first.to, to: first.to + round };
  return timesRound(others, round)
    .reduce(
      (left, other) =>
        left.flatMap(({ from, to }) =>
          [
            { from, to: Math.min(to, other.from) },
            { from: Math.max(from, other.to), to },
          ].filter((one) => one.to > one.from),
        ),
      [begun],
    )
    .map((one) => onto(one, round));
}

/** The parts of a span that others cover. */
export function commonSpans(span: Span, others: readonly Span[], round: number): Span[] {
  return timesRound(others, round).flatMap((other) => {
    const [from, to] = [Math.max(span.from, other.from), Math.min(span.to, other.to)];
    return to > from ? [onto({ from, to }, round)] : [];
  });
}

/**
 * A span with all of the others that overlap it or come within `tolerance` mm of its ends, and those that
 * then do. If they leave no more than the tolerance open it is the whole way round.
 */
export function joinedSpan(
  span: Span,
  others: readonly Span[],
  round: number,
  tolerance: number,
): { span: Span; joined: readonly Span[] } {
  let { from, to } = span;
  const joined = new Set<Span>();
  let grows = true;
  while (grows) {
    grows = false;
    for (const other of others) {
      const near = [-round, 0, round, 2 * round]
        .map((by) => ({ from: other.from + by, to: other.to + by }))
        .filter((one) => one.from <= to + tolerance && one.to >= from - tolerance);
      if (near.length === 0 || joined.has(other)) continue;
      joined.add(other);
      grows = true;
      for (const one of near) [from, to] = [Math.min(from, one.from), Math.max(to, one.to)];
    }
  }
  if (to - from >= round - tolerance) return { span: { from: 0, to: round }, joined: [...joined] };
  return { span: onto({ from, to }, round), joined: [...joined] };
}

/** Spans with those that touch each other, or come within `tolerance` mm, made one. */
export function joinedSpans(spans: readonly Span[], round: number, tolerance: number): Span[] {
  const left = [...spans];
  const made: Span[] = [];
  for (let first = left.shift(); first !== undefined; first = left.shift()) {
    const { span, joined } = joinedSpan(first, left, round, tolerance);
    made.push(span);
    for (const one of joined) left.splice(left.indexOf(one), 1);
  }
  return made;
}

/** Spans with their images whole lengths of the outline before and after: a span may reach over two. */
function timesRound(spans: readonly Span[], round: number): Span[] {
  return spans.flatMap(({ from, to }) =>
    [-round, 0, round, 2 * round].map((by) => ({ from: from + by, to: to + by })),
  );
}

function onto({ from, to }: Span, round: number): Span {
  const by = onRound(from, round) - from;
  return { from: from + by, to: to + by };
}
