import type { Finding } from '../../base/findings.ts';
import { errorFinding, Refusal } from '../../base/findings.ts';
import { alongPath } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { partsOfPiece } from '../../handing/derive.ts';
import type { Order } from '../../handing/order.ts';
import type { Part } from '../../handing/part.ts';
import { checkFit, drawnAt, isRing } from '../../handing/rules/seam-fit.ts';
import type { SeamNotch } from '../../handing/seams/seam-notches.ts';
import { drawnAlike, notchesOfJoin, seamNotches } from '../../handing/seams/seam-notches.ts';
import type { Join, SewnEdge } from '../../handing/seams/seams.ts';
import {
  lengthOfSewn,
  partsByPiece,
  pieceOfReference,
  seamsOf,
} from '../../handing/seams/seams.ts';
import { positionsOf } from '../../handing/sides.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import type { SetContent } from '../../pattern/set-file.ts';
import type { PatternSet } from '../../pattern/set.ts';

/** A seam as somebody asks about it: it may stand in the set file or not yet. */
export type AskedSeam = Pick<SetContent['seams'][number], 'join' | 'ease'>;

/** A notch on one of the two edges. */
interface NotchOnSeam {
  /** mm along its edge from the end where the two are begun to be sewn together. */
  readonly from: number;
  /** Its place on the net outline, in the frame of the block of its piece. */
  readonly at: Point;
}

/** A notch that meets none, and where the other piece has none. */
interface LoneNotch extends NotchOnSeam {
  /** On which of the two edges it is. */
  readonly edge: 0 | 1;
  /** The place of the other edge that it meets, in the frame of the block of that piece. */
  readonly there: Point;
}

/** How two edges that are sewn together fit. Lengths in mm, net. The first edge is that of the first reference. */
interface SeamFit {
  /** The names of the parts: those of a pair are sewn on each side of the vehicle. */
  readonly parts: readonly [string, string];
  readonly lengths: readonly [number, number];
  /** How much longer the second edge is; negative: shorter. */
  readonly difference: number;
  /** By how much they may differ. */
  readonly ease: number;
  readonly isLengthSound: boolean;
  /**
   * The end of each edge where they are begun to be sewn together, in the frame of its block. Carpet is never
   * flipped and outlines run counter-clockwise, so the start of one edge always meets the end of the other.
   */
  readonly begin: readonly [Point, Point];
  readonly end: readonly [Point, Point];
  /** The notches on each edge, from the beginning. */
  readonly notches: readonly [readonly NotchOnSeam[], readonly NotchOnSeam[]];
  /** Those that meet. `difference`: how much further along the second one stands, when ease is spread evenly. */
  readonly met: readonly {
    readonly notches: readonly [NotchOnSeam, NotchOnSeam];
    readonly difference: number;
  }[];
  /** Those that meet none within the ease. None where an edge is a whole outline: it has no ends. */
  readonly unmet: readonly LoneNotch[];
}

export interface SeamFits {
  /** Empty: the findings say why. */
  readonly fits: readonly SeamFit[];
  /** What the rules for seams say of it, and why it could not be judged. */
  readonly findings: readonly Finding[];
}

/** A join of two parts, with what is needed to go on with it. */
export interface JudgedJoin {
  readonly join: Join;
  /** Which of its parts are mirror images of what is drawn. */
  readonly mirrored: readonly [boolean, boolean];
  /** The set with that seam in it, and with every edge decided. */
  readonly patterns: PatternSet;
}

/**
 * How the edges of a seam fit, in every place of the vehicle where it is sewn, for the hand that is drawn. The
 * edges are found by the rules for all seams of the set. What nothing says yet is taken for raw: it is none of
 * the seam.
 */
export function seamFacts(patterns: PatternSet, materials: Materials, seam: AskedSeam): SeamFits {
  const { joins, findings } = judgedJoins(patterns, materials, seam);
  return {
    fits: joins.map((one) => fitOf(one, materials)),
    findings: [
      ...findings,
      ...joins.flatMap(({ join, patterns: all }) => checkFit(join, all, materials)),
    ],
  };
}

/** The joins that a seam makes. Findings: why it makes none, or that it fits several edges. */
export function judgedJoins(
  patterns: PatternSet,
  materials: Materials,
  seam: AskedSeam,
): { joins: JudgedJoin[]; findings: Finding[] } {
  const { all, index } = withSeam(patterns, seam);
  const named = new Set(all.content.seams.flatMap(({ join }) => join.map(pieceOfReference)));
  const own = new Set(seam.join.map(pieceOfReference));
  const findings: Finding[] = [];
  const parts = all.pieces.flatMap((piece): readonly Part[] => {
    if (!named.has(piece.name)) return [];
    try {
      const made = partsOfPiece(piece, all, asDrawn(all), materials);
      if (own.has(piece.name)) findings.push(...made.findings);
      return made.parts;
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (own.has(piece.name)) findings.push(...error.findings);
      return [];
    }
  });
  const found = seamsOf(partsByPiece(parts), all.content);
  const joins = found.joins
    .filter((join) => join.seam === index)
    .map(({ edges, ...join }): JudgedJoin => ({
      join: { ...join, edges },
      mirrored: [isMirror(edges[0].part, all), isMirror(edges[1].part, all)],
      patterns: all,
    }));
  const words = seam.join.join(' – ');
  if (found.ambiguities.some((one) => one.seam === index)) {
    findings.push(
      errorFinding(
        'seam-several',
        `the seam ${words} fits several edges of a piece.`,
        'Give each edge a name of its own, and choose one.',
      ),
    );
  } else if (joins.length === 0 && findings.length === 0) {
    findings.push(
      errorFinding(
        'seam-edge',
        `the seam ${words} joins nothing: an edge of that name is missing, or no two parts meet.`,
        'Choose a stretch of the kind seam on each piece, and look at their sides.',
      ),
    );
  }
  return { joins, findings };
}

