import type { Finding, Place } from '../base/findings.ts';
import type { Following } from '../geometry/measuring/follow.ts';
import { followPath } from '../geometry/measuring/follow.ts';
import type { MeasuredPath } from '../geometry/measuring/measured-path.ts';
import {
  cornerNear,
  measurePath,
  placeAlong,
  stretchAlong,
} from '../geometry/measuring/measured-path.ts';
import type { Path } from '../geometry/paths/path.ts';
import { pathLength } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Feature } from './feature.ts';
import type { Role } from './layers.ts';
import type { EdgeKind } from './words.ts';

/**
 * How far what belongs on the outline may lie from it, mm: traces, notches, drill marks; and the ends of
 * a trace from those of the next. It is moved onto the outline. People draw no finer where nothing snaps,
 * and an outline moves by as much when gaps in it are closed.
 */
export const traceTolerance = 1;

/**
 * A trace may cut a corner of the outline: it may pass over a part of the outline that is longer than the
 * trace itself there by this many mm. This allows for a shallow snip and for an acute corner that was
 * drawn a little short. More is a jump.
 */
export const jumpAllowed = 10;

/** The roles whose lines (traces) say what happens to an edge, and what that is. */
export const tracedKinds: Readonly<Partial<Record<Role, EdgeKind>>> = {
  BOUND: 'bound',
  SEAM: 'seam',
  TUCK: 'tuck',
  TURNED: 'turned',
  RAW: 'raw',
};

/** A trace: a line drawn along a part of the outline to say what happens to that edge. */
export interface TracedLine {
  readonly kind: EdgeKind;
  /** null: no text names it. */
  readonly name: string | null;
  readonly path: Path;
  readonly line: number;
}

/** The traces among features. */
export function tracesOf(features: readonly Feature[]): TracedLine[] {
  return features.flatMap(({ role, name, path, line }) => {
    const kind = tracedKinds[role];
    return kind === undefined ? [] : [{ kind, name, path, line }];
  });
}

/** A part of a closed outline with one kind of edge, in the direction of the outline. */
export interface EdgeStretch {
  readonly kind: EdgeKind;
  /** The name of its trace; null: it has no trace, or one without a name. */
  readonly name: string | null;
  /** Lengths along the outline, mm from its start. `to` <= `from`: the part goes across the start. */
  readonly from: number;
  readonly to: number;
  readonly path: Path;
}

interface Claim extends Pick<TracedLine, 'kind' | 'name' | 'line'> {
  readonly from: number;
  /**
   * Always more than `from`, by up to one length of the outline: it exceeds that length if the claim goes
   * across the start.
   */
  readonly to: number;
}

/**
 * Divides an outline (closed, counter-clockwise) into stretches by what its traces claim, in order round
 * it. `unclaimed` is the kind of edge wherever no trace lies; null: every part must be traced.
 *
 * A trace that is too short, strays from the outline, jumps from one part of it to another or doubles
 * back is a finding, and then there are no stretches at all. Otherwise findings name what is claimed
 * twice or not at all.
 */
export function claimEdges(
  outline: Path,
  traces: readonly TracedLine[],
  unclaimed: EdgeKind | null,
  where: Place,
): { stretches: EdgeStretch[]; findings: Finding[] } {
  const measured = measurePath(outline);
  const findings: Finding[] = [];
  const claims: Claim[] = [];
  for (const trace of traces) {
    const claim = claimOf(measured, trace, where);
    if ('rule' in claim) findings.push(claim);
    else claims.push(claim);
  }
  if (findings.length > 0) return { stretches: [], findings };
  claims.sort((a, b) => a.from - b.from);
  return {
    stretches: stretchesOf(measured, claims, unclaimed),
    findings: [
      ...claimedTwice(measured, claims, where),
      ...(unclaimed === null ? notClaimed(measured, claims, where) : []),
    ],
  };
}

