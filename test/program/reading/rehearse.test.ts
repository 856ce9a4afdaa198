import fc from 'fast-check';
import GcodeToolpath from 'gcode-toolpath';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cut } from '../../../src/jobs/cut.ts';
import type { Cutter } from '../../../src/knife/cutter.ts';
import { layName } from '../../../src/lay/lay.ts';
import type { Part } from '../../../src/handing/part.ts';
import { readProgram } from '../../../src/program/reading/read.ts';
import type { Rehearsed, RehearsedPoint } from '../../../src/program/reading/rehearse.ts';
import { rehearse, tipDown, tipShallow, tipUp } from '../../../src/program/reading/rehearse.ts';
import { writeProgram } from '../written.ts';
import { variedCutters } from '../../knife/sample-cutters.ts';
import {
  knifeOver,
  laidInARow,
  longBay,
  smallTable,
  somePartsArbitrary,
} from '../../knife/sample-parts.ts';
import { inFolder, runFile, wren } from '../../support/wren.ts';

interface Spot {
  readonly x: number;
  readonly y: number;
}

function rehearsed(text: string, cutter: Cutter): Rehearsed {
  const axis = cutter.knife.kind === 'tangential' ? cutter.knife.axis.letter : undefined;
  return rehearse(readProgram(text, 'a.nc', axis), cutter);
}

/** Lines after an opening that takes the knife up: the first of them is line 3. */
function ofLines(cutter: Cutter, lines: readonly string[], units = 'G21'): Rehearsed {
  const up = units === 'G20' ? 'G0 Z2' : 'G0 Z20';
  return rehearsed([`G17 ${units} G90 G94`, up, ...lines, 'M2'].join('\n'), cutter);
}

function onLine({ points }: Rehearsed, line: number): RehearsedPoint[] {
  return points.filter((point) => point.line === line);
}

function away(a: Spot, b: Spot): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/** Where the axis ends up, motion by motion, as gcode-toolpath has it: mm. */
function spotsByAnother(text: string): Spot[] {
  const spots: Spot[] = [];
  const toolpath = new GcodeToolpath({
    addLine: (_, __, { x, y }) => spots.push({ x, y }),
    addArcCurve: (_, __, { x, y }) => spots.push({ x, y }),
  });
  toolpath.loadFromStringSync(text);
  return spots;
}

/** Without those that are where the one before is. */
function movedOn(spots: readonly Spot[], same: number): Spot[] {
  const kept: Spot[] = [];
  for (const spot of spots) if (away(spot, kept.at(-1) ?? { x: 0, y: 0 }) > same) kept.push(spot);
  return kept;
}

/** Where each line of a rehearsal ends, on the bed: without what was fed. */
function endsOnBed({ points, bites }: Rehearsed): Spot[] {
  return points.flatMap((point, i) => {
    if (points[i + 1]?.line === point.line) return [];
    const { fed } = bites.findLast(({ first }) => first <= i)!;
    return [{ x: point.x - fed, y: point.y }];
  });
}

const header = { run: 'demo', material: 'loop', thickness: 8, face: 'the pile', lines: [] };

function planned(parts: readonly Part[], cutter: Cutter) {
  const path = knifeOver(laidInARow(parts, cutter), parts, cutter);
  return { path, text: writeProgram(path, cutter, header, 'cut') };
}

const tangential = variedCutters.filter(({ knife }) => knife.kind === 'tangential');

describe.each(tangential)('a program for $name', (cutter) => {
  it('goes where another reader has it go', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const { text } = planned(parts, cutter);
        const own = movedOn(endsOnBed(rehearsed(text, cutter)), 1e-5);
        const other = movedOn(spotsByAnother(text), 1e-5);
        expect(own).toHaveLength(other.length);
        const worst = own.map((spot, i) => away(spot, other[i]!));
        expect(Math.max(...worst)).toBeLessThan(1e-6);
      }),
      { numRuns: 12 },
    );
  });
});

/** What a line of a program has the axis at, from its words alone; coordinates hold until said anew. */
function axisByLine(text: string): Map<number, Spot & { z: number }> {
  const at = { x: 0, y: 0, z: 0 };
  const scale = /\bG20\b/.test(text) ? 25.4 : 1;
  const byLine = new Map<number, typeof at>();
  for (const [i, line] of text.split('\n').entries()) {
    const words = line.replace(/\(.*?\)/g, '');
    for (const [, letter, figure] of words.matchAll(/([XYZ])\s*(-?[\d.]+)/g)) {
      at[letter!.toLowerCase() as 'x' | 'y' | 'z'] = Number(figure) * scale;
    }
    byLine.set(i + 1, { ...at });
  }
  return byLine;
}

const trailing = variedCutters.filter(({ knife }) => knife.kind === 'trailing');