/** The set with a seam among those of its set file, and with a kind for every stretch. */
function withSeam(patterns: PatternSet, seam: AskedSeam): { all: PatternSet; index: number } {
  const { content } = patterns;
  const known = content.seams.findIndex(({ join }) => isSameJoin(join, seam.join));
  const index = known === -1 ? content.seams.length : known;
  const pieces = patterns.pieces.map((piece) => ({
    ...piece,
    entry: { ...piece.entry, edge: piece.entry.edge ?? ('raw' as const) },
  }));
  const asked = { ...content.seams[known], ...seam };
  const seams = content.seams.toSpliced(index, 1, asked);
  return { all: { ...patterns, pieces, content: { ...content, seams } }, index };
}

/** Whether two seams join the same edges, in whichever order. */
export function isSameJoin(a: readonly [string, string], b: readonly [string, string]): boolean {
  return (a[0] === b[0] && a[1] === b[1]) || (a[0] === b[1] && a[1] === b[0]);
}

/** An order for what is drawn, and for nothing that goes with carpets. */
function asDrawn({ name, content }: PatternSet): Order {
  return {
    order: 'drawn',
    set: name,
    hand: content.drawn,
    quantity: 1,
    heelPads: 'none',
    boards: false,
    underlay: false,
  };
}

function isMirror({ piece, side, hand }: Part, { pieces, content }: PatternSet): boolean {
  const { entry } = pieces.find(({ name }) => name === piece)!;
  const position = positionsOf(entry, content.drawn, hand).find((one) => one.side === side);
  return position?.mirrored ?? false;
}

/**
 * How far a place of a sewn edge, mm along it, is from the end where the seam is begun; and the other way
 * round. It is begun where the first edge starts as it is drawn, so that both sides of a pair are measured
 * alike. An edge across the middle of which each side takes a half is begun at both of its ends.
 */
function fromBegin({ join, mirrored }: JudgedJoin, edge: 0 | 1, along: number): number {
  const isReversed = join.edges[0].part.side === null ? mirrored[1] : mirrored[0];
  const isForward = (edge === 0) !== isReversed;
  return isForward ? along : lengthOfSewn(join.edges[edge]) - along;
}

/** The place of a sewn edge so many mm from the end where the seam is begun, in the frame of its block. */
export function placeOnSeam(judged: JudgedJoin, edge: 0 | 1, from: number): Point {
  return placeOnEdge(judged.join.edges[edge], fromBegin(judged, edge, from), judged.patterns);
}

/** Both ends of a sewn edge in the frame of its block, in the direction of the outline that is drawn there. */
export function sewnEnds({ join, mirrored, patterns }: JudgedJoin, edge: 0 | 1): [Point, Point] {
  const sewn = join.edges[edge];
  const [start, end] = [0, lengthOfSewn(sewn)].map((along) => placeOnEdge(sewn, along, patterns));
  return mirrored[edge] ? [end!, start!] : [start!, end!];
}

function placeOnEdge({ part, edge, from }: SewnEdge, along: number, patterns: PatternSet): Point {
  return drawnAt(part, alongPath(edge.path, from + along).point, patterns);
}

function fitOf(judged: JudgedJoin, materials: Materials): SeamFit {
  const { join, patterns } = judged;
  const { content } = patterns;
  const [one, other] = join.edges;
  const lengths = [lengthOfSewn(one), lengthOfSewn(other)] as const;
  const ease = content.seams[join.seam]!.ease ?? content.ease;
  const hasEnds = !isRing(one.edge) && !isRing(other.edge);
  const on = (edge: 0 | 1, { along, at }: SeamNotch): NotchOnSeam => ({
    from: fromBegin(judged, edge, along),
    at: drawnAt(join.edges[edge].part, at, patterns),
  });
  const all = ([0, 1] as const).map((edge) =>
    seamNotches(join.edges[edge], materialOf(materials, join.edges[edge].part.material))
      .map((notch) => on(edge, notch))
      .sort((a, b) => a.from - b.from),
  ) as [NotchOnSeam[], NotchOnSeam[]];
  const { met, unmet } = notchesOfJoin(join, content, materials);
  const lone = (edge: 0 | 1): LoneNotch[] =>
    unmet[edge].map((notch) => {
      const own = on(edge, notch);
      const meets = (own.from / lengths[edge]) * lengths[1 - edge]!;
      return { ...own, edge, there: placeOnSeam(judged, edge === 0 ? 1 : 0, meets) };
    });
  return {
    parts: [one.part.name, other.part.name],
    lengths,
    difference: lengths[1] - lengths[0],
    ease,
    isLengthSound: Math.abs(lengths[1] - lengths[0]) <= ease + drawnAlike,
    begin: [placeOnSeam(judged, 0, 0), placeOnSeam(judged, 1, 0)],
    end: [placeOnSeam(judged, 0, lengths[0]), placeOnSeam(judged, 1, lengths[1])],
    notches: all,
    met: hasEnds
      ? met.map(([first, second]) => {
          const notches = [on(0, first), on(1, second)] as const;
          const meant = (notches[0].from / lengths[0]) * lengths[1];
          return { notches, difference: notches[1].from - meant };
        })
      : [],
    unmet: hasEnds ? [...lone(0), ...lone(1)] : [],
  };
}
