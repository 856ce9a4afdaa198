import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Drive, WayPiece } from '../../../src/knife/time/speeds.ts';
import { secondsFromRest, secondsOfWay } from '../../../src/knife/time/speeds.ts';

function secondsOfAll(runs: readonly WayPiece[], drive: Drive): number {
  return secondsOfWay(runs, drive).reduce((sum, seconds) => sum + seconds, 0);
}

// Kinematics of constant acceleration, worked by hand; lengths in mm, seconds.
describe('a way from rest to rest', () => {
  it('of 1000 mm at 300 mm/s and 2500 mm/s2 takes 1000 / 300 + 300 / 2500 s', () => {
    expect(secondsFromRest(1000, 300, 2500)).toBeCloseTo(3.45333, 5);
  });

  it('too short to come to speed takes 2 sqrt(L / a)', () => {
    expect(secondsFromRest(10, 300, 2500)).toBeCloseTo(2 * Math.sqrt(10 / 2500), 12);
  });

  it('of no length takes no time', () => {
    expect(secondsFromRest(0, 300, 2500)).toBe(0);
  });
});

describe('runs one after the other', () => {
  const drive = { acceleration: 2000, jump: 20 };
  const run = (length: number, turnDeg = 0, speed = 200) => ({ length, speed, turnDeg });

  // At a right angle a velocity v changes by v sqrt 2: a jump of 20 lets 14.142 mm/s through. Each
  // side then goes up to 200 (or down from it) in 200 / a and between 200 and 14.142 in 185.858 / a.
  it('slow down at a right angle to jump / sqrt 2', () => {
    const corner = 20 / Math.SQRT2;
    const changing = (200 ** 2 + (200 ** 2 - corner ** 2)) / (2 * 2000);
    const side = 200 / 2000 + (200 - corner) / 2000 + (100 - changing) / 200;
    expect(secondsOfAll([run(100), run(100, 90)], drive)).toBeCloseTo(2 * side, 12);
  });

  it('stop nearly where they turn back: half the jump is left', () => {
    const there = secondsOfAll([run(100), run(100, 180)], drive);
    expect(there).toBeLessThan(2 * secondsFromRest(100, 200, 2000));
    expect(there).toBeGreaterThan(2 * secondsFromRest(100, 200, 2000) - 2 * (10 / 2000));
  });

  it('straight on are one', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 500, noNaN: true }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        (length, share) => {
          const split = [run(length * share), run(length * (1 - share))];
          expect(secondsOfAll(split, drive)).toBeCloseTo(secondsFromRest(length, 200, 2000), 9);
        },
      ),
    );
  });

  const runs = fc.array(
    fc.record({
      length: fc.double({ min: 1, max: 900, noNaN: true }),
      speed: fc.double({ min: 1, max: 400, noNaN: true }),
      turnDeg: fc.double({ min: -180, max: 180, noNaN: true }),
    }),
    { minLength: 1, maxLength: 12 },
  );
  const atSpeed = (all: readonly { length: number; speed: number }[]): number =>
    all.reduce((sum, { length, speed }) => sum + length / speed, 0);

  it('are never faster than lengths over speeds, and no slower with a stronger drive', () => {
    fc.assert(
      fc.property(runs, fc.double({ min: 1, max: 5, noNaN: true }), (all, factor) => {
        const seconds = secondsOfAll(all, drive);
        expect(seconds).toBeGreaterThanOrEqual(atSpeed(all) * (1 - 1e-9));
        const stronger = { acceleration: drive.acceleration * factor, jump: drive.jump * factor };
        expect(secondsOfAll(all, stronger)).toBeLessThanOrEqual(seconds * (1 + 1e-9));
      }),
    );
  });

  it('come to lengths over speeds with a drive that can do anything', () => {
    fc.assert(
      fc.property(runs, (all) => {
        const seconds = secondsOfAll(all, { acceleration: 1e12, jump: 1e12 });
        expect(seconds / atSpeed(all)).toBeCloseTo(1, 4);
      }),
    );
  });
});
