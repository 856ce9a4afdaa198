import type { Box } from '../../geometry/paths/box.ts';
import { heightOf, unionBox, widthOf } from '../../geometry/paths/box.ts';
import { headingOf } from '../../geometry/paths/angle.ts';
import { alongPath, boxOfPath, pathLength, polyline } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, leftOf, plus, times } from '../../geometry/paths/point.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import { transformPath, transformPoint } from '../../geometry/paths/transform.ts';
import type { SeamFacts } from '../../handing/bench-facts.ts';
import type { Edge, Part } from '../../handing/part.ts';
import { unbrokenEdges } from '../../handing/edges/unbroken.ts';
import type { LeftWork } from '../../knife/left-work.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import { edgeKinds } from '../../pattern/words.ts';
import { placesIn } from '../svg/label.ts';
import type { Surroundings } from './clear-places.ts';
import { firstClear, linesToSpare } from './clear-places.ts';

/** Height of the type, mm: 8 points. */
export const benchType = 2.9;
/** Radius of the ring round the letter of a seam, mm on paper. */
export const letterRing = 2.5;
/** Radius of the ring round what is left to be done by hand, and the least where rings would lie on each other; mm on paper. */
export const workRing = { most: 1.4, least: 0.5 };

/** What the bench is told about a part in its picture besides its shape. */
export interface Told {
  readonly seams: readonly SeamFacts[];
  /** How much larger than finished it is cut at each kind of edge, mm. null: nothing is said of it. */
  readonly added: Readonly<Record<EdgeKind, number>> | null;
}

/** Something that is written or set into the picture, and the box that it takes, mm on paper. */
export interface PlacedMark {
  readonly kind: 'arrow' | 'letter' | 'notch' | 'figure';
  readonly at: Point;
  readonly box: Box;
  readonly words: string;
  /** Length of an arrow. */
  readonly length?: number;
}

/** Where everything lies in the picture of a part. */
export interface BenchLayout {
  readonly width: number;
  readonly height: number;
  /** From the part's frame to the page, whose y points down. */
  readonly onPage: Transform;
  readonly marks: readonly PlacedMark[];
  /** Radius of the rings round what is left to be done by hand, mm on paper. */
  readonly ring: number;
  /** The lines that no mark may hide, mm on paper. */
  readonly lines: Surroundings['lines'];
  /** Whether a mark hides something, rings lie on each other, or the arrow has no room on the part. */
  readonly isCrowded: boolean;
}

/**
 * Lays out the picture of a part, face up with the front of the vehicle at the top, no larger than `size` (mm on
 * paper). Marks are put where they hide no hole, slit, notch, fold or edge. What finds no such place is put where it
 * hides least, but for figures, which are left out: the steps beside the picture say them.
 */
export function layOutBench(
  part: Part,
  size: { readonly width: number; readonly height: number },
  told: Told | null,
  left: readonly LeftWork[],
): BenchLayout {
  const inside = layOutWith(part, size, told, left, null);
  if (part.pileDeg === null || !inside.isCrowded) return inside;
  const arrowFirst = layOutWith(part, size, told, left, null, true);
  if (!arrowFirst.isCrowded) return arrowFirst;
  const isShown = inside.marks.some(({ kind }) => kind === 'arrow');
  if (isShown) return inside;
  const beside = arrowAt({ x: 0, y: 0 }, part.pileDeg, told === null ? 3.6 : 6);
  return layOutWith(part, size, told, left, beside);
}

