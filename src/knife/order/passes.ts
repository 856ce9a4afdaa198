import { refuse } from '../../base/findings.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { transformPath } from '../../geometry/paths/transform.ts';
import type { Edge, Part } from '../../handing/part.ts';
import type { Reach } from '../../lay/bites.ts';
import { biteSlack, bitesOf } from '../../lay/bites.ts';
import type { Lay } from '../../lay/lay.ts';
import { placementTransform } from '../../lay/lay.ts';
import { treatmentOf } from '../cuttable.ts';
import { notchCuts } from './notch-cuts.ts';
import type { Cut, CutKind } from '../cuts.ts';
import type { Cutter } from '../cutter.ts';
import type { LongContour, PathStretch } from './split.ts';
import { longContour, reachOfRest, restOf, splitContour } from './split.ts';

/** A contour to cut, in the lay's frame. Where the knife will begin is not decided yet. */
export interface ContourToCut {
  readonly label: string;
  readonly kind: CutKind;
  /** Open for a notch, otherwise closed. */
  readonly path: Path;
  /**
   * The edges of an outline; they lie on the net outline, inside the contour by the allowance. Empty for
   * every other contour.
   */
  readonly edges: readonly Edge[];
  /**
   * The stretch that is cut in this bite; the knife must then begin where it begins. Left out: the whole
   * contour is cut.
   */
  readonly stretch?: Cut['stretch'];
}

/** What is cut between two feeds, not ordered yet. */
export interface Pass {
  /** Where the bed begins, mm from the roll's start. */
  readonly start: number;
  readonly contours: readonly ContourToCut[];
}

/**
 * Everything that the knife cuts of a lay, bite by bite. Each part is cut whole in one bite, except parts
 * longer than the bed, which are cut in passes that overlap. Throws a Refusal if such a part has no
 * straight place near the end of the bed.
 */
export function passesOf(lay: Lay, parts: readonly Part[], cutter: Cutter): Pass[] {
  const laid = laidParts(lay, parts, cutter);
  const { biteLength, joinOverlap } = lay.rules;
  if (joinOverlap !== undefined && laid.some((part) => isLong(part, biteLength))) {
    return splitPasses(laid, biteLength, joinOverlap);
  }
  return bitesOf(laid, biteLength).map(({ start, items }) => ({
    start,
    contours: items.flatMap(({ contours }) => contours),
  }));
}

/** Contours that must be cut in one bite, and how far they reach along the roll. */
interface BiteGroup extends Reach {
  readonly contours: readonly ContourToCut[];
}

interface Long {
  readonly contour: ContourToCut;
  readonly left: LongContour;
}

function isLong({ minX, maxX }: Reach, biteLength: number): boolean {
  return maxX - minX > biteLength + biteSlack;
}

/**
 * Divides into bites what includes parts longer than the bed. Two ways are tried: the first bite begins
 * at the start of the roll, or where the first part begins. The way with fewer bites is taken.
 */
function splitPasses(laid: readonly BiteGroup[], biteLength: number, overlap: number): Pass[] {
  const pieces = laid.flatMap((part): BiteGroup[] =>
    isLong(part, biteLength) ? part.contours.map(itemOf) : [part],
  );
  const items = pieces.filter((item) => !isLong(item, biteLength));
  const long = pieces
    .filter((item) => isLong(item, biteLength))
    .flatMap(({ contours }) => contours)
    .map((contour) => ({ contour, left: longContour(contour.path) }));
  const first = Math.floor(Math.min(...pieces.map(({ minX }) => minX)));
  const fromStart = splitFrom(0, items, long, biteLength, overlap);
  const fromFirst = splitFrom(first, items, long, biteLength, overlap);
  return fromFirst.length < fromStart.length ? fromFirst : fromStart;
}

function itemOf(contour: ContourToCut): BiteGroup {
  const { minX, maxX } = boxOfPath(contour.path);
  return { minX, maxX, contours: [contour] };
}

