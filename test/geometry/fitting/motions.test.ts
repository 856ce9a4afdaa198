import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bestMotion,
  isCongruent,
  motionsBetween,
  shiftOf,
  turnOf,
} from '../../../src/geometry/fitting/motions.ts';
import { deviation } from '../../../src/geometry/fitting/deviation.ts';
import { circle } from '../../../src/geometry/paths/path.ts';
import {
  compose,
  identity,
  isMirror,
  reflection,
  rotation,
  transformPath,
  translation,
} from '../../../src/geometry/paths/transform.ts';
import { isometry } from '../arbitrary.ts';
import { oblong } from '../../handing/fixtures.ts';
import { randomFrom } from '../../support/random.ts';
import { drawnOtherwise, handedOutline } from '../../compare/shapes.ts';
import { tries } from '../../support/thorough.ts';

const seed = fc.integer({ min: 0, max: 2 ** 31 });

describe('the motions between two paths', () => {
  it('are found for whatever was turned, moved or mirrored and drawn otherwise, and the mirror is seen', () => {
    fc.assert(
      fc.property(seed, isometry, (n, motion) => {
        const random = randomFrom(n);
        const path = handedOutline(random);
        const there = drawnOtherwise(transformPath(motion, path), random);
        const [found] = motionsBetween(path, there, 0.01);
        expect(found).toBeDefined();
        expect(isMirror(found!)).toBe(isMirror(motion));
        expect(deviation(transformPath(found!, path), there).distance).toBeLessThan(0.01);
        expect(shiftOf(found!, path)).toBeCloseTo(shiftOf(motion, path), 1);
      }),
      { numRuns: tries(20, 60) },
    );
  });

  it('are none where a corner was moved by more than the tolerance', () => {
    fc.assert(
      fc.property(seed, isometry, (n, motion) => {
        const random = randomFrom(n);
        const path = handedOutline(random);
        const k = random.below(path.vertices.length);
        const changed = {
          ...path,
          vertices: path.vertices.map((v, i) => (i === k ? { ...v, x: v.x + 3, y: v.y - 2 } : v)),
        };
        expect(isCongruent(path, transformPath(motion, changed), 0.05)).toBe(false);
      }),
      { numRuns: tries(20, 60) },
    );
  });

  it('prefer to move, then to turn by least, and mirror only what nothing else lays there', () => {
    const box = oblong(0, 0, 400, 300);
    const [moved] = motionsBetween(box, oblong(1000, 50, 1400, 350), 0.01);
    expect(turnOf(moved!)).toBe(0);
    expect(shiftOf(moved!, box)).toBeCloseTo(Math.hypot(1000, 50), 6);
    // Laid across: a quarter turn one way or the other, and never a mirror.
    const [turned] = motionsBetween(box, oblong(0, 0, 300, 400), 0.01);
    expect(isMirror(turned!)).toBe(false);
    expect(Math.abs(turnOf(turned!))).toBeCloseTo(90, 3);
    // An oblong is its own mirror image.
    const [image] = motionsBetween(box, transformPath(reflection({ x: 700, y: 0 }, 90), box), 0.01);
    expect(isMirror(image!)).toBe(false);
  });

  it('know a circle by its size, wherever it is begun', () => {
    const [motion] = motionsBetween(
      circle({ x: 10, y: 20 }, 40),
      drawnOtherwise(circle({ x: 500, y: 80 }, 40), randomFrom(4)),
      0.01,
    );
    expect(shiftOf(motion!, circle({ x: 10, y: 20 }, 40))).toBeCloseTo(Math.hypot(490, 60), 3);
    expect(motionsBetween(circle({ x: 0, y: 0 }, 40), circle({ x: 0, y: 0 }, 40.1), 0.01)).toEqual(
      [],
    );
  });

  it('of open lines run either way', () => {
    const line = {
      closed: false,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 100, y: 0, bulge: 0.3 },
        { x: 160, y: 90, bulge: 0 },
      ],
    };
    const motion = compose(translation({ x: 40, y: 7 }), rotation(33));
    const there = transformPath(motion, line);
    const back = {
      closed: false,
      vertices: [
        { ...there.vertices[2]!, bulge: -0.3 },
        { ...there.vertices[1]!, bulge: 0 },
        { ...there.vertices[0]!, bulge: 0 },
      ],
    };
    const [found] = motionsBetween(line, back, 0.01);
    expect(isMirror(found!)).toBe(false);
    expect(turnOf(found!)).toBeCloseTo(33, 3);
  });
});

describe('the motion of what was changed too', () => {
  it('is none where it lies as it did', () => {
    fc.assert(
      fc.property(seed, (n) => {
        const random = randomFrom(n);
        const path = handedOutline(random);
        const k = random.below(path.vertices.length);
        const changed = {
          ...path,
          vertices: path.vertices.map((v, i) => (i === k ? { ...v, x: v.x + 4 } : v)),
        };
        expect(bestMotion(path, changed)).toBe(identity);
      }),
      { numRuns: tries(20, 60) },
    );
  });

  it('is that of the rest where it was moved', () => {
    fc.assert(
      fc.property(seed, (n) => {
        const random = randomFrom(n);
        const path = handedOutline(random);
        const changed = {
          ...path,
          vertices: path.vertices.map((v, i) => (i === 3 ? { ...v, x: v.x + 4 } : v)),
        };
        const there = transformPath(translation({ x: 250, y: -30 }), changed);
        const motion = bestMotion(path, there);
        expect(Math.abs(turnOf(motion))).toBeLessThan(0.02);
        expect(shiftOf(motion, path)).toBeCloseTo(Math.hypot(250, 30), 1);
      }),
      { numRuns: tries(20, 60) },
    );
  });
});
