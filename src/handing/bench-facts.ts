import type { Box } from '../geometry/paths/box.ts';
import { boxContains, centreOf, growBox, sameBox } from '../geometry/paths/box.ts';
import { boxOfPath, pathLength, polyline } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { pathCrossings } from '../geometry/relations/crossings.ts';
import { stretchOf } from '../geometry/paths/stretch.ts';
import type { HeadingChange } from '../geometry/paths/turns.ts';
import { turnsOf } from '../geometry/paths/turns.ts';
import type { Binding } from '../pattern/shop/binding.ts';
import type { Materials } from '../pattern/shop/material.ts';
import { materialOf } from '../pattern/shop/material.ts';
import type { PatternSet } from '../pattern/set.ts';
import type { EdgeKind } from '../pattern/words.ts';
import { edgeKinds } from '../pattern/words.ts';
import { besidePad } from './features.ts';
import type { Part } from './part.ts';
import { unbrokenEdges } from './edges/unbroken.ts';
import { notchesOfJoin } from './seams/seam-notches.ts';
import type { Join, SewnEdge } from './seams/seams.ts';
import { lengthOfSewn, partsByPiece, seamsOf, unsewnEdges } from './seams/seams.ts';

/** The tape that a part needs, mm. */
export interface TapeFacts {
  /** Length of the bound edges along the net outline. */
  readonly length: number;
  /** How many unbroken bound stretches there are. The tape is begun and ended once on each. */
  readonly runs: number;
  /** Tape added for joining its ends, for all stretches together. */
  readonly joining: number;
  /** Tape added for tight curves and corners. */
  readonly extra: number;
  /** Length of tape to cut off its roll. */
  readonly total: number;
  /** The lengths to cut, one for each stretch. */
  readonly pieces: readonly number[];
}

/** One seam, as seen from one of its two parts. */
export interface SeamFacts {
  /**
   * The letter that stands at the seam on both parts: A, B ... Z, AA ... Each seam of a set has its own.
   */
  readonly letter: string;
  /** The other part, by its name in the set. */
  readonly partner: string;
  /** The name of the part's edge. null: it has none. The same holds for `partnerEdge`. */
  readonly edge: string | null;
  readonly partnerEdge: string | null;
  /** Length that is sewn on this part, net, mm. */
  readonly length: number;
  /** How much longer the partner's edge is, mm; negative: shorter. The difference is eased in. */
  readonly ease: number;
  /** The part of the net outline that is sewn, in the part's frame. */
  readonly path: Path;
  /** The notches that meet a notch of the partner. Both notches have the same name: A1, A2 ... */
  readonly notches: readonly { readonly name: string; readonly at: Point }[];
}

/**
 * Where a heel pad lies on its part, as seen in the vehicle, mm. Distances are from the outermost point of the pad to the
 * edge of the part, along the two lines through the middle of the pad: there they can be measured, also where the part is
 * slanted.
 */
export interface PadFacts {
  /** The name of the pad in the set. null: the pad is only marked and is no part of its own. */
  readonly pad: string | null;
  /** How it is fixed, in the words of its material's file. null: nobody said. */
  readonly fixed: string | null;
  readonly width: number;
  readonly length: number;
  readonly fromLeft: number;
  readonly fromRight: number;
  readonly fromFront: number;
  readonly fromRear: number;
}

/** The board or the underlay that goes under a part, by its name. */
export interface UnderFacts {
  readonly kind: 'board' | 'underlay';
  readonly part: string;
  /** How it is fixed, in the words of the set file or of its material's. null: nobody said. */
  readonly fixed: string | null;
  /** By how much it is smaller than the finished part all round, mm. */
  readonly inset: number;
}

/** Edges of a carpet that are wrapped round its board, onto the board's back. mm */
interface WrapFacts {
  readonly kind: 'tuck' | 'turned';
  readonly length: number;
  /** How far the carpet stands out over the edge of the board. */
  readonly over: number;
  /** Whether the board is cut, so that anything can be wrapped round it. */
  readonly isBoardThere: boolean;
}

/** What the bench has to do with a part. Lengths in mm, net. */
export interface BenchFacts {
  /** The part, by its name in the set. */
  readonly part: string;
  /** Length of the net outline for each kind of edge. */
  readonly edges: Readonly<Record<EdgeKind, number>>;
  /** null: nothing is bound, or the set names no tape. */
  readonly tape: TapeFacts | null;
  readonly seams: readonly SeamFacts[];
  /** Length of each seam edge that is sewn to nothing, since what it meets is not there with these options. */
  readonly unsewn: readonly number[];
  /** How much the carpet is cut larger than finished at each kind of edge. A companion has none. */
  readonly added: Readonly<Record<EdgeKind, number>> | null;
  /** How its edges are held that are turned under or wrapped, in the words of its material's file. null: nobody said. */
  readonly edgesFixed: string | null;
  /** null: nothing is wrapped round a board. */
  readonly wrap: WrapFacts | null;
  /** Length of all stitch lines together, and of those among them that hold a heel pad. */
  readonly stitch: number;
  readonly stitchOnPads: number;
  readonly pads: readonly PadFacts[];
  readonly under: readonly UnderFacts[];
  /** The carpet to which a pad, board or underlay belongs. null: the part is a carpet itself. */
  readonly carpet: string | null;
}