function splitFrom(
  from: number,
  allItems: readonly BiteGroup[],
  allLong: readonly Long[],
  biteLength: number,
  overlap: number,
): Pass[] {
  const passes: Pass[] = [];
  let [start, items, long] = [from, allItems, allLong];
  while (items.length > 0 || long.length > 0) {
    const end = start + biteLength;
    const onBed = items.filter(({ maxX }) => maxX <= end + biteSlack);
    items = items.filter((item) => !onBed.includes(item));
    const bound = Math.min(...items.map(({ minX }) => minX));
    const isLast = bound === Infinity && long.every(({ left }) => reachOfRest(left) <= end);
    const split = isLast ? lastOf(long, overlap) : joined(long, start, end, bound, overlap);
    passes.push({
      start,
      contours: [...onBed.flatMap(({ contours }) => contours), ...split.now],
    });
    start = split.next;
    long = split.long;
  }
  return passes;
}

interface SplitBite {
  /** Where the next bite begins. */
  readonly next: number;
  readonly now: readonly ContourToCut[];
  readonly long: readonly Long[];
}

function lastOf(long: readonly Long[], overlap: number): SplitBite {
  const now = long.flatMap(({ contour, left }) => stretched(contour, restOf(left, overlap)));
  return { next: NaN, now, long: [] };
}

function stretched(contour: ContourToCut, stretches: readonly PathStretch[]): ContourToCut[] {
  return stretches.map((stretch) => ({ ...contour, stretch }));
}

/**
 * How much of the bed two bites share, mm: a join is looked for in there. The lengths are tried in turn;
 * the rest of the bed is the feed.
 */
const shared = [50, 100, 200, 400, 800];

/**
 * Chooses the longest feed for which every long contour can be joined at a straight place. `bound` is
 * where the next whole item begins: the next bite must not begin after it.
 */
function joined(
  long: readonly Long[],
  start: number,
  end: number,
  bound: number,
  overlap: number,
): SplitBite {
  const nexts = shared
    .map((length) => Math.floor(Math.min(bound, end - length - overlap)))
    .filter((next) => next > start);
  for (const next of nexts) {
    const splits = long.map(({ left }) => splitContour(left, next, end, overlap));
    if (splits.some((split) => split === undefined)) continue;
    const now = long.flatMap(({ contour }, i) => stretched(contour, splits[i]!.now));
    const rest = long.map(({ contour }, i) => ({ contour, left: splits[i]!.later }));
    return { next, now, long: rest.filter(({ left }) => left.pending.length > 0) };
  }
  const [{ contour }] = long as [Long];
  return refuse(
    'no-straight-join',
    `the part is longer than the bed and runs straight nowhere short of ${end.toFixed(0)} mm along the roll, where the bed ends.`,
    'Lay it further along the roll with a pin, take a machine with a longer bed, or make the piece of two.',
    { part: contour.label },
  );
}

function laidParts(lay: Lay, parts: readonly Part[], cutter: Cutter): BiteGroup[] {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return lay.placements.map((placement) => {
    const part = byLabel.get(placement.label);
    if (part === undefined) throw new RangeError(`no part ${placement.label} for its placement`);
    const transform = placementTransform(placement);
    const place = (path: Path): Path => transformPath(transform, path);
    const contour = (kind: CutKind, path: Path, edges: readonly Edge[] = []): ContourToCut => ({
      label: part.label,
      kind,
      path: place(path),
      edges: edges.map((edge) => ({ ...edge, path: place(edge.path) })),
    });
    const outline = contour('outline', part.cut, part.edges);
    const { minX, maxX } = boxOfPath(outline.path);
    return {
      minX,
      maxX,
      contours: [
        ...part.notches
          .flatMap((notch) => notchCuts(notch, cutter))
          .map((path) => contour('notch', path)),
        ...part.inner
          .map((inner) => ({ path: inner.path, treatment: treatmentOf(inner, cutter) }))
          .filter(({ treatment }) => treatment !== 'bench')
          .map(({ path, treatment }) => contour(treatment === 'cut' ? 'inner' : 'punch', path)),
        outline,
      ],
    };
  });
}
