import { describe, expect, it } from 'vitest';
import { circle, polyline } from '../../src/geometry/paths/path.ts';
import { leftToBench, smallestRadius, treatmentOf } from '../../src/knife/cuttable.ts';
import { heightFindings, knifeFindings } from '../../src/knife/findings.ts';
import { leftWorkOf } from '../../src/knife/left-work.ts';
import {
  conveyorBed,
  longBay,
  part,
  point,
  rectangle,
  roundedRectangle,
  smallTable,
  thickness,
} from './sample-parts.ts';

const thick = (): number => thickness;
const tangential = { ...longBay, blade: { ...longBay.blade, smallestRadius: 8 } };
const trailing = { ...smallTable, blade: { ...smallTable.blade, smallestRadius: 8 } };

describe('an inner contour', () => {
  it('is cut down to the smallest radius of the blade, that radius included', () => {
    const hole = (radius: number) => ({ role: 'HOLE' as const, path: circle(point(0, 0), radius) });
    expect(treatmentOf(hole(8), trailing)).toBe('cut');
    expect(treatmentOf(hole(7.99), trailing)).toBe('bench');
    expect(treatmentOf(hole(7.99), tangential)).toBe('bench');
  });

  it('that is a tighter cutout is cut in steps by a knife that an axis turns, and left by another', () => {
    const cutout = { role: 'CUTOUT' as const, path: roundedRectangle(60, 40, 5) };
    expect(treatmentOf(cutout, tangential)).toBe('cut');
    expect(treatmentOf(cutout, trailing)).toBe('bench');
  });

  it('may have corners, but a hole so drawn is no wider than it is', () => {
    expect(smallestRadius(rectangle(10, 10))).toBe(Infinity);
    expect(treatmentOf({ role: 'CUTOUT', path: rectangle(10, 10) }, trailing)).toBe('cut');
    const ring = Array.from({ length: 24 }, (_, i) =>
      point(2 * Math.cos((i * Math.PI) / 12), 2 * Math.sin((i * Math.PI) / 12)),
    );
    expect(treatmentOf({ role: 'HOLE', path: polyline(ring, true) }, tangential)).toBe('bench');
  });

  it('is punched where it is a round hole of the punch’s size, and else left', () => {
    const punched = (radius: number) =>
      treatmentOf({ role: 'HOLE', path: circle(point(9, 9), radius) }, conveyorBed);
    // A punch of 6 mm, half a millimetre either way.
    expect([2.7, 2.75, 3, 3.25, 3.3].map(punched)).toEqual([
      'bench',
      'punch',
      'punch',
      'punch',
      'bench',
    ]);
    expect(treatmentOf({ role: 'HOLE', path: rectangle(6, 4) }, conveyorBed)).toBe('bench');
    expect(treatmentOf({ role: 'CUTOUT', path: circle(point(0, 0), 3) }, conveyorBed)).toBe('cut');
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
    const [finding] = knifeFindings(
      [mat],
      { ...longBay, blade: { ...longBay.blade, leanFrontDeg: 0 } },
      thick,
    );
    expect(finding).toMatchObject({
      severity: 'warning',
      rule: 'left-to-bench',
      where: { part: 'mat', at: { x: 30, y: 40 } },
    });
    expect(finding!.message).toContain('6.0 x 6.0 mm');
  });
});

it('an outline tighter than the blade likes is cut, and warned of with what the blade leaves', () => {
  const tight = part('tight', roundedRectangle(200, 100, 3));
  const [stepped] = knifeFindings([tight], longBay, thick);
  expect(stepped).toMatchObject({ severity: 'warning', rule: 'lifted-steps' });
  // A blade of 6 mm on R 3: the root of 9 + 9, less 3.
  expect(stepped!.message).toContain('tight (outline, radius 3.0 mm, left by 1.2 mm)');
  expect(knifeFindings([tight], smallTable, thick)).toMatchObject([
    { severity: 'warning', rule: 'tight-outline' },
  ]);
  expect(knifeFindings([part('wide', roundedRectangle(200, 100, 20))], longBay, thick)).toEqual([]);
});

