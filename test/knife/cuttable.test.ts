import { describe, expect, it } from 'vitest';
import { circle } from '../../src/geometry/path.ts';
import { isCuttable, leftToBench, smallestRadius } from '../../src/knife/cuttable.ts';
import { heightFindings, knifeFindings } from '../../src/knife/findings.ts';
import { longBay, part, point, rectangle, roundedRectangle, smallTable } from './sample-parts.ts';

const eight = { blade: { ...longBay.blade, smallestRadius: 8 } };

describe('an inner contour', () => {
  it('is cut down to the smallest radius of the blade, that radius included', () => {
    expect(isCuttable(circle(point(0, 0), 8), eight)).toBe(true);
    expect(isCuttable(circle(point(0, 0), 7.99), eight)).toBe(false);
    expect(isCuttable(roundedRectangle(60, 40, 5), eight)).toBe(false);
  });

  it('may have corners', () => {
    expect(smallestRadius(rectangle(10, 10))).toBe(Infinity);
    expect(isCuttable(rectangle(10, 10), eight)).toBe(true);
  });

  it('that is left to the bench is listed with place and size, and warned of', () => {
    const mat = part('mat', rectangle(200, 200), {
      inner: [
        { role: 'HOLE', path: circle(point(30, 40), 3) },
        { role: 'CUTOUT', path: rectangle(50, 50, 100, 100) },
      ],
    });
    const [only, ...others] = leftToBench(mat, longBay);
    expect(others).toEqual([]);
    expect(only).toMatchObject({ role: 'HOLE', at: { x: 30, y: 40 }, width: 6, height: 6 });
    const [finding] = knifeFindings([mat], longBay);
    expect(finding).toMatchObject({
      severity: 'warning',
      rule: 'left-to-bench',
      where: { part: 'mat', at: { x: 30, y: 40 } },
    });
    expect(finding!.message).toContain('6.0 x 6.0 mm');
  });
});

it('an outline tighter than the blade likes is cut, and noted', () => {
  const tight = part('tight', roundedRectangle(200, 100, 3));
  expect(knifeFindings([tight], longBay)).toMatchObject([
    { severity: 'note', rule: 'tight-outline' },
  ]);
  expect(knifeFindings([part('wide', roundedRectangle(200, 100, 20))], longBay)).toEqual([]);
});

it('heights must suit the material', () => {
  expect(heightFindings(longBay, { name: 'loop', thickness: 8 })).toEqual([]);
  expect(heightFindings(longBay, { name: 'thick', thickness: 18 })).toMatchObject([
    { rule: 'travel-height' },
  ]);
  expect(heightFindings(smallTable, { name: 'thin', thickness: 1.5 })).toMatchObject([
    { rule: 'swivel-depth' },
  ]);
});