/** `beside`: an arrow of the pile for which there is kept room at the right of the part. null: it lies on the part. */
function layOutWith(
  part: Part,
  { width, height }: { readonly width: number; readonly height: number },
  told: Told | null,
  left: readonly LeftWork[],
  beside: PlacedMark | null,
  isArrowFirst = false,
): BenchLayout {
  const margin = told === null ? 1.5 : marginFor(part, told);
  const box = unionBox(boxOfPath(part.cut), boxOfPath(part.net));
  const kept = beside === null ? 0 : widthOf(beside.box) + 1;
  const room = width - kept;
  const scale = Math.min((room - 2 * margin) / widthOf(box), (height - 2 * margin) / heightOf(box));
  const onPage: Transform = {
    a: scale,
    b: 0,
    c: 0,
    d: -scale,
    e: (room - scale * widthOf(box)) / 2 - scale * box.minX,
    f: margin + scale * box.maxY,
  };
  const used = Math.max(
    scale * heightOf(box) + 2 * margin,
    beside === null ? 0 : heightOf(beside.box) + 1,
  );
  const place = (path: Path): Path => transformPath(onPage, path);
  const lines = linesToSpare(
    [
      part.net,
      ...(part.cut === part.net ? [] : [part.cut]),
      ...part.inner.map(({ path }) => path),
      ...part.marks.map(({ path }) => path),
      ...part.notches.map(({ from, to }) => notchLine(from, to, scale)),
    ].map(place),
  );
  const page = { minX: 0.2, minY: 0.2, maxX: width - 0.2, maxY: used - 0.2 };
  const worked = left.flatMap(({ places }) => places.map((at) => transformPoint(onPage, at)));
  const ring = ringFor(worked);
  const rings = worked.map((at) => boxRound(at, 2 * ring, 2 * ring));
  const marks: PlacedMark[] = [];
  let isCrowded = beside !== null || ring < workRing.most;
  const put = (candidates: readonly PlacedMark[], isNeeded: boolean): void => {
    const around = { lines, taken: [...rings, ...marks.map((mark) => mark.box)], page };
    const clear = firstClear(candidates, around);
    isCrowded ||= clear === undefined && candidates[0]?.kind !== 'figure';
    if (clear === undefined && !isNeeded) return;
    const found = clear ?? firstClear(candidates, { ...around, lines: [] }) ?? candidates[0];
    if (found !== undefined) marks.push(found);
  };
  for (const seam of told?.seams ?? []) {
    put(letterPlaces(seam, onPage, (told!.added?.seam ?? 0) * scale), true);
  }
  const putNames = (): void => {
    for (const seam of told?.seams ?? []) {
      for (const { name, at } of seam.notches) put(notchPlaces(name, seam.path, at, onPage), true);
    }
  };
  const putArrow = (): void => {
    if (part.pileDeg === null) return;
    if (beside === null) put(arrowPlaces(part, place, told === null ? 7 : 9), false);
    else put([arrowAt({ x: width - kept / 2, y: used / 2 }, part.pileDeg, beside.length!)], true);
  };
  for (const step of isArrowFirst ? [putArrow, putNames] : [putNames, putArrow]) step();
  if (told !== null && told.added !== null) {
    for (const figure of figurePlaces(part, told.added, onPage)) put(figure, false);
  }
  return { width, height: used, onPage, marks, ring, lines, isCrowded };
}

/** A notch, made longer if it would be too short to be seen. */
export function notchLine(from: Point, to: Point, scale: number): Path {
  const length = distance(from, to);
  const seen = Math.max(1, 1.4 / (scale * Math.max(length, 0.1)));
  const end = plus(from, times({ x: to.x - from.x, y: to.y - from.y }, seen));
  return polyline([from, end], false);
}

/** Space outside the part: for the letters of seams, for figures, or for its edge alone. mm on paper */
function marginFor({ edges }: Part, { seams, added }: Told): number {
  if (seams.length > 0) return 7.5;
  return added !== null && edges.some(({ kind }) => added[kind] > 0) ? 5 : 2.5;
}

/** The radius with which rings round all these places stay apart, as far as they can still be seen. */
function ringFor(places: readonly Point[]): number {
  const gaps = places.flatMap((one, i) => places.slice(i + 1).map((other) => distance(one, other)));
  const apart = Math.min(Infinity, ...gaps) / 2 - 0.25;
  return Math.min(workRing.most, Math.max(workRing.least, apart));
}