/**
 * What the bench must know about each part, in the order of the parts. `parts` must be those of one set.
 */
export function benchFacts(
  parts: readonly Part[],
  { content, binding }: Pick<PatternSet, 'content' | 'binding'>,
  materials: Materials,
): BenchFacts[] {
  const pieces = partsByPiece(parts);
  const found = seamsOf(pieces, content);
  const unsewn = unsewnEdges(pieces, found);
  const seams = found.joins.map((join, i) => seamsFrom(join, letterOf(i), content, materials));
  return parts.map((part) => ({
    part: part.name,
    edges: edgeLengths(part),
    tape: binding === null ? null : tapeFor(part, binding),
    seams: seams.flatMap((both) =>
      both.filter((one) => one.part === part).map(({ facts }) => facts),
    ),
    unsewn: unsewn.filter((one) => one.part === part).map(({ edge }) => pathLength(edge.path)),
    added: part.kind === 'piece' ? materialOf(materials, part.material).allowances : null,
    edgesFixed: fixedOf(part, materials),
    wrap: wrapOf(part, parts, content, materials),
    ...stitchOf(part),
    pads: padsOn(part, parts, materials),
    under: (['board', 'underlay'] as const).flatMap((kind) => {
      const under = companionOf(part, kind, parts);
      if (under === undefined) return [];
      const entry = content.pieces[part.piece]?.[kind];
      const fixed = entry?.fixed ?? fixedOf(under, materials);
      return [{ kind, part: under.name, fixed, inset: entry?.inset ?? 0 }];
    }),
    carpet: carpetOf(part, parts, materials),
  }));
}

/** How a pad, board or underlay is fixed, or the edges of a carpet are held, in the words of its material's file; null: it says nothing. */
function fixedOf({ material }: Part, materials: Materials): string | null {
  return materialOf(materials, material).fixed ?? null;
}

function sum(paths: readonly Path[]): number {
  return paths.reduce((total, path) => total + pathLength(path), 0);
}

function stitchOf({ marks }: Part): Pick<BenchFacts, 'stitch' | 'stitchOnPads'> {
  const pads = marks.filter(({ role }) => role === 'PAD').map(({ path }) => boxOfPath(path));
  const lines = marks.filter(({ role }) => role === 'STITCH').map(({ path }) => path);
  const onPads = lines.filter((path) =>
    pads.some((pad) => boxContains(growBox(pad, besidePad), boxOfPath(path))),
  );
  return { stitch: sum(lines), stitchOnPads: sum(onPads) };
}

function wrapOf(
  part: Part,
  parts: readonly Part[],
  { pieces }: PatternSet['content'],
  materials: Materials,
): WrapFacts | null {
  const board = pieces[part.piece]?.board;
  const kind = board?.wraps;
  if (kind === undefined || part.kind !== 'piece') return null;
  const length = sum(part.edges.filter((edge) => edge.kind === kind).map(({ path }) => path));
  const added = materialOf(materials, part.material).allowances[kind];
  const isBoardThere = companionOf(part, 'board', parts) !== undefined;
  return length === 0 ? null : { kind, length, over: added + board!.inset, isBoardThere };
}

function edgeLengths({ edges }: Part): Record<EdgeKind, number> {
  const lengthOf = (wanted: EdgeKind): number =>
    sum(edges.filter(({ kind }) => kind === wanted).map(({ path }) => path));
  const lengths = edgeKinds.map((kind) => [kind, lengthOf(kind)]);
  return Object.fromEntries(lengths) as Record<EdgeKind, number>;
}

/**
 * The tape for a part's bound edges; null if it has none. The total is the net length of the bound
 * stretches, plus `joining` for each stretch, plus the extra for tight bends. Every curve with a radius
 * below the tape's `tightRadius` takes the share `tightExtra` of its length. A sharp corner counts as a
 * curve of radius tightRadius with the same turn.
 */
export function tapeFor({ edges }: Part, binding: Binding): TapeFacts | null {
  const runs = unbrokenEdges(edges, 'bound');
  if (runs.length === 0) return null;
  const extras = runs.map((run) =>
    turnsOf(run).reduce((total, turn) => total + extraAt(turn, binding), 0),
  );
  const length = sum(runs);
  const joining = runs.length * binding.joining;
  const extra = extras.reduce((total, one) => total + one, 0);
  const pieces = runs.map((run, i) => pathLength(run) + binding.joining + extras[i]!);
  return { length, runs: runs.length, joining, extra, total: length + joining + extra, pieces };
}

