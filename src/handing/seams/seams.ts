import { widthOf } from '../../geometry/paths/box.ts';
import { alongPath, boxOfPath, middleOfPath, pathLength } from '../../geometry/paths/path.ts';
import { traceTolerance } from '../../pattern/edges.ts';
import type { SetContent } from '../../pattern/set-file.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { Side } from '../../pattern/words.ts';
import { otherSide, sides } from '../../pattern/words.ts';
import type { Edge, Part } from '../part.ts';

export type PartsByPiece = ReadonlyMap<string, readonly Part[]>;

/** One of the two edges of a seam. */
export interface SewnEdge {
  readonly part: Part;
  readonly edge: Edge;
  /** From where to where the edge is sewn, mm along it from its start. */
  readonly from: number;
  readonly to: number;
}

/** Two edges that are sewn together, face to face. */
export interface Join {
  /** The index of the seam in the set file's list. */
  readonly seam: number;
  readonly edges: readonly [SewnEdge, SewnEdge];
}

/** Several edges of a part that a seam could mean, when it can only mean one. */
export interface Ambiguity {
  readonly seam: number;
  readonly part: Part;
  readonly edges: readonly Edge[];
}

/** Which edge is sewn to which, in one set for one hand. */
export interface Seams {
  readonly joins: readonly Join[];
  readonly ambiguities: readonly Ambiguity[];
}

/** The carpet parts, by the name of their piece. */
export function partsByPiece(parts: readonly Part[]): PartsByPiece {
  const pieces = new Map<string, Part[]>();
  for (const part of parts) {
    if (part.kind !== 'piece') continue;
    const known = pieces.get(part.piece);
    if (known === undefined) pieces.set(part.piece, [part]);
    else known.push(part);
  }
  return pieces;
}

/**
 * Finds the edges that the seams of a set join. `pieces` must be the parts of one set.
 * - Two parts with sides are joined if they are on the same side. A pair that is joined to itself is
 *   joined left to right.
 * - A centre part is joined to a part with a side by an edge that lies on that side or across the
 *   middle. An edge across the middle that meets a left and a right part is shared: half of it is sewn to
 *   each.
 * - Two centre parts are joined once; or, if a reference names several edges, one by one where these
 *   lie on the same side or both across the middle.
 * - Copies of a piece are joined one by one: the first to the first.
 */
export function seamsOf(pieces: PartsByPiece, { seams }: Pick<SetContent, 'seams'>): Seams {
  const found = seams.map(({ join }, seam) => {
    const [one, other] = join.map((ref) => pieces.get(pieceOfReference(ref)) ?? []);
    const lanes = facing(one!, other!, join[0] === join[1]).flatMap(([a, b]) =>
      lanesOf(a, b, join).map(([first, second]) => ({ seam, a, b, first, second })),
    );
    return { joins: lanes.flatMap(joinOf), ambiguities: lanes.flatMap(ambiguitiesOf) };
  });
  return {
    joins: shared(found.flatMap(({ joins }) => joins)),
    ambiguities: found.flatMap(({ ambiguities }) => ambiguities),
  };
}

/** The name of the piece in a reference `piece` or `piece/edge`. */
export function pieceOfReference(ref: string): string {
  return ref.split('/')[0]!;
}

/** The seam edges of a part that a reference names. If it names no edge, all of them. */
export function edgesNamed({ edges }: Part, ref: string): Edge[] {
  const name = ref.split('/')[1];
  return edges.filter((edge) => edge.kind === 'seam' && (name ?? edge.name) === edge.name);
}

/** Whether any of the parts has an edge that a reference names. */
export function hasEdge(parts: readonly Part[], ref: string): boolean {
  return parts.some((part) => edgesNamed(part, ref).length > 0);
}

/** Whether a reference names an edge that its piece has with some options. */
export function isOptionalEdge({ pieces }: Pick<PatternSet, 'pieces'>, ref: string): boolean {
  const [name, edge] = ref.split('/');
  const piece = pieces.find((one) => one.name === name);
  const drawn = piece?.forAll?.features ?? [];
  return drawn.some((one) => one.role === 'SEAM' && (edge ?? one.name) === one.name);
}

/** The seam edges of parts that no join has. */
export function unsewnEdges(pieces: PartsByPiece, { joins }: Seams): { part: Part; edge: Edge }[] {
  const sewn = new Map<Part, Set<Edge>>();
  for (const { part, edge } of joins.flatMap(({ edges }) => edges)) {
    sewn.set(part, (sewn.get(part) ?? new Set()).add(edge));
  }
  return [...pieces.values()]
    .flat()
    .flatMap((part) =>
      part.edges
        .filter((edge) => edge.kind === 'seam' && sewn.get(part)?.has(edge) !== true)
        .map((edge) => ({ part, edge })),
    );
}