describe.each(trailing)('the tip of $name', (cutter) => {
  it('lies its offset from the axis at the end of every cut', () => {
    const { offset } = cutter.knife as Extract<Cutter['knife'], { kind: 'trailing' }>;
    let cuts = 0;
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const { text } = planned(parts, cutter);
        const told = rehearsed(text, cutter);
        const axis = axisByLine(text);
        let worst = 0;
        for (const [i, point] of told.points.entries()) {
          const isEnd = told.points[i + 1]?.line !== point.line;
          if (!isEnd || point.tip !== tipDown) continue;
          const before = axis.get(point.line - 1)!;
          const now = axis.get(point.line)!;
          // The point of going down is shown under the axis.
          if (before.z !== now.z) continue;
          const { fed } = told.bites.findLast(({ first }) => first <= i)!;
          worst = Math.max(worst, Math.abs(away(now, { x: point.x - fed, y: point.y }) - offset));
          cuts++;
        }
        expect(worst).toBeLessThan(0.02);
      }),
      { numRuns: 12 },
    );
    expect(cuts).toBeGreaterThan(100);
  });
});

describe('a knife that trails by 6 mm', () => {
  it('cuts behind its axis, from where its tip went in', () => {
    const told = ofLines(smallTable, ['G0 X20 Y5', 'G1 Z-0.3 F100', 'X80']);
    // From under the axis to where the tip is, and down there.
    expect(onLine(told, 3)).toEqual([expect.objectContaining({ x: 20, y: 5, tip: tipUp })]);
    expect(onLine(told, 4)).toEqual([
      expect.objectContaining({ x: 14, y: 5, tip: tipUp }),
      expect.objectContaining({ x: 14, y: 5, tip: tipDown }),
    ]);
    expect(onLine(told, 5)).toEqual([expect.objectContaining({ x: 74, y: 5, tip: tipDown })]);
  });

  it('is held shallow while it swivels', () => {
    const told = ofLines(smallTable, [
      'G0 X6 Y0',
      'G1 Z-0.3 F100',
      'X50',
      'G1 Z1.5',
      'G3 X44 Y6 I-6 J0',
      'G1 Z-0.3',
      'Y30',
    ]);
    // Up a little, round, and down again: all of it where the cut has ended.
    for (const [line, tip] of [
      [6, tipShallow],
      [7, tipShallow],
      [8, tipDown],
    ]) {
      expect(onLine(told, line!)).toEqual([expect.objectContaining({ tip })]);
      expect(away(onLine(told, line!)[0]!, { x: 44, y: 0 })).toBeLessThan(0.02);
    }
    expect(onLine(told, 9).at(-1)).toMatchObject({ tip: tipDown });
    // The tip stayed at 44, 0 while the axis went round it, and then followed upwards.
    const { x, y } = onLine(told, 9).at(-1)!;
    expect(away({ x, y }, { x: 44, y: 24 })).toBeLessThan(0.02);
  });
});

describe('an arc', () => {
  it.each<[string, string, number, number]>([
    ['a quarter', 'G3 X1300 Y900 I0 J500', 500, 90],
    ['the other way', 'G2 X1300 Y-100 I0 J-500', 500, 90],
    ['a whole turn', 'G2 X800 Y400 I300 J0', 300, 360],
    ['three quarters', 'G3 X750 Y450 I0 J50', 50, 270],
    ['a small one', 'G3 X802 Y402 I0 J2', 2, 90],
  ])('of %s is gone in pieces that leave it by 0.2 mm at most', (_, words, radius, sweep) => {
    const told = ofLines(longBay, ['G0 X800 Y400', 'G1 Z-0.5 F3000', `${words} F18000`]);
    const points = [{ x: 800, y: 400 }, ...onLine(told, 5)];
    const [, i, j] = /I(-?\d+) J(-?\d+)/.exec(words)!;
    const centre = { x: 800 + Number(i), y: 400 + Number(j) };
    let length = 0;
    for (const [k, point] of points.entries()) {
      expect(Math.abs(away(point, centre) - radius)).toBeLessThan(1e-6);
      if (k === 0) continue;
      const before = points[k - 1]!;
      const middle = { x: (before.x + point.x) / 2, y: (before.y + point.y) / 2 };
      expect(radius - away(middle, centre)).toBeLessThanOrEqual(0.2 + 1e-9);
      length += away(before, point);
    }
    const whole = (radius * sweep * Math.PI) / 180;
    expect(length).toBeLessThan(whole + 1e-6);
    expect(length).toBeGreaterThan(whole * (radius < 10 ? 0.95 : 0.99));
    // Its time goes by evenly along the way.
    const half = onLine(told, 5).findIndex((point) => away(point, points[0]!) > 0);
    expect(onLine(told, 5)[half]!.at).toBeGreaterThan(onLine(told, 4).at(-1)!.at);
  });
});

