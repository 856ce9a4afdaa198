import { expect, it } from 'vitest';
import { polyline } from '../../../src/geometry/paths/path.ts';
import { benchPicture } from '../../../src/papers/pictures/bench-picture.ts';
import { part, point } from '../../knife/sample-parts.ts';

it('what the knife has left is ringed where it is', () => {
  const corners = [point(0, 0), point(300, 0), point(300, 100), point(120, 100)];
  const ell = part('ell', polyline([...corners, point(120, 200), point(0, 200)], true));
  const rings = (svg: string): string[] =>
    [...svg.matchAll(/<circle cx="([^"]*)" cy="([^"]*)" r="1\.4"/g)].map(([, x, y]) => `${x} ${y}`);
  const size = { width: 70, height: 50 };
  expect(rings(benchPicture(ell, size))).toEqual([]);
  const places = [point(120, 100), point(300, 0)];
  const left = [{ kind: 'corners', places, below: 'back' }] as const;
  // 67 mm of paper for 300 mm, the front at the top, 1.5 mm of margin.
  const onPaper = (x: number, y: number): [number, number] => {
    const scale = Math.min(67 / 300, 47 / 200);
    return [1.5 + scale * x, 1.5 + scale * (200 - y)];
  };
  const found = rings(benchPicture(ell, size, { left })).map((one) => one.split(' ').map(Number));
  for (const [i, { x, y }] of places.entries()) {
    const [ringX, ringY] = onPaper(x, y);
    expect(found[i]![0]).toBeCloseTo(ringX, 1);
    expect(found[i]![1]).toBeCloseTo(ringY, 1);
  }
  expect(found).toHaveLength(2);
});