function boxRound({ x, y }: Point, width: number, height: number): Box {
  return { minX: x - width / 2, minY: y - height / 2, maxX: x + width / 2, maxY: y + height / 2 };
}

function written(kind: PlacedMark['kind'], words: string, at: Point): PlacedMark {
  return { kind, words, at, box: boxRound(at, 0.66 * benchType * words.length, 0.8 * benchType) };
}

/** Where along an edge a mark may stand, as shares of its length: the middle first. */
const shares = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9];

/** Places on the page beside an edge. `off`: distances, to the right of the edge, which is outside the part. */
function besideEdge(path: Path, onPage: Transform, off: readonly number[]): Point[] {
  const length = pathLength(path);
  const points = shares.map((share) => alongPath(path, share * length));
  return off.flatMap((by) =>
    points.map(({ point, tangent }) => {
      const { x, y } = transformPoint(onPage, point);
      const inner = leftOf(tangent);
      return { x: x - by * inner.x, y: y + by * inner.y };
    }),
  );
}

function letterPlaces({ path, letter }: SeamFacts, onPage: Transform, added: number): PlacedMark[] {
  const least = letterRing + 0.6 + added;
  return besideEdge(path, onPage, [least, least + 1.2]).map((at) => ({
    kind: 'letter',
    words: letter,
    at,
    box: boxRound(at, 2 * letterRing, 2 * letterRing),
  }));
}

/** Places for the name of a notch: inside the part, near the notch, then outside. */
function notchPlaces(name: string, edge: Path, at: Point, onPage: Transform): PlacedMark[] {
  const length = pathLength(edge);
  const nearest = Array.from({ length: 41 }, (_, i) => alongPath(edge, (length * i) / 40)).reduce(
    (best, one) => (distance(one.point, at) < distance(best.point, at) ? one : best),
  );
  const { x, y } = transformPoint(onPage, at);
  const inner = leftOf(nearest.tangent);
  const beside = (by: number, along: number): Point => ({
    x: x + by * inner.x + along * nearest.tangent.x,
    y: y - by * inner.y - along * nearest.tangent.y,
  });
  return [2.6, 3.4, 4.4, 5.6, 7, -3.4, -4.6].flatMap((by) =>
    [0, 2, -2, 3.5, -3.5].map((along) => written('notch', name, beside(by, along))),
  );
}

function arrowPlaces(
  { net, inner, marks, pileDeg }: Part,
  place: (path: Path) => Path,
  longest: number,
): PlacedMark[] {
  const pads = marks.filter(({ role }) => role === 'PAD').map(({ path }) => place(path));
  const holes = inner.map(({ path }) => place(path));
  const seen = [...placesIn(place(net), [...holes, ...pads]), ...placesIn(place(net), holes)];
  return [longest, 0.8 * longest, 0.6 * longest, 3.6, 2.6].flatMap((length) =>
    seen.map((at) => arrowAt(at, pileDeg!, length)),
  );
}

function arrowAt(at: Point, pileDeg: number, length: number): PlacedMark {
  const { x, y } = headingOf(pileDeg);
  const across = 2;
  return {
    kind: 'arrow',
    words: '',
    at,
    length,
    box: boxRound(at, Math.abs(x) * length + across, Math.abs(y) * length + across),
  };
}

/** For each unbroken edge that is cut larger than finished, the places for the figure that says by how much. */
function figurePlaces(
  { edges }: Part,
  added: NonNullable<Told['added']>,
  onPage: Transform,
): PlacedMark[][] {
  return edgeKinds
    .filter((kind) => added[kind] > 0)
    .flatMap((kind) =>
      unbrokenEdges(edges as readonly Edge[], kind).map((path) => {
        const least = added[kind] * onPage.a + 2;
        const places = besideEdge(path, onPage, [least, least + 0.8, least + 1.6]);
        return places.map((at) => written('figure', String(added[kind]), at));
      }),
    );
}
