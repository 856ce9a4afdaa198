import { describe, expect, it } from 'vitest';
import { openGaps } from '../../../src/pattern/outlines/open-ends.ts';
import { line } from '../../handing/fixtures.ts';

const sizes = (...lines: ReturnType<typeof line>[]): number[] =>
  openGaps(lines.map((path) => ({ path }))).map(({ size }) => Math.round(size * 100) / 100);

describe('the gaps between open lines', () => {
  it('are between the ends that are nearest to each other, each end once', () => {
    const top = line(600, 400, 0, 400);
    expect(sizes(line(0, 0, 600, 0), line(600, 0.3, 600, 399), top, line(0, 400, 0, 2))).toEqual([
      0, 0.3, 1, 2,
    ]);
  });

  it('of one line is between its own ends', () => {
    expect(sizes(line(0, 0, 30, 40))).toEqual([50]);
    expect(sizes()).toEqual([]);
  });

  it('of very many lines are those of each', () => {
    const many = Array.from({ length: 151 }, (_, i) => line(i, 0, i, 9));
    expect(sizes(...many)).toEqual(many.map(() => 9));
    expect(sizes(...many.slice(1)).slice(0, 100)).toEqual(Array(100).fill(1));
  });
});