it('inside corners are warned of with their place and the size of the wedge', () => {
  // Facts 2: T 8, 45 degrees -> 8.000; 30 degrees -> 4.619.
  const cutter = { ...longBay, blade: { ...longBay.blade, leanFrontDeg: 45, leanRearDeg: 30 } };
  const corner = polyline(
    [point(0, 0), point(300, 0), point(300, 100), point(120, 100), point(120, 200), point(0, 200)],
    true,
  );
  const cutout = { role: 'CUTOUT' as const, path: rectangle(60, 40, 20, 20) };
  const found = knifeFindings([part('ell', corner, { inner: [cutout] })], cutter, thick);
  expect(found).toMatchObject([
    { severity: 'warning', rule: 'uncut-wedge', where: { part: 'ell', at: { x: 120, y: 100 } } },
  ]);
  expect(found[0]!.message).toMatch(/8\.0 mm long .* and 4\.6 mm after it: ell \(5 corners\)/);
});

it('one cause is one warning, with all its parts', () => {
  const cutter = { ...longBay, blade: { ...longBay.blade, leanFrontDeg: 45 } };
  const step = polyline(
    [point(0, 0), point(300, 0), point(300, 100), point(120, 100), point(120, 200), point(0, 200)],
    true,
  );
  const names = ['ell', 'tee', 'zed'];
  const hole = { role: 'HOLE' as const, path: circle(point(30, 40), 3) };
  const found = knifeFindings(
    [...names, 'ell'].map((name) => part(name, step, { inner: [hole] })),
    cutter,
    thick,
  );
  expect(found.map(({ rule }) => rule)).toEqual(['left-to-bench', 'uncut-wedge']);
  for (const { message, where } of found) {
    expect(message.match(/ell|tee|zed/g)).toEqual(names);
    expect(where).toEqual({});
  }
});

it('what is left to be done by hand has the places of all of it', () => {
  const cutter = { ...longBay, blade: { ...longBay.blade, leanFrontDeg: 45 } };
  const corner = polyline(
    [point(0, 0), point(300, 0), point(300, 100), point(120, 100), point(120, 200), point(0, 200)],
    true,
  );
  const ell = part('ell', corner, {
    inner: [{ role: 'HOLE', path: circle(point(30, 40), 3) }],
    notches: [{ from: point(200, 0), to: point(200, 6) }],
  });
  expect(leftWorkOf(ell, cutter, 8)).toEqual([
    { kind: 'holes', places: [{ x: expect.closeTo(30), y: expect.closeTo(40) }], below: 'back' },
    { kind: 'notches', places: [{ x: 200, y: 0 }], below: 'back' },
    { kind: 'corners', places: [{ x: 120, y: 100 }], below: 'back' },
  ]);
  expect(leftWorkOf(part('plain', rectangle(200, 100)), cutter, 8)).toEqual([]);
});

it('notches too short for a leaning blade are warned of', () => {
  const cutter = { ...longBay, blade: { ...longBay.blade, leanFrontDeg: 40 } };
  const mat = part('mat', rectangle(300, 200), {
    notches: [{ from: point(100, 0), to: point(100, 6) }],
  });
  expect(knifeFindings([mat], cutter, thick)).toMatchObject([
    { rule: 'short-notch', where: { at: { x: 100, y: 0 } } },
  ]);
  expect(knifeFindings([mat], longBay, thick)).toEqual([]);
});

it('a machine must suit the material', () => {
  const loop = { name: 'loop', thickness: 8, gap: 6 };
  expect(heightFindings(longBay, loop)).toEqual([]);
  expect(heightFindings(longBay, { ...loop, thickness: 18 })).toMatchObject([
    { rule: 'travel-height' },
  ]);
  expect(heightFindings(smallTable, { ...loop, thickness: 1.5 })).toMatchObject([
    { rule: 'swivel-depth' },
  ]);
  // 8.5 mm at 45 degrees reach 8.5 mm over a gap of 6.
  const leaning = { ...longBay, blade: { ...longBay.blade, leanRearDeg: 45 } };
  const [finding] = heightFindings(leaning, loop);
  expect(finding).toMatchObject({ severity: 'error', rule: 'overcut-gap' });
  expect(finding!.message).toContain('8.5 mm past a corner; the gap between parts is 6 mm');
});