function extraAt(
  { radius, length, turn }: HeadingChange,
  { tightRadius, tightExtra }: Binding,
): number {
  if (radius >= tightRadius) return 0;
  return tightExtra * (radius === 0 ? tightRadius * Math.abs(turn) : length);
}

/** The letters of a seam, or of another thing in a row, by its index: A, B ... Z, AA, AB ... */
export function letterOf(index: number): string {
  const last = String.fromCodePoint(65 + (index % 26));
  return index < 26 ? last : letterOf(Math.floor(index / 26) - 1) + last;
}

/** A join, as seen from each of its two parts. */
function seamsFrom(
  join: Join,
  letter: string,
  content: PatternSet['content'],
  materials: Materials,
): { part: Part; facts: SeamFacts }[] {
  const { met } = notchesOfJoin(join, content, materials);
  const seen = (
    own: SewnEdge,
    partner: SewnEdge,
    side: 0 | 1,
  ): { part: Part; facts: SeamFacts } => ({
    part: own.part,
    facts: {
      letter,
      partner: partner.part.name,
      edge: own.edge.name,
      partnerEdge: partner.edge.name,
      length: lengthOfSewn(own),
      ease: lengthOfSewn(partner) - lengthOfSewn(own),
      path: stretchOf(own.edge.path, own.from, own.to),
      notches: met.map((pair, i) => ({ name: `${letter}${i + 1}`, at: pair[side].at })),
    },
  });
  const [one, other] = join.edges;
  return [seen(one, other, 0), seen(other, one, 1)];
}

/** Boxes that differ by no more than this (mm) are those of the same thing. */
const sameThing = 0.01;

function padsOn(part: Part, parts: readonly Part[], materials: Materials): PadFacts[] {
  return part.marks
    .filter(({ role }) => role === 'PAD')
    .map(({ path }) => {
      const box = boxOfPath(path);
      const isIt = ({ kind, net }: Part): boolean =>
        kind === 'pad' && sameBox(boxOfPath(net), box, sameThing);
      const pad = nthLike(part, parts, parts.filter(isIt));
      const fixed = pad === undefined ? null : fixedOf(pad, materials);
      return { pad: pad?.name ?? null, fixed, ...placeOnPart(box, part.net) };
    });
}

function placeOnPart(pad: Box, net: Path): Omit<PadFacts, 'pad' | 'fixed'> {
  const { x, y } = centreOf(pad);
  const whole = growBox(boxOfPath(net), 1);
  const across = pathCrossings(straight({ x: whole.minX, y }, { x: whole.maxX, y }), net);
  const along = pathCrossings(straight({ x, y: whole.minY }, { x, y: whole.maxY }), net);
  /** The edge next to the pad on either side of its middle. */
  const below = (places: readonly number[], middle: number): number =>
    Math.max(...places.filter((at) => at <= middle));
  const above = (places: readonly number[], middle: number): number =>
    Math.min(...places.filter((at) => at >= middle));
  const [xs, ys] = [across.map((at) => at.x), along.map((at) => at.y)];
  return {
    width: pad.maxX - pad.minX,
    length: pad.maxY - pad.minY,
    fromLeft: pad.minX - below(xs, x),
    fromRight: above(xs, x) - pad.maxX,
    fromFront: above(ys, y) - pad.maxY,
    fromRear: pad.minY - below(ys, y),
  };
}

function straight(from: Point, to: Point): Path {
  return polyline([from, to], false);
}

function isCarpetOf(one: Part, piece: string, side: Part['side']): boolean {
  return one.kind === 'piece' && one.piece === piece && one.side === side;
}

/**
 * A piece that is cut several times has as many pads, boards and underlays: the first copy goes with the
 * first, and so on.
 */
function nthLike(part: Part, parts: readonly Part[], found: readonly Part[]): Part | undefined {
  const copies = parts.filter((one) => isCarpetOf(one, part.piece, part.side));
  return found[copies.indexOf(part)];
}

function companionOf(
  part: Part,
  kind: 'board' | 'underlay',
  parts: readonly Part[],
): Part | undefined {
  if (part.kind !== 'piece') return undefined;
  const { piece, side } = part;
  const found = parts.filter(
    (one) => one.kind === kind && one.piece === piece && one.side === side,
  );
  return nthLike(part, parts, found);
}

function carpetOf(part: Part, parts: readonly Part[], materials: Materials): string | null {
  if (part.kind === 'piece') return null;
  const owner = parts.find(
    (one) =>
      companionOf(one, part.kind as 'board' | 'underlay', parts) === part ||
      padsOn(one, parts, materials).some(({ pad }) => pad === part.name),
  );
  return owner?.name ?? null;
}
