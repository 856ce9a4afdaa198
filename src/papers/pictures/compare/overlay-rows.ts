import type { Comparable, Item } from '../../../compare/comparable.ts';
import type { Difference } from '../../../compare/difference.ts';
import { wordItem } from '../../../compare/item-differences.ts';
import type { Box } from '../../../geometry/paths/box.ts';
import {
  boxesOverlap,
  centreOf,
  emptyBox,
  growBox,
  heightOf,
  unionBox,
  widthOf,
} from '../../../geometry/paths/box.ts';
import type { Path } from '../../../geometry/paths/path.ts';
import { boxOfPath } from '../../../geometry/paths/path.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import { transformPath } from '../../../geometry/paths/transform.ts';
import { pathData } from '../../svg/svg.ts';
import { isOfAll } from './overlay-sheet.ts';

/**
 * What becomes of a thing between two inputs: it is the same in both, gone, new, or changed: then it is drawn as
 * it was and as it is.
 */
export type Fate = 'same' | 'gone' | 'was' | 'new' | 'is';

/** A length of a sheet with both inputs over each other, as data for a picture: mm, y down. */
export interface OverlayRow {
  readonly x: number;
  readonly width: number;
  readonly height: number;
  /** Height of the type. */
  readonly type: number;
  /** The data of one SVG path for each fate. */
  readonly paths: Readonly<Record<Fate, string>>;
  /** Names of things that are not the same in both and large enough for them, each at its middle; none on another. */
  readonly names: readonly OverlayName[];
}

interface OverlayName {
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly fate: Fate;
}

/** A sheet of two inputs, row by row. */
export interface OverlaySheet {
  readonly sheet: string;
  readonly rows: readonly OverlayRow[];
}

interface Fated {
  readonly item: Item;
  readonly fate: Fate;
  readonly box: Box;
}

/**
 * Both inputs over each other, for sheets on which something is drawn otherwise. A long sheet is divided into
 * rows, so that its parts stay large enough to be seen.
 */
export function overlaySheets(
  differences: readonly Difference[],
  before: Comparable,
  after: Comparable,
): OverlaySheet[] {
  const fateOf = fatesBy(differences);
  const all = [
    // What is the same in both is drawn once.
    ...before.items
      .map((item) => fated(item, fateOf(item, 'before')))
      .filter(({ fate }) => fate !== 'same'),
    ...after.items.map((item) => fated(item, fateOf(item, 'after'))),
  ];
  const sheets = [...new Set(all.map(({ item }) => item.sheet))];
  return sheets.flatMap((sheet) => {
    const own = all.filter(({ item }) => item.sheet === sheet);
    if (own.every(({ fate }) => fate === 'same')) return [];
    return [{ sheet, rows: rowsFor(own) }];
  });
}

function fated(item: Item, fate: Fate): Fated {
  return { item, fate, box: pathsOf(item).map(boxOfPath).reduce(unionBox, emptyBox) };
}

/** What becomes of each thing of either input, from the differences that name it. */
function fatesBy(
  differences: readonly Difference[],
): (item: Item, side: 'before' | 'after') => Fate {
  const labelled = (...kinds: readonly Difference['kind'][]): Set<string> =>
    new Set(
      differences.flatMap(({ kind, label }) =>
        label !== null && kinds.includes(kind) ? label : [],
      ),
    );
  const gone = labelled('removed');
  const young = labelled('added');
  const changed = labelled('mirrored', 'outline', 'detail', 'turned', 'moved');
  // Sheets that have gone elsewhere as one; null: all of them.
  const whole = new Set(differences.filter(isOfAll).map(({ sheet }) => sheet));
  return (item, side) => {
    const name = wordItem(item);
    if (side === 'before' && gone.has(name)) return 'gone';
    if (side === 'after' && young.has(name)) return 'new';
    const isMoved = whole.has(null) || whole.has(item.sheet);
    if (!changed.has(name) && !isMoved) return 'same';
    return side === 'before' ? 'was' : 'is';
  };
}

/** A row is at most so many times as long as it is high. */
const longest = 3.2;

/** Height of the type: as seen on the page, whether the width or the height of a row limits its size. */
function typeIn(width: number, height: number): number {
  return Math.max(width / 75, height / 30);
}

function rowsFor(own: readonly Fated[]): OverlayRow[] {
  const round = own.map(({ box }) => box).reduce(unionBox, emptyBox);
  const whole = growBox(round, 0.01 * Math.max(widthOf(round), heightOf(round), 1));
  const count = Math.max(1, Math.ceil(widthOf(whole) / (longest * heightOf(whole)) - 0.2));
  const step = widthOf(whole) / count;
  const onPage: Transform = { a: 1, b: 0, c: 0, d: -1, e: 0, f: whole.maxY };
  return Array.from({ length: count }, (_, i): OverlayRow => {
    const row = { ...whole, minX: whole.minX + i * step, maxX: whole.minX + (i + 1) * step };
    const type = typeIn(step, heightOf(whole));
    const near = own.filter(({ box }) => boxesOverlap(box, row));
    const drawn = (wanted: Fate): string =>
      near
        .filter(({ fate }) => fate === wanted)
        .flatMap(({ item }) => pathsOf(item))
        .map((path) => pathData(transformPath(onPage, path)))
        .join('');
    const names = apart(
      near.flatMap(({ item, fate, box }): OverlayName[] => {
        const { x, y } = centreOf(box);
        if (fate === 'same' || item.label === null || x < row.minX || x >= row.maxX) return [];
        // A name that reaches far beyond its thing would cover others.
        const half = halfWidth(item.label, type);
        if (2 * half > 1.05 * widthOf(box)) return [];
        const inRow = Math.min(Math.max(x, row.minX + half), row.maxX - half);
        return [{ x: inRow, y: whole.maxY - y, text: item.label, fate }];
      }),
      type,
    );
    return {
      x: row.minX,
      width: step,
      height: heightOf(whole),
      type,
      paths: {
        same: drawn('same'),
        gone: drawn('gone'),
        was: drawn('was'),
        new: drawn('new'),
        is: drawn('is'),
      },
      names,
    };
  });
}

/** Half the width of a name, estimated generously. */
function halfWidth(text: string, type: number): number {
  return 0.32 * text.length * type;
}

/** Those names that lie on no name before them. What something was called where it was is never said beside them. */
function apart(names: readonly OverlayName[], type: number): OverlayName[] {
  const kept: OverlayName[] = [];
  for (const one of names) {
    const lies = kept.some(
      (other) =>
        (other.fate === 'was') === (one.fate === 'was') &&
        Math.abs(other.y - one.y) < 1.2 * type &&
        Math.abs(other.x - one.x) < halfWidth(one.text, type) + halfWidth(other.text, type),
    );
    if (!lies) kept.push(one);
  }
  return kept;
}

/** What is seen of a thing from afar: its edges and its net outline follow its outline, and would only blur it. */
function pathsOf({ outline, details }: Item): Path[] {
  const seen = details.filter(({ role }) => role !== 'net outline' && !/^\w+ edge\b/.test(role));
  return [outline, ...seen.map(({ path }) => path)];
}
