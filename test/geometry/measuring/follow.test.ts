import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { followPath } from '../../../src/geometry/measuring/follow.ts';
import { measurePath } from '../../../src/geometry/measuring/measured-path.ts';
import { pathLength, polyline, reversePath } from '../../../src/geometry/paths/path.ts';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import { stretchOf } from '../../../src/geometry/paths/stretch.ts';
import { outline } from '../arbitrary.ts';

const share = fc.double({ min: 0, max: 1, noNaN: true });

describe('followPath', () => {
  it('finds where a stretch of the outline begins, how far it goes and which way', () => {
    fc.assert(
      fc.property(outline, share, share, fc.boolean(), fc.boolean(), (path, a, b, back, chords) => {
        const whole = pathLength(path);
        const [from, far] = [a * 0.99 * whole, (0.02 + 0.97 * b) * whole];
        const stretch = stretchOf(path, from, (from + far) % whole);
        const drawn = chords ? polyline(flatten(stretch, 0.1), false) : stretch;
        const found = followPath(measurePath(path), back ? reversePath(drawn) : drawn, 0.5);
        const start = back ? (from + far) % whole : from;
        // Where it begins at the outline's own start, that may be said of its end.
        const off = Math.abs(found.from - start);
        expect(Math.min(off, Math.abs(off - whole))).toBeLessThan(1e-5);
        expect(found.advance).toBeCloseTo(back ? -far : far, 4);
        expect(found.furthest.distance).toBeLessThan(0.101);
        expect(found.furthest.length).toBe(0);
        expect(found.back.length).toBeLessThan(1e-5);
        expect(found.jump.length).toBeLessThan(0.1);
      }),
    );
  });
});