describe('the feeds of the roll', () => {
  const lines = [
    'G0 X100 Y10',
    '(MSG, FEED 3200 MM: pull)',
    'M0',
    'G0 X5 Y7',
    'G1 Z-0.5 F3000',
    'X15 F18000',
    'G0 Z20',
    '(MSG, FEED 800.5 MM)',
    'G0 X1 Y2',
  ];

  it('begin a bite each, and all that comes lies farther along the roll', () => {
    const told = ofLines(longBay, lines);
    expect(told.bites.map(({ fed }) => fed)).toEqual([0, 3200, 4000.5]);
    expect(onLine(told, 3).at(-1)).toMatchObject({ x: 100, y: 10 });
    expect(onLine(told, 8).at(-1)).toMatchObject({ x: 3215, y: 7, tip: tipDown });
    expect(onLine(told, 11).at(-1)).toMatchObject({ x: 4001.5, y: 2, tip: tipUp });
    for (const { first, at, fed } of told.bites.slice(1)) {
      expect(told.points[first]!.line).toBe(fed === 3200 ? 6 : 11);
      const before = told.points[first - 1]!.at;
      // 750 mm/s and 2500 mm/s2, from rest to rest.
      const length = fed === 3200 ? 3200 : 800.5;
      expect(at - before).toBeCloseTo(length / 750 + 0.3, 9);
    }
  });

  it('are told of no others', () => {
    expect(ofLines(longBay, lines).messages).toEqual([]);
  });
});

it('messages come with their line, and the point that is next', () => {
  const told = ofLines(longBay, ['(MSG, begin)', 'G0 X5 Y0', '(MSG, end)']);
  expect(told.messages.map(({ line, text }) => [line, text])).toEqual([
    [3, 'begin'],
    [5, 'end'],
  ]);
  expect(told.points[told.messages[0]!.point]!.line).toBe(4);
  expect(told.messages[1]!.point).toBe(told.points.length);
});

describe('a program in inches', () => {
  it('goes the same way in the same time as one in mm', () => {
    const inches = ofLines(
      longBay,
      ['G0 X10 Y2', 'G1 Z-0.02 F100', 'G1 X20 F700', '(MSG, FEED 100 IN)', 'G0 Z2', 'G0 X1 Y1'],
      'G20',
    );
    const same = ofLines(longBay, [
      'G0 X254 Y50.8',
      'G1 Z-0.508 F100',
      'G1 X508 F700',
      '(MSG, FEED 2540 MM)',
      'G0 Z50.8',
      'G0 X25.4 Y25.4',
    ]);
    expect(inches.points.at(-1)).toMatchObject({ x: 2565.4, y: 25.4 });
    expect(inches.points).toHaveLength(same.points.length);
    for (const [i, point] of inches.points.entries()) {
      expect(away(point, same.points[i]!)).toBeLessThan(1e-9);
      expect(point.at).toBeCloseTo(same.points[i]!.at, 6);
    }
  });
});

describe.each(variedCutters)('the times of $name', (cutter) => {
  it('never go back, and all told are what was planned, within a hundredth', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const { text, path } = planned(parts, cutter);
        const { points, bites, seconds } = rehearsed(text, cutter);
        for (const times of [points, bites].map((list) => list.map(({ at }) => at))) {
          expect(times.findIndex((at, i) => !(at >= (times[i - 1] ?? 0)))).toBe(-1);
        }
        expect(points.at(-1)!.at).toBeLessThanOrEqual(seconds);
        expect(Math.abs(seconds / (path.minutes * 60) - 1)).toBeLessThan(0.01);
      }),
      { numRuns: 12 },
    );
  });
});

describe('a run of the Wren', () => {
  it.each(['long-bay', 'small-table', 'conveyor-bed'])(
    'on %s takes as long as its plan says, with and without single bites',
    async (cutter) => {
      await inFolder(wren, async (root) => {
        const out = join(root, 'out/wren-week');
        const facts = await cut({
          runFile: join(root, runFile),
          sharedFolder: join(root, 'shared'),
          out,
          cutter,
          force: false,
        });
        // Carpet, board and rubber.
        expect(facts.materials).toHaveLength(3);
        for (const { lay, knife, bites } of facts.materials) {
          const text = readFileSync(join(out, `${layName(lay)}.nc`), 'utf8');
          const told = rehearsed(text, facts.cutter);
          expect(Math.abs(told.seconds / (knife.minutes * 60) - 1)).toBeLessThan(0.01);
          expect(told.bites).toHaveLength(bites.length);
          for (const [i, { fed }] of told.bites.entries()) {
            expect(Math.abs(fed - bites[i]!.start)).toBeLessThan(0.01);
          }
        }
      });
    },
  );
});
