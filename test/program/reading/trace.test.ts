import { describe, expect, it } from 'vitest';
import { distance } from '../../../src/geometry/paths/point.ts';
import { readProgram } from '../../../src/program/reading/read.ts';
import { strokeLength } from '../../../src/program/proof/coverage.ts';
import { feedLength, traceProgram } from '../../../src/program/reading/trace.ts';
import { longBay, smallTable } from '../../knife/sample-parts.ts';

function trace(cutter: typeof longBay, ...lines: string[]) {
  const axis = cutter.knife.kind === 'tangential' ? cutter.knife.axis.letter : undefined;
  const text = ['G17 G21 G90 G94', 'G0 Z20', ...lines, 'M2'].join('\n');
  return traceProgram(readProgram(text, 'a.nc', axis), cutter);
}

describe('the trace of a tangential knife', () => {
  it('is the axis itself, lowering by lowering', () => {
    const { strokes } = trace(
      longBay,
      'G0 X10 Y10',
      'G1 Z-0.5 F100',
      'G1 X60',
      'G3 X80 Y30 J20',
      'G0 Z20',
      'G0 X0 Y0',
      'G1 Z-0.5',
      'X5',
    );
    expect(strokes.map(({ steps }) => steps.map(({ line }) => line))).toEqual([[5, 6], [10]]);
    expect(strokeLength(strokes[0]!)).toBeCloseTo(50 + 10 * Math.PI, 9);
  });

  it('takes a full circle as one', () => {
    const { strokes } = trace(longBay, 'G0 X30 Y0', 'G1 Z-0.5 F100', 'G2 X30 Y0 I-30');
    expect(strokeLength(strokes[0]!)).toBeCloseTo(60 * Math.PI, 9);
  });

  it('moves on with the roll', () => {
    const { strokes, feeds } = trace(
      longBay,
      '(MSG, FEED 3200 MM: now)',
      'M0',
      'G0 X5 Y0',
      'G1 Z-0.5 F100',
      'X15',
    );
    expect(feeds).toEqual([{ line: 3, length: 3200 }]);
    expect(strokes[0]).toMatchObject({
      fed: 3200,
      steps: [{ segment: { from: { x: 3205 }, to: { x: 3215 } } }],
    });
  });
});

describe('the trace of a trailing knife', () => {
  // The table's knife has an offset of 6 mm and starts at heading 0.
  it('lies behind the axis by the offset, where the course is the heading', () => {
    const { strokes } = trace(smallTable, 'G0 X20 Y0', 'G1 Z-0.3 F100', 'X80');
    const { segment } = strokes[0]!.steps[0]!;
    expect([segment.from.x, segment.to.x]).toEqual([14, 74]);
  });

  it('swings in where it is not: a corner that the axis takes is rounded by the tip', () => {
    const { strokes } = trace(smallTable, 'G0 X6 Y0', 'G1 Z-0.3 F100', 'X50', 'Y30');
    const { steps } = strokes[0]!;
    const end = steps.at(-1)!.segment.to;
    expect(end.y).toBeCloseTo(24, 1);
    // [D] the tip is aside by d sin(phi), tan(phi / 2) = tan(45) exp(-30 / 6): 0.081 mm.
    expect(50 - end.x).toBeCloseTo(6 * Math.sin(2 * Math.atan(Math.exp(-5))), 4);
  });

  it('is carried along with its heading while it is up', () => {
    const up = ['G0 Z20', 'G0 X100 Y50', 'G1 Z-0.3', 'Y90'];
    const { strokes } = trace(smallTable, 'G0 X6 Y0', 'G1 Z-0.3 F100', 'X50', ...up);
    expect(strokes[1]!.steps[0]!.segment.from.x).toBeCloseTo(94, 1);
  });

  it('stands still at swivel depth while the axis goes round the tip', () => {
    const { swivels, strokes } = trace(
      smallTable,
      'G0 X6 Y0',
      'G1 Z1.5 F100',
      'G3 X0 Y6 I-6 J0',
      'G1 Z-0.3',
      'Y30',
    );
    expect(swivels.map(strokeLength).every((length) => length < 0.01)).toBe(true);
    const { segment } = strokes[0]!.steps[0]!;
    expect(distance(segment.from, { x: 0, y: 0 })).toBeLessThan(0.005);
  });
});

it('a feed is known by its message alone', () => {
  expect(feedLength('FEED 3200 MM: pull the roll on, then start again')).toBe(3200);
  expect(feedLength('FEED 3200.5 MM')).toBe(3200.5);
  expect(feedLength('feed the roll')).toBeUndefined();
});