/**
 * The part of the outline that a trace claims, in whichever direction it was drawn; or what is wrong with
 * the trace.
 */
function claimOf(outline: MeasuredPath, trace: TracedLine, where: Place): Claim | Finding {
  const { kind, name, line, path } = trace;
  if (pathLength(path) <= traceTolerance) return tooShort(trace, where);
  const following = followPath(outline, path, traceTolerance);
  const problem = misled(trace, following, outline.length, where);
  if (problem !== null) return problem;
  const { length } = outline;
  if (path.closed) return { kind, name, line, from: 0, to: length };
  const { from: first, advance } = following;
  const start = advance > 0 ? first : first + advance + (first + advance < 0 ? length : 0);
  const [from, to] = [
    snapToCorner(outline, start),
    snapToCorner(outline, start + Math.abs(advance)),
  ];
  if (to <= from) return tooShort(trace, where);
  const round = from >= length ? length : 0;
  return { kind, name, line, from: from - round, to: Math.min(to - round, from - round + length) };
}

/**
 * A length along the outline, moved to the nearest corner if that is within the tolerance. It may exceed
 * the length of the outline by up to that length.
 */
function snapToCorner(outline: MeasuredPath, at: number): number {
  const round = at >= outline.length ? outline.length : 0;
  const corner = cornerNear(outline, at - round) + round;
  return Math.abs(corner - at) <= traceTolerance ? corner : at;
}

/** A claim and the one that follows it round the outline. */
interface Joint {
  readonly claim: Claim;
  /**
   * The claim that follows. If it lies beyond the start of the outline, the outline's length is added to
   * its `from` and `to`.
   */
  readonly next: Claim;
  /**
   * How far the claims up to this one reach, mm along the outline, and the claim that reaches so far. It
   * may be an earlier one, if a claim lies within another.
   */
  readonly reach: number;
  readonly reaching: Claim;
}

function jointsOf(claims: readonly Claim[], length: number): Joint[] {
  const later = (a: Claim, b: Claim): Claim => (b.to > a.to ? b : a);
  const round = (claim: Claim, by: number): Claim => ({
    ...claim,
    from: claim.from + by,
    to: claim.to + by,
  });
  if (claims.length === 0) return [];
  let reaching = round(claims.reduce(later), -length);
  return claims.map((claim, i) => {
    reaching = later(reaching, claim);
    const next = claims[i + 1] ?? round(claims[0]!, length);
    return { claim, next, reach: reaching.to, reaching };
  });
}

function stretchesOf(
  outline: MeasuredPath,
  claims: readonly Claim[],
  unclaimed: EdgeKind | null,
): EdgeStretch[] {
  const { length } = outline;
  const stretch = (
    { kind, name }: Pick<EdgeStretch, 'kind' | 'name'>,
    from: number,
    to: number,
  ) => {
    const [begin, end] = [from % length, to % length];
    return { kind, name, from: begin, to: end, path: stretchAlong(outline, begin, end) };
  };
  const plain = unclaimed === null ? null : { kind: unclaimed, name: null };
  if (claims.length === 0) return plain === null ? [] : [stretch(plain, 0, 0)];
  return jointsOf(claims, length).flatMap(({ claim, next, reach }) => {
    // The two ends were meant to meet: the start of the next claim is taken for both.
    const meets = Math.abs(next.from - claim.to) <= traceTolerance;
    const own = stretch(claim, claim.from, meets ? next.from : claim.to);
    if (plain === null || next.from - reach <= traceTolerance) return [own];
    return [own, stretch(plain, reach, next.from)];
  });
}

function claimedTwice(outline: MeasuredPath, claims: readonly Claim[], where: Place): Finding[] {
  return jointsOf(claims, outline.length).flatMap(({ next, reach, reaching }): Finding[] => {
    const overlap = Math.min(reach, next.to) - next.from;
    if (overlap <= traceTolerance) return [];
    return [
      {
        severity: 'error',
        rule: 'edge-claimed-twice',
        message: `${overlap.toFixed(1)} mm of edge are claimed by this ${layerOf(reaching)} line and by the ${layerOf(next)} line at line ${next.line} (${traceTolerance} mm allowed).`,
        todo: 'Trim one of the two lines.',
        where: { ...where, line: reaching.line, at: pointAlong(outline, next.from) },
      },
    ];
  });
}

