import type { Box } from '../../../geometry/paths/box.ts';
import {
  boxContains,
  boxOfPoints,
  boxesOverlap,
  centreOf,
  growBox,
} from '../../../geometry/paths/box.ts';
import { headingOf } from '../../../geometry/paths/angle.ts';
import { boxOfPath } from '../../../geometry/paths/path.ts';
import type { Path } from '../../../geometry/paths/path.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import { distance, minus, plus, times, unit } from '../../../geometry/paths/point.ts';
import { placeInPath } from '../../../geometry/relations/contains.ts';
import { areApart, clearRoom, disc } from '../../svg/clear-room.ts';
import type { ClearRoom, Patch } from '../../svg/clear-room.ts';
import { placesIn } from '../../svg/label.ts';

/** Radius of the ring round a number, and of that round a letter, mm. */
export const planRing = 2.4;
/** What arrows may be like, the preferred first: length, weight of the line, and half the width of the head; mm. */
const arrowLooks = [
  { length: 9, weight: 0.35, half: 0.9 },
  { length: 7, weight: 0.35, half: 0.9 },
  { length: 5, weight: 0.35, half: 0.9 },
  { length: 3.6, weight: 0.3, half: 0.75 },
  { length: 2.4, weight: 0.25, half: 0.65 },
];
/** How far lines of the plan are kept clear, mm: half of the broadest edge, and a little. */
const margin = 0.8;

/** A part as the page shows it. */
export interface PlannedPart {
  readonly net: Path;
  /** What lies over it in the plan, and its holes: there it is not seen. */
  readonly hidden: readonly Path[];
  /** Numbers that stand on it. */
  readonly numbers: readonly PlanNumber[];
  /** Direction of its pile on the page, degrees clockwise from the right. null: none is shown. */
  readonly pileDeg: number | null;
}

interface PlanNumber {
  readonly number: number;
  /** Whether it is that of something under the carpet. */
  readonly isUnder: boolean;
}

/** The letter of a mark whose middle is at a point of the page, and how far it reaches round it, mm. */
interface MarkLetter {
  readonly letter: string;
  readonly at: Point;
  readonly radius: number;
}

/** A number or letter in a ring. `to`: where its leader line ends; left out: it stands where it belongs. */
export interface PlacedRing {
  readonly words: string;
  readonly at: Point;
  readonly to?: Point;
  readonly isUnder?: boolean;
  readonly isLetter?: true;
}

export interface PlacedArrow {
  readonly at: Point;
  readonly deg: number;
  readonly length: number;
  /** Width of its line, mm. */
  readonly weight: number;
}

/** Where a plan may be drawn, and where its key stands; mm on the page. */
export interface PlanRoom {
  readonly frame: Box;
  readonly keyBox: Box;
}

/** What stands in a plan over its parts. */
interface PlanMarks {
  readonly rings: readonly PlacedRing[];
  readonly arrows: readonly PlacedArrow[];
}

/**
 * Places the letters of marks, the numbers of parts and the arrows of their piles so that none covers another, nor
 * a line of the plan. A ring without room where it belongs stands beside its part, with a leader line to it that
 * crosses no hole and no mark. `lines`: all that is drawn; `details`: holes, pads and marks among them; all
 * stay inside the frame and off the key.
 */
export function planMarks(
  parts: readonly PlannedPart[],
  letters: readonly MarkLetter[],
  lines: readonly Path[],
  details: readonly Path[],
  { frame, keyBox }: PlanRoom,
): PlanMarks {
  const ground: Ground = {
    room: clearRoom(lines, margin),
    leaders: clearRoom(details, 0.3),
    outlines: parts.map(({ net }) => withBox(net)),
    keyBox,
    barred: details.filter(({ closed }) => closed).map(withBox),
    frame,
  };
  const rings: PlacedRing[] = [];
  const arrows: PlacedArrow[] = [];
  for (const part of parts) {
    const places = placesIn(part.net, part.hidden);
    const [middle = centreOf(boxOfPath(part.net))] = places;
    places.sort((a, b) => distance(a, middle) - distance(b, middle));
    const inside = insideMarks(part, places, ground.room);
    for (const patch of inside.patches) take(patch, ground);
    if (inside.arrow !== null) arrows.push(inside.arrow);
    for (const [i, { number, isUnder }] of part.numbers.entries()) {
      const at = inside.numbers[i] ?? null;
      const ring = at === null ? ringOutside(part.net, places, middle, ground) : { at };
      rings.push({ words: String(number), isUnder, ...ring });
    }
  }
  // Letters come last: they can stand anywhere near their marks.
  for (const { letter, at, radius } of letters) {
    rings.push({ words: letter, isLetter: true, ...ringBeside(at, radius, ground) });
  }
  return { rings, arrows };
}

/** What stands on a part itself. */
interface InsideMarks {
  /** By the numbers of the part. null: there is no room for it. */
  readonly numbers: readonly (Point | null)[];
  readonly arrow: PlacedArrow | null;
  readonly patches: readonly Patch[];
}

