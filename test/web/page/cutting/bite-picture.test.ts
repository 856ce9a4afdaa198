import { describe, expect, it } from 'vitest';
import type { PicturedPart } from '../../../../src/web/api/pictured.ts';
import { partsOnBed, turnedPoints } from '../../../../src/web/page/cutting/on-bed.ts';
import { fittedText } from '../../../../src/web/page/cutting/part-text.ts';

/** An oblong of 300 x 100 from its origin on, with a spot near its far corner. */
const part = {
  label: 'a.1.7',
  ring: [0, 0, 300, 0, 300, 100, 0, 100],
  at: [290, 90],
} as unknown as PicturedPart;

describe('a part on the bed', () => {
  const roll = 1000;
  const on = (face: 'up' | 'down', rotation: number) =>
    partsOnBed([part], [{ label: 'a.1.7', x: 500, y: 200, rotation }], roll, face)[0]!;
  const near = (values: readonly number[]): number[] => values.map((value) => Math.round(value));

  it('is seen with Y upwards where the roll lies face up', () => {
    expect(near(on('up', 0).box)).toEqual([500, 700, 800, 800]);
    expect(near(on('up', 0).spot)).toEqual([790, 710]);
  });

  it('is its mirror image where the roll lies face down: as far from the one edge as it was from the other', () => {
    expect(near(on('down', 0).box)).toEqual([500, 200, 800, 300]);
    expect(near(on('down', 0).spot)).toEqual([790, 290]);
  });

  it('is turned counter-clockwise about its origin, as it lies', () => {
    // x' = 500 - y, y' = 200 + x; seen with Y upwards.
    expect(near(on('up', 90).box)).toEqual([400, 500, 500, 800]);
  });

  it('is left out where it lies nowhere', () => {
    expect(partsOnBed([part], [], roll, 'up')).toEqual([]);
  });

  it('lies among defects that are turned as it is', () => {
    expect(turnedPoints([10, 20, 30, 40], roll, 'up')).toBe('10 980 30 960');
    expect(turnedPoints([10, 20, 30, 40], roll, 'down')).toBe('10 20 30 40');
  });
});

describe('the name of a part in its picture', () => {
  it('is as large as it has room, and broken at its hyphens', () => {
    const wide = fittedText('cab-floor 7', 2000, 2000, 30)!;
    expect(wide.lines).toEqual(['cab-floor 7']);
    const narrow = fittedText('cab-floor 7', 300, 2000, 30)!;
    expect(narrow.lines.length).toBeGreaterThan(1);
    expect(narrow.lines.join(' ').replaceAll('- ', '-')).toBe('cab-floor 7');
    expect(narrow.size).toBeLessThanOrEqual(wide.size);
  });

  it('is left out where it could not be read', () => {
    expect(fittedText('footrest-left', 100, 1000, 30)).toBeNull();
    expect(fittedText('cab', 1000, 20, 30)).toBeNull();
    expect(fittedText('cab', 200, 200, 30)).not.toBeNull();
    expect(fittedText('cab', 200, 200, 150)).toBeNull();
  });
});
