import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviation } from '../../../src/geometry/fitting/deviation.ts';
import { mirrorFit, mirrorLineOf } from '../../../src/geometry/fitting/mirror.ts';
import { normalDeg } from '../../../src/geometry/paths/angle.ts';
import type { Path, Vertex } from '../../../src/geometry/paths/path.ts';
import { circle } from '../../../src/geometry/paths/path.ts';
import { cross, minus, unit } from '../../../src/geometry/paths/point.ts';
import { headingDeg } from '../../../src/geometry/paths/angle.ts';
import {
  compose,
  isMirror,
  reflection,
  reflectionIn,
  rotation,
  transformPath,
  transformPoint,
  translation,
} from '../../../src/geometry/paths/transform.ts';
import { drawnOtherwise, handedOutline } from '../../compare/shapes.ts';
import { oblong } from '../../handing/fixtures.ts';
import type { Random } from '../../support/random.ts';
import { randomFrom } from '../../support/random.ts';
import { tries } from '../../support/thorough.ts';
import { isometry } from '../arbitrary.ts';

const seed = fc.integer({ min: 0, max: 2 ** 31 });

/** An outline of lines and arcs that is its own mirror image in x = 0, from its right half. */
function symmetrical(random: Random): Path {
  const count = 4 + random.below(8);
  const right = Array.from({ length: count }, (_, i): Vertex => {
    const angle = ((i + 0.5) / count - 0.5) * Math.PI;
    const radius = 200 + 300 * (random.below(1000) / 1000);
    const bulge =
      i < count - 1 && random.below(1000) / 1000 < 0.5
        ? 0.4 * (random.below(1000) / 1000) - 0.2
        : 0;
    return { x: radius * Math.cos(angle), y: 1.3 * radius * Math.sin(angle), bulge };
  });
  // The image is run the other way: its bulges change sign twice.
  const left = right
    .toReversed()
    .map(({ x, y }, i): Vertex => ({ x: -x, y, bulge: right[count - 2 - i]?.bulge ?? 0 }));
  return { closed: true, vertices: [...right, ...left] };
}

describe('mirrorLineOf', () => {
  it('finds the line of whatever is symmetrical, turned and moved and drawn otherwise', () => {
    fc.assert(
      fc.property(seed, isometry, (n, motion) => {
        const random = randomFrom(n);
        const there = drawnOtherwise(transformPath(motion, symmetrical(random)), random);
        const line = mirrorLineOf(there, 1)!;
        expect(line).not.toBeNull();
        // Of lines that fit within 0.01 mm of the best, the most upright is taken.
        expect(line.off).toBeLessThan(0.01 + 1e-3);
        const [from, to] = [
          { x: 0, y: 0 },
          { x: 0, y: 1 },
        ].map((p) => transformPoint(motion, p));
        const along = unit(minus(line.to, line.from));
        expect(Math.abs(cross(along, unit(minus(to!, from!))))).toBeLessThan(1e-4);
        expect(Math.abs(cross(along, minus(from!, line.from)))).toBeLessThan(0.05);
        // It points upwards, or to the right.
        const deg = normalDeg(headingDeg(along) + 1e-6);
        expect(deg).toBeLessThan(180 + 1e-5);
      }),
      { numRuns: tries(40, 200) },
    );
  });

  it('finds none where nothing is symmetrical', () => {
    fc.assert(
      fc.property(seed, isometry, (n, motion) => {
        expect(mirrorLineOf(transformPath(motion, handedOutline(randomFrom(n))), 1)).toBeNull();
      }),
      { numRuns: tries(40, 200) },
    );
  });

  it('says how far the image is off, as two curves are measured apart', () => {
    fc.assert(
      fc.property(seed, fc.double({ min: 0.2, max: 3, noNaN: true }), (n, nudge) => {
        const random = randomFrom(n);
        const path = symmetrical(random);
        const k = random.below(path.vertices.length);
        const vertices = path.vertices.map((v, i) => (i === k ? { ...v, x: v.x + nudge } : v));
        const changed = { closed: true, vertices };
        const line = mirrorLineOf(changed, 5)!;
        const image = transformPath(reflectionIn(line), changed);
        expect(line.off).toBeCloseTo(deviation(image, changed).distance, 1);
        // The best line is no worse than the one that was right before.
        expect(line.off).toBeLessThan(1.2 * nudge + 0.01);
      }),
      { numRuns: tries(40, 200) },
    );
  });

  it('takes the upright line of a shape with many, and where that meets the outline', () => {
    for (const path of [oblong(100, 50, 300, 250), circle({ x: 200, y: 150 }, 100)]) {
      const { from, to, off } = mirrorLineOf(path, 0.1)!;
      expect(off).toBeLessThan(1e-9);
      expect([from.x, from.y, to.x, to.y].map((v) => Math.round(v * 1e6) / 1e6)).toEqual([
        200, 50, 200, 250,
      ]);
    }
  });

  it('keeps to its tolerance', () => {
    const path = oblong(0, 0, 400, 300);
    const dented = {
      ...path,
      vertices: path.vertices.map((v, i) => (i === 1 ? { ...v, x: 410, y: -7 } : v)),
    };
    expect(mirrorLineOf(dented, 2)).toBeNull();
    expect(mirrorLineOf(dented, 20)!.off).toBeGreaterThan(2);
  });
});

describe('mirrorFit', () => {
  it('lays an outline on its mirror image, wherever that is', () => {
    fc.assert(
      fc.property(seed, isometry, (n, motion) => {
        const random = randomFrom(n);
        const path = handedOutline(random);
        const flipped = compose(motion, reflection({ x: 0, y: 0 }, 90));
        const way = isMirror(flipped) ? flipped : motion;
        const there = drawnOtherwise(transformPath(way, path), random);
        const fit = mirrorFit(path, there, 1)!;
        expect(fit).not.toBeNull();
        expect(isMirror(fit.motion)).toBe(true);
        expect(fit.off).toBeLessThan(1e-2);
        expect(deviation(transformPath(fit.motion, path), there).distance).toBeLessThan(0.05);
      }),
      { numRuns: tries(30, 150) },
    );
  });

  it('is none for a copy that is no mirror image, nor for another shape', () => {
    fc.assert(
      fc.property(seed, (n) => {
        const path = handedOutline(randomFrom(n));
        const copy = transformPath(compose(translation({ x: 900, y: 5 }), rotation(30)), path);
        expect(mirrorFit(path, copy, 1)).toBeNull();
        expect(mirrorFit(path, oblong(0, 0, 300, 200), 1)).toBeNull();
      }),
      { numRuns: tries(20, 100) },
    );
  });

  it('says how far two are apart where one was changed', () => {
    const path = oblong(0, 0, 400, 300);
    const vertices = path.vertices.map((v, i) => (i === 2 ? { ...v, y: 303 } : v));
    const changed = { closed: true, vertices };
    const fit = mirrorFit(path, changed, 5)!;
    const apart = deviation(transformPath(fit.motion, path), changed).distance;
    expect(fit.off).toBeCloseTo(apart, 1);
    expect(fit.off).toBeGreaterThan(0.7);
    expect(fit.off).toBeLessThan(3);
  });
});
