import { describe, expect, it } from 'vitest';
import type { Comparable, Item } from '../../../../src/compare/comparable.ts';
import { differencesOf } from '../../../../src/compare/differences.ts';
import type { OverlaySheet } from '../../../../src/papers/pictures/compare/overlay-rows.ts';
import { overlaySheets } from '../../../../src/papers/pictures/compare/overlay-rows.ts';
import { rectangle } from '../../../knife/sample-parts.ts';
import { contoursOfPath } from '../../path-data.ts';

function item(label: string, x: number, more: Partial<Item> = {}): Item {
  return {
    label,
    what: 'part',
    side: null,
    outline: rectangle(400, 300, x, 100),
    details: [],
    rank: null,
    words: {},
    sheet: 'loop',
    ...more,
  };
}

function run(...items: Item[]): Comparable {
  return { kind: 'run', items, words: {}, texts: [] };
}

function overlay(before: Comparable, after: Comparable): OverlaySheet[] {
  return overlaySheets(differencesOf(before, after, 0.01), before, after);
}

/** The left edges of what is drawn for a fate, over all rows of a sheet. */
function lefts({ rows }: OverlaySheet, fate: 'same' | 'gone' | 'was' | 'new' | 'is'): number[] {
  const found = rows.flatMap(({ paths }) => {
    const d = paths[fate];
    return d === ''
      ? []
      : contoursOfPath(d).map((contour) => Math.min(...contour.map(({ x }) => x)));
  });
  return [...new Set(found)].sort((a, b) => a - b);
}

describe('two lays over each other', () => {
  const before = run(item('stays', 0), item('goes', 500), item('moves', 1000));
  const after = run(
    item('stays', 0),
    item('comes', 1600, { outline: rectangle(20, 80, 1600, 0) }),
    item('moves', 1100),
  );

  it('show each thing as what has become of it', () => {
    const [sheet] = overlay(before, after);
    expect(lefts(sheet!, 'same')).toEqual([0]);
    expect(lefts(sheet!, 'gone')).toEqual([500]);
    expect(lefts(sheet!, 'was')).toEqual([1000]);
    expect(lefts(sheet!, 'is')).toEqual([1100]);
    expect(lefts(sheet!, 'new')).toEqual([1600]);
    // What is the same in both is drawn once.
    expect(contoursOfPath(sheet!.rows[0]!.paths.same)).toHaveLength(1);
  });

  it('show only rolls on which something is drawn otherwise', () => {
    const board = item('board', 0, { sheet: 'board' });
    const sheets = overlay(run(...before.items, board), run(...after.items, board));
    expect(sheets.map(({ sheet }) => sheet)).toEqual(['loop']);
    expect(overlay(before, before)).toEqual([]);
  });

  it('divide a long roll into rows that follow each other, and draw what lies in two rows in both', () => {
    const long = Array.from({ length: 12 }, (_, i) => item(`part-${i}`, 500 * i));
    const [sheet] = overlay(
      run(...long),
      run(...long.map((one, i) => (i === 11 ? item('part-11', 5700) : one))),
    );
    const { rows } = sheet!;
    expect(rows.length).toBeGreaterThan(2);
    for (const [i, row] of rows.entries()) {
      if (i > 0) expect(row.x).toBeCloseTo(rows[i - 1]!.x + rows[i - 1]!.width, 6);
      expect(row.width / row.height).toBeLessThan(4);
    }
    expect(lefts(sheet!, 'same')).toHaveLength(11);
  });

  it('name what differs where its name has room', () => {
    const [sheet] = overlay(before, after);
    const said = sheet!.rows.flatMap(({ names }) =>
      names.map(({ text, fate }) => `${text}: ${fate}`),
    );
    expect(said.sort()).toEqual(['goes: gone', 'moves: is', 'moves: was']);
  });
});
