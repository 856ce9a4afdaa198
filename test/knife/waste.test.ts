import { describe, expect, it } from 'vitest';
import { boxOfPoints, growBox } from '../../src/geometry/paths/box.ts';
import { boxOfPath } from '../../src/geometry/paths/path.ts';
import type { Box } from '../../src/geometry/paths/box.ts';
import type { Cutter } from '../../src/knife/cutter.ts';
import type { Bite } from '../../src/knife/cuts.ts';
import { cuttingOrder } from '../../src/knife/order/order.ts';
import { wasteFindings, withWasteCuts } from '../../src/knife/waste.ts';
import { layOf, longBay, part, rectangle, smallTable } from './sample-parts.ts';

const thickness = 8;
const table: Cutter = {
  ...smallTable,
  knife: { ...(smallTable.knife as Extract<Cutter['knife'], { kind: 'trailing' }>), leadIn: 48 },
};

/** Three rectangles as wide as the roll has room for, one a bite, on a roll with these selvedges. */
function bitesOf(cutter: Cutter, selvedge: number, width = 2000): Bite[] {
  const parts = [0, 1, 2].map((i) =>
    part(`p${i}`, rectangle(1200, width - 2 * selvedge, 1230 * i, selvedge)),
  );
  const at = parts.map(({ label }) => ({ label, x: 0, y: 0, rotation: 0 }));
  const plain = layOf(parts, at, { biteLength: cutter.bed.length });
  const lay = { ...plain, roll: { ...plain.roll, selvedge, width } };
  return withWasteCuts(cuttingOrder(lay, parts, cutter), lay, parts, cutter, thickness);
}

function apart(a: Box, b: Box): boolean {
  return a.maxX < b.minX || b.maxX < a.minX || a.maxY < b.minY || b.maxY < a.minY;
}

describe('what is cut in waste', () => {
  const bites = bitesOf(table, 30);
  const outlines = bites.flatMap(({ cuts }) => cuts.map(({ path }) => boxOfPath(path)));

  it('is a mark before each feed that the bites on both sides of it have on the bed', () => {
    expect(bites).toHaveLength(3);
    for (const [i, { mark, start }] of bites.slice(0, -1).entries()) {
      const next = bites[i + 1]!;
      expect(next.check).toEqual(mark);
      // With arms of 5 mm all round.
      expect(mark!.x - 5).toBeGreaterThan(next.start);
      expect(mark!.x + 5).toBeLessThan(start + table.bed.length);
      const box = growBox(boxOfPoints([mark!]), 5);
      expect(outlines.every((outline) => apart(outline, box))).toBe(true);
      expect(box.minY).toBeGreaterThan(0);
      expect(box.maxY).toBeLessThan(2000);
    }
    expect(bites.at(-1)!.mark).toBeUndefined();
    expect(bites[0]!.check).toBeUndefined();
  });

  it('is a lead-in at each start, wherever the tip lies round the axis', () => {
    const d = 6;
    expect(bites.length).toBeGreaterThan(1);
    for (const { leadIn, start } of bites) {
      const { from, to } = leadIn!;
      expect(to.x - from.x).toBe(48);
      expect(to.y).toBe(from.y);
      const box = growBox(boxOfPoints([from, to]), d);
      expect(box.minX).toBeGreaterThanOrEqual(start);
      expect(outlines.every((outline) => apart(outline, box))).toBe(true);
    }
    const marks = bites.flatMap(({ mark }) => (mark === undefined ? [] : [mark]));
    // At each feed.
    expect(marks).toHaveLength(bites.length - 1);
    for (const { leadIn } of bites) {
      const box = growBox(boxOfPoints([leadIn!.from, leadIn!.to]), d);
      expect(marks.every((mark) => apart(box, growBox(boxOfPoints([mark]), 5)))).toBe(true);
    }
  });

  it('is no mark where there is no room, and that is said', () => {
    const full = bitesOf(longBay, 0, 1000);
    expect(full.every(({ mark }) => mark === undefined)).toBe(true);
    expect(wasteFindings(full, 'loop').map(({ message }) => message)).toEqual(
      full.slice(0, -1).map((_, i) => expect.stringContaining(`between bite ${i + 1} and bite`)),
    );
    expect(wasteFindings(bites, 'loop')).toEqual([]);
  });

  it('is refused where a lead-in has no room', () => {
    expect(() => bitesOf(table, 0)).toThrow(/no waste for the lead-in of 48 mm/);
  });
});