function notClaimed(outline: MeasuredPath, claims: readonly Claim[], where: Place): Finding[] {
  const gaps =
    claims.length === 0
      ? [{ from: 0, length: outline.length }]
      : jointsOf(claims, outline.length).map(({ next, reach }) => ({
          from: reach,
          length: next.from - reach,
        }));
  return gaps
    .filter(({ length }) => length > traceTolerance)
    .map(({ from, length }) => ({
      severity: 'error',
      rule: 'edge-not-claimed',
      message: `${length.toFixed(1)} mm of edge are neither bound, sewn, tucked, turned nor raw (${traceTolerance} mm allowed).`,
      todo: 'Trace the stretch on BOUND, SEAM, TUCK, TURNED or RAW, or give the piece "edge:" in its set file.',
      where: { ...where, at: pointAlong(outline, from) },
    }));
}

function pointAlong(outline: MeasuredPath, at: number): Point {
  const { length } = outline;
  const { x, y } = placeAlong(outline, ((at % length) + length) % length).point;
  return { x, y };
}

function layerOf({ kind }: Pick<TracedLine, 'kind'>): string {
  return kind.toUpperCase();
}

function wrongTrace(
  trace: TracedLine,
  where: Place,
  rule: string,
  words: string,
  todo: string,
  { x, y }: Point,
): Finding {
  const message = `this ${layerOf(trace)} line ${words}.`;
  return {
    severity: 'error',
    rule,
    message,
    todo,
    where: { ...where, line: trace.line, at: { x, y } },
  };
}

function tooShort(trace: TracedLine, where: Place): Finding {
  const words = `is ${pathLength(trace.path).toFixed(2)} mm long and claims less than the ${traceTolerance} mm by which a trace may be off`;
  const todo = 'Trace the whole stretch, or remove what was left over.';
  return wrongTrace(trace, where, 'edge-too-short', words, todo, trace.path.vertices[0]!);
}

/** A finding if a trace leaves the outline, jumps over a part of it, or goes over a part twice. */
function misled(
  trace: TracedLine,
  { furthest, jump, back, advance }: Following,
  length: number,
  where: Place,
): Finding | null {
  const allowed = `(${traceTolerance} mm allowed)`;
  const mm = (value: number): string => `${value.toFixed(1)} mm`;
  if (furthest.distance > traceTolerance) {
    const words = `strays up to ${mm(furthest.distance)} from the outline, along ${mm(furthest.length)} ${allowed}`;
    const todo = 'Trace it along the outline again, snapping to it.';
    return wrongTrace(trace, where, 'edge-strays', words, todo, furthest.at);
  }
  if (jump.length > jumpAllowed) {
    const words = `jumps over ${mm(jump.length)} of the outline from one part of it to another (${jumpAllowed} mm allowed)`;
    const todo = 'Trace all of the edge, round what lies between.';
    return wrongTrace(trace, where, 'edge-jumps', words, todo, jump.at);
  }
  if (back.length > traceTolerance) {
    const words = `doubles back over ${mm(back.length)} of the outline ${allowed}`;
    return wrongTrace(
      trace,
      where,
      'edge-doubles-back',
      words,
      'Trace it in one direction.',
      back.at,
    );
  }
  const over = Math.abs(advance) - length;
  if (over <= traceTolerance) return null;
  const words = `goes round the outline and ${mm(over)} further ${allowed}`;
  const end = trace.path.vertices.at(-1)!;
  return wrongTrace(trace, where, 'edge-doubles-back', words, 'End it where it began.', end);
}
