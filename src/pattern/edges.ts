import type { Finding, Place } from '../findings.ts';
import type { Path } from '../geometry/path.ts';
import { alongPath, pathLength } from '../geometry/path.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import { lengthAt, stretchOf } from '../geometry/stretch.ts';
import type { Role } from './layers.ts';
import type { EdgeKind } from './words.ts';

/** How far a trace may lie from the outline it is traced along, and its ends from the next one's, mm. */
export const traceTolerance = 0.5;

/** The layers whose lines say what happens to an edge. */
export const tracedKinds: Readonly<Partial<Record<Role, EdgeKind>>> = {
  BOUND: 'bound',
  SEAM: 'seam',
  TUCK: 'tuck',
  TURNED: 'turned',
  RAW: 'raw',
};

/** A line drawn along the outline to say what happens to that stretch. */
export interface Trace {
  readonly kind: EdgeKind;
  /** null where no text beside it names it. */
  readonly name: string | null;
  readonly path: Path;
  readonly line: number;
}

/** A stretch of a closed outline, in the outline's direction. */
export interface Stretch {
  readonly kind: EdgeKind;
  /** As its trace is named; null where it has no trace or name. */
  readonly name: string | null;
  /** mm along the outline from its start; `to` <= `from` where it goes over the start. */
  readonly from: number;
  readonly to: number;
  readonly path: Path;
}

interface Claim extends Pick<Trace, 'kind' | 'name' | 'line'> {
  readonly from: number;
  /** Always above `from`; up to one length further round. */
  readonly to: number;
}

/**
 * The whole outline (closed, counter-clockwise) as stretches, each of one kind, in order round it.
 * `unclaimed` is what stretches are that no trace claims; null where each must be traced.
 * Findings: a trace that strays from the outline, stretches claimed twice, stretches not claimed.
 */
export function claimEdges(
  outline: Path,
  traces: readonly Trace[],
  unclaimed: EdgeKind | null,
  where: Place,
): { stretches: Stretch[]; findings: Finding[] } {
  const length = pathLength(outline);
  const findings: Finding[] = [];
  const claims: Claim[] = [];
  for (const trace of traces) {
    const stray = strayOf(outline, trace, where);
    if (stray === null) claims.push(claimOf(outline, length, trace));
    else findings.push(stray);
  }
  if (findings.length > 0) return { stretches: [], findings };
  const sorted = claims.sort((a, b) => a.from - b.from);
  const stretches: Stretch[] = [];
  const add = ({ kind, name }: Pick<Stretch, 'kind' | 'name'>, from: number, to: number): void => {
    const [begin, end] = [from % length, to % length];
    stretches.push({ kind, name, from: begin, to: end, path: stretchOf(outline, begin, end) });
  };
  if (sorted.length === 0) {
    if (unclaimed === null) findings.push(notClaimed(outline, 0, length, where));
    else add({ kind: unclaimed, name: null }, 0, 0);
  }
  for (const [i, claim] of sorted.entries()) {
    const next = sorted[i + 1] ?? { ...sorted[0]!, from: sorted[0]!.from + length };
    const left = next.from - claim.to;
    // Ends drawn to the same corner by hand: the next one's start is taken for both.
    const end = Math.abs(left) <= traceTolerance ? next.from : claim.to;
    add(claim, claim.from, end);
    if (left < -traceTolerance)
      findings.push(claimedTwice(outline, next.from, -left, claim, where));
    if (left <= traceTolerance) continue;
    if (unclaimed === null) findings.push(notClaimed(outline, claim.to % length, left, where));
    else add({ kind: unclaimed, name: null }, claim.to, next.from);
  }
  return { stretches, findings };
}

/** The stretch that a trace lies on, whichever way the trace was drawn. */
function claimOf(outline: Path, length: number, trace: Trace): Claim {
  const at = (share: number): number => {
    const { point } = alongPath(trace.path, pathLength(trace.path) * share);
    return snapToCorner(outline, length, lengthAt(outline, nearestOnPath(outline, point).station));
  };
  const { kind, name, line } = trace;
  const [first, middle, last] = [at(0), at(0.5), at(1)];
  if (trace.path.closed) return { kind, name, line, from: 0, to: length };
  const forward = isBetween(first, middle, last);
  const [from, to] = forward ? [first, last] : [last, first];
  return { kind, name, line, from, to: to > from ? to : to + length };
}

/** A length within the tolerance of a corner is the corner's; the end of the outline is its start. */
function snapToCorner(outline: Path, length: number, at: number): number {
  const corners = outline.vertices.map((_, segment) => lengthAt(outline, { segment, t: 0 }));
  const near = [...corners, length].find((corner) => Math.abs(corner - at) <= traceTolerance);
  return (near ?? at) % length;
}

/** Whether going round from a one comes by b before c. */
function isBetween(a: number, b: number, c: number): boolean {
  return a < c ? a < b && b < c : b > a || b < c;
}

/** Looks along the trace every few millimetres: is it on the outline all the way? */
function strayOf(outline: Path, { path, kind, line }: Trace, where: Place): Finding | null {
  const length = pathLength(path);
  const count = Math.max(2, Math.ceil(length / 5));
  let worst = { distance: 0, at: path.vertices[0]! as { x: number; y: number } };
  for (let i = 0; i <= count; i++) {
    const { point } = alongPath(path, (length * i) / count);
    const { distance } = nearestOnPath(outline, point);
    if (distance > worst.distance) worst = { distance, at: point };
  }
  if (worst.distance <= traceTolerance) return null;
  return {
    severity: 'error',
    rule: 'edge-strays',
    message: `this ${kind.toUpperCase()} line strays ${worst.distance.toFixed(1)} mm from the outline (${traceTolerance} mm allowed).`,
    todo: 'Trace it along the outline again, snapping to it.',
    where: { ...where, line, at: worst.at },
  };
}

function notClaimed(outline: Path, from: number, length: number, where: Place): Finding {
  return {
    severity: 'error',
    rule: 'edge-not-claimed',
    message: `${length.toFixed(1)} mm of edge are neither bound, sewn, tucked, turned nor raw.`,
    todo: 'Trace the stretch on BOUND, SEAM, TUCK, TURNED or RAW, or give the piece "edge:" in its set file.',
    where: { ...where, at: alongPath(outline, from).point },
  };
}

function claimedTwice(
  outline: Path,
  from: number,
  length: number,
  claim: Claim,
  where: Place,
): Finding {
  const at = alongPath(outline, from % pathLength(outline)).point;
  return {
    severity: 'error',
    rule: 'edge-claimed-twice',
    message: `${length.toFixed(1)} mm of edge are claimed by this ${claim.kind.toUpperCase()} line and by another.`,
    todo: 'Trim one of the two lines.',
    where: { ...where, line: claim.line, at },
  };
}