/** The length of the sewn part of an edge, mm. */
export function lengthOfSewn({ from, to }: SewnEdge): number {
  return to - from;
}

/**
 * The pairs of parts of two pieces that can meet, copy by copy. `itself`: the two pieces are the same
 * one.
 */
function facing(one: readonly Part[], other: readonly Part[], itself: boolean): [Part, Part][] {
  const places = [null, ...sides];
  return places.flatMap((a) =>
    places.flatMap((b): [Part, Part][] => {
      const meet = itself ? a === 'left' && b === 'right' : a === null || b === null || a === b;
      if (!meet) return [];
      const copies = other.filter(({ side }) => side === b);
      const ours = one.filter(({ side }) => side === a).slice(0, copies.length);
      return ours.map((part, i) => [part, copies[i]!]);
    }),
  );
}

/**
 * Which edges of one part may be joined to which edges of the other, in lanes: each lane should have one
 * edge of each part. If two centre parts have several edges, those that lie on the same side, or both
 * across the middle, are put into one lane.
 */
function lanesOf(a: Part, b: Part, join: readonly [string, string]): [Edge[], Edge[]][] {
  const first = edgesNamed(a, join[0]);
  const second = edgesNamed(b, join[1]);
  const side = a.side ?? b.side;
  if (side !== null) return [[towards(a, first, side), towards(b, second, side)]];
  const alike = [null, ...sides].map((place): [Edge[], Edge[]] => [
    first.filter((edge) => lying(edge) === place),
    second.filter((edge) => lying(edge) === place),
  ]);
  const several = first.length > 1 || second.length > 1;
  return several && alike.some(isClear) ? alike : [[first, second]];
}

function isClear([first, second]: [Edge[], Edge[]]): boolean {
  return first.length === 1 && second.length === 1;
}

/**
 * The edges with which a part can meet another part on a side of the vehicle: on a centre part not those
 * on the other side.
 */
function towards(part: Part, edges: readonly Edge[], side: Side): Edge[] {
  return edges.filter((edge) => part.side !== null || lying(edge) !== otherSide(side));
}

/**
 * The side of the vehicle on which an edge lies. null: it lies across the middle, which its own middle
 * misses by no more than a quarter of its width.
 */
function lying({ path }: Edge): Side | null {
  const { x } = middleOfPath(path);
  if (Math.abs(x) <= Math.max(traceTolerance, widthOf(boxOfPath(path)) / 4)) return null;
  return x < 0 ? 'left' : 'right';
}

interface Lane {
  readonly seam: number;
  readonly a: Part;
  readonly b: Part;
  readonly first: readonly Edge[];
  readonly second: readonly Edge[];
}

function joinOf({ seam, a, b, first, second }: Lane): Join[] {
  if (first.length !== 1 || second.length !== 1) return [];
  return [{ seam, edges: [wholeEdge(a, first[0]!), wholeEdge(b, second[0]!)] }];
}

function ambiguitiesOf({ seam, a, b, first, second }: Lane): Ambiguity[] {
  return [
    ...(first.length > 1 ? [{ seam, part: a, edges: first }] : []),
    ...(second.length > 1 ? [{ seam, part: b, edges: second }] : []),
  ];
}

function wholeEdge(part: Part, edge: Edge): SewnEdge {
  return { part, edge, from: 0, to: pathLength(edge.path) };
}

/** Gives an edge of a centre part that meets a left and a right part half to each. */
function shared(joins: readonly Join[]): Join[] {
  const partners = new Map<Part, Map<Edge, Set<Side | null>>>();
  for (const { edges } of joins) {
    for (const [i, { part, edge }] of edges.entries()) {
      const ofPart = partners.get(part) ?? new Map<Edge, Set<Side | null>>();
      partners.set(part, ofPart);
      const met = ofPart.get(edge) ?? new Set();
      ofPart.set(edge, met.add(edges[1 - i]!.part.side));
    }
  }
  const half = (own: SewnEdge, { part: { side } }: SewnEdge): SewnEdge => {
    const met = partners.get(own.part)!.get(own.edge)!;
    if (own.part.side !== null || side === null || !met.has(otherSide(side))) return own;
    return halfTowards(own, side);
  };
  return joins.map(({ seam, edges: [a, b] }) => ({ seam, edges: [half(a, b), half(b, a)] }));
}

function halfTowards(own: SewnEdge, side: Side): SewnEdge {
  const length = lengthOfSewn(own);
  const at = (share: number): number => alongPath(own.edge.path, length * share).point.x;
  const firstIs = at(0.25) < at(0.75) ? 'left' : 'right';
  return firstIs === side ? { ...own, to: length / 2 } : { ...own, from: length / 2 };
}
