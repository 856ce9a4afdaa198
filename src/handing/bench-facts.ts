import type { Path } from '../geometry/path.ts';
import { pathLength } from '../geometry/path.ts';
import type { Turn } from '../geometry/turns.ts';
import { turnsOf } from '../geometry/turns.ts';
import type { Binding } from '../pattern/binding.ts';
import type { PatternSet } from '../pattern/set.ts';
import type { EdgeKind } from '../pattern/words.ts';
import { edgeKinds } from '../pattern/words.ts';
import type { Part } from './part.ts';
import { runsOf } from './runs.ts';
import type { Join } from './seams.ts';
import { lengthOfSewn, partsByPiece, seamsOf } from './seams.ts';

/** The tape that a part needs, mm. */
export interface TapeFacts {
  /** Bound edges, net. */
  readonly length: number;
  /** Unbroken bound stretches round the outline: each is begun and ended once. */
  readonly runs: number;
  /** For all runs together. */
  readonly joining: number;
  /** For tight curves and corners. */
  readonly extra: number;
  /** What to cut off the roll of tape. */
  readonly total: number;
}

/** One seam of a part, seen from it. */
export interface SeamFacts {
  /** The other part, by its name in the set. */
  readonly partner: string;
  /** null where the pattern names none. */
  readonly edge: string | null;
  readonly partnerEdge: string | null;
  /** mm, net. */
  readonly length: number;
  /** mm by which the partner's edge is longer; negative where it is shorter. To be eased in. */
  readonly ease: number;
}

/** What the bench has to do at a part. Lengths in mm, net. */
export interface BenchFacts {
  /** The part, by its name in the set. */
  readonly part: string;
  /** Of the outline, by what happens there. */
  readonly edges: Readonly<Record<EdgeKind, number>>;
  /** null where nothing is bound, or the set names no tape. */
  readonly tape: TapeFacts | null;
  readonly seams: readonly SeamFacts[];
  /** Of all stitch lines. */
  readonly stitch: number;
}

/** The bench's facts of each part, in the order of the parts. `parts` are those of one set. */
export function benchFacts(
  parts: readonly Part[],
  { sheet, binding }: Pick<PatternSet, 'sheet' | 'binding'>,
): BenchFacts[] {
  const { joins } = seamsOf(partsByPiece(parts), sheet);
  return parts.map((part) => ({
    part: part.name,
    edges: edgeLengths(part),
    tape: binding === null ? null : tapeFor(part, binding),
    seams: joins.flatMap((join) => seamsFrom(part, join)),
    stitch: sum(part.marks.filter(({ role }) => role === 'STITCH').map(({ path }) => path)),
  }));
}

function sum(paths: readonly Path[]): number {
  return paths.reduce((total, path) => total + pathLength(path), 0);
}

function edgeLengths({ edges }: Part): Record<EdgeKind, number> {
  const lengthOf = (wanted: EdgeKind): number =>
    sum(edges.filter(({ kind }) => kind === wanted).map(({ path }) => path));
  const lengths = edgeKinds.map((kind) => [kind, lengthOf(kind)]);
  return Object.fromEntries(lengths) as Record<EdgeKind, number>;
}

/**
 * The tape for a part's bound edges; null where it has none. Total = net length of the runs
 * + joining for each run + extra, where extra is a share of the length of every curve tighter than
 * the tape's `tightRadius`, and of tightRadius times the turn (in radians) at each sharp corner.
 */
export function tapeFor({ edges }: Part, binding: Binding): TapeFacts | null {
  const runs = runsOf(edges, 'bound');
  if (runs.length === 0) return null;
  const length = sum(runs);
  const joining = runs.length * binding.joining;
  const extra = runs.flatMap(turnsOf).reduce((total, turn) => total + extraAt(turn, binding), 0);
  return { length, runs: runs.length, joining, extra, total: length + joining + extra };
}

function extraAt({ radius, length, turn }: Turn, { tightRadius, tightExtra }: Binding): number {
  if (radius >= tightRadius) return 0;
  return tightExtra * (radius === 0 ? tightRadius * Math.abs(turn) : length);
}

function seamsFrom(part: Part, { edges: [one, other] }: Join): SeamFacts[] {
  return [
    [one, other],
    [other, one],
  ]
    .filter(([own]) => own!.part === part)
    .map(([own, partner]) => ({
      partner: partner!.part.name,
      edge: own!.edge.name,
      partnerEdge: partner!.edge.name,
      length: lengthOfSewn(own!),
      ease: lengthOfSewn(partner!) - lengthOfSewn(own!),
    }));
}