/** Numbers and the arrow on a part. Where not both have room, the arrow has it: a number can stand beside the part. */
function insideMarks(
  { numbers, pileDeg }: PlannedPart,
  places: readonly Point[],
  room: ClearRoom,
): InsideMarks {
  const place = (isArrowFirst: boolean): InsideMarks => {
    const patches: Patch[] = [];
    const isClear = (patch: Patch): boolean =>
      patches.every((one) => areApart(one, patch)) && room.isClear(patch);
    const arrowNow = (): PlacedArrow | null =>
      pileDeg === null ? null : arrowIn(places, pileDeg, isClear, patches);
    let arrow = isArrowFirst ? arrowNow() : null;
    const own = numbers.map(() => {
      const at = places.find((one) => isClear(disc(one, planRing))) ?? null;
      if (at !== null) patches.push(disc(at, planRing));
      return at;
    });
    arrow ??= arrowNow();
    return { numbers: own, arrow, patches };
  };
  const first = place(false);
  return pileDeg === null || first.arrow !== null ? first : place(true);
}

/** The longest arrow that has room at one of the places. */
function arrowIn(
  places: readonly Point[],
  deg: number,
  isClear: (patch: Patch) => boolean,
  patches: Patch[],
): PlacedArrow | null {
  const along = headingOf(deg);
  for (const { length, weight, half: radius } of arrowLooks) {
    const half = times(along, length / 2);
    for (const at of places) {
      const patch = { from: minus(at, half), to: plus(at, half), radius };
      if (!isClear(patch)) continue;
      patches.push(patch);
      return { at, deg, length, weight };
    }
  }
  return null;
}

/** A closed path and its box. */
interface Area {
  readonly path: Path;
  readonly box: Box;
}

function withBox(path: Path): Area {
  return { path, box: boxOfPath(path) };
}

interface Ground {
  /** What keeps clear of all lines and all that has been placed. */
  readonly room: ClearRoom;
  /** What leader lines keep clear of. */
  readonly leaders: ClearRoom;
  readonly outlines: readonly Area[];
  readonly frame: Box;
  readonly keyBox: Box;
  /** Holes and pads, in which nothing stands. */
  readonly barred: readonly Area[];
}

type Ring = Pick<PlacedRing, 'at' | 'to'>;

/** Distances of a ring from what it belongs to, mm, and how many directions are tried. */
const reaches = [4, 5, 6.5, 8, 10, 13, 16, 20, 25, 30, 36, 44, 54];
const directions = 24;

function around(at: Point, radius = 0): Point[] {
  return reaches.flatMap((reach) =>
    Array.from({ length: directions }, (_, i) =>
      plus(at, times(headingOf((i * 360) / directions), radius + reach)),
    ),
  );
}

/** How far from its mark a leader line ends, mm. */
const beforeMark = 0.7;

/** A ring beside a mark, with a leader line to it. Where there is no room it stands on the mark. */
function ringBeside(mark: Point, radius: number, ground: Ground): Ring {
  for (const at of around(mark, radius)) {
    const to = plus(mark, times(unit(minus(at, mark)), radius + beforeMark));
    const isSeen = ground.leaders.isClear(leader(at, to));
    if (!isSeen || !isFree(disc(at, planRing), ground) || !isOutside(at, ground.barred)) continue;
    take(disc(at, planRing), ground);
    return { at, to };
  }
  return { at: mark };
}

/** A ring outside all parts, with a leader line to a place of its part. */
function ringOutside(net: Path, places: readonly Point[], middle: Point, ground: Ground): Ring {
  const targets = places.length === 0 ? [middle] : places;
  for (const at of around(centreOf(boxOfPath(net)))) {
    if (!isFree(disc(at, planRing), ground) || !isOutside(at, ground.outlines)) continue;
    const to = targets
      .toSorted((a, b) => distance(a, at) - distance(b, at))
      .find((one) => ground.leaders.isClear(leader(at, one)));
    if (to === undefined) continue;
    take(disc(at, planRing), ground);
    take(leader(at, to), ground);
    return { at, to };
  }
  return { at: targets[0]! };
}

function isOutside(at: Point, areas: readonly Area[]): boolean {
  const spot = boxOfPoints([at]);
  return areas.every(
    ({ path, box }) => !boxesOverlap(box, spot) || placeInPath(path, at) === 'outside',
  );
}

function leader(from: Point, to: Point): Patch {
  return { from, to, radius: 0.15 };
}

function isFree(patch: Patch, { room, frame, keyBox }: Ground): boolean {
  const box = growBox(boxOfPoints([patch.from, patch.to]), patch.radius);
  return boxContains(frame, box) && !boxesOverlap(keyBox, box) && room.isClear(patch);
}

function take(patch: Patch, { room, leaders }: Ground): void {
  room.take(patch);
  leaders.take(patch);
}
