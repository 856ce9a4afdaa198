import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { View } from '../../../../src/web/page/picture/view.ts';
import {
  broughtIn,
  shiftBetween,
  fittedView,
  isFarOff,
  keptOver,
  panned,
  seenIn,
  toDrawn,
  toScreen,
  zoomed,
} from '../../../../src/web/page/picture/view.ts';

const size = { width: 1440, height: 700 };
const view: View = { scale: 0.2, left: 100, top: 2100 };
const anyView = fc.record({
  scale: fc.double({ min: 0.01, max: 8, noNaN: true }),
  left: fc.double({ min: -1000, max: 50_000, noNaN: true }),
  top: fc.double({ min: -1000, max: 5000, noNaN: true }),
});
const anySpot = fc.record({
  x: fc.double({ min: 0, max: 1440, noNaN: true }),
  y: fc.double({ min: 0, max: 700, noNaN: true }),
});

describe('the view of a roll', () => {
  it('has x to the right and y upwards', () => {
    expect(toScreen(view, { x: 100, y: 2100 })).toEqual({ x: 0, y: 0 });
    expect(toScreen(view, { x: 200, y: 2000 })).toEqual({ x: 20, y: 20 });
  });

  it('finds the spot of the roll that it shows', () => {
    fc.assert(
      fc.property(anyView, anySpot, (any, spot) => {
        const back = toScreen(any, toDrawn(any, spot));
        expect(back.x).toBeCloseTo(spot.x, 6);
        expect(back.y).toBeCloseTo(spot.y, 6);
      }),
    );
  });

  it('keeps what is below the pointer there when it zooms', () => {
    fc.assert(
      fc.property(anyView, anySpot, fc.double({ min: 0.3, max: 3, noNaN: true }), (any, at, by) => {
        const closer = zoomed(any, at, by, 0.005);
        const [before, after] = [toDrawn(any, at), toDrawn(closer, at)];
        expect(after.x).toBeCloseTo(before.x, 5);
        expect(after.y).toBeCloseTo(before.y, 5);
      }),
    );
  });

  it('zooms no farther than its limits', () => {
    expect(zoomed(view, { x: 0, y: 0 }, 0.001, 0.1).scale).toBe(0.1);
    expect(zoomed(view, { x: 0, y: 0 }, 1000, 0.1).scale).toBe(8);
  });

  it('fits an extent below the ruler', () => {
    const fit = fittedView([0, 0, 6000, 2000], size, 16, 30);
    const [left, bottom, right, top] = seenIn(fit, { ...size });
    expect(left).toBeLessThanOrEqual(-15 / fit.scale);
    expect(right).toBeGreaterThanOrEqual(6000 + 15 / fit.scale);
    expect(bottom).toBeLessThan(0);
    expect(toScreen(fit, { x: 0, y: 2000 }).y).toBeGreaterThanOrEqual(46);
    expect(top).toBeGreaterThan(2000);
  });

  it('follows the hand', () => {
    const moved = panned(view, { x: 30, y: 10 });
    expect(toScreen(moved, toDrawn(view, { x: 5, y: 5 })).x).toBeCloseTo(35);
    expect(toScreen(moved, toDrawn(view, { x: 5, y: 5 })).y).toBeCloseTo(15);
  });

  it('is never panned off the roll', () => {
    const kept = keptOver(panned(view, { x: 1e6, y: -1e6 }), [0, 0, 6000, 2000], size);
    const middle = toDrawn(kept, { x: 720, y: 350 });
    expect(middle.x).toBeCloseTo(0);
    expect(middle.y).toBeCloseTo(0);
  });

  it('moves no farther than brings a part in', () => {
    expect(broughtIn(view, [1000, 1000, 1100, 1100], size, 20)).toEqual(view);
    const moved = broughtIn(view, [9000, 1000, 9100, 1100], size, 20);
    expect(toScreen(moved, { x: 9100, y: 1000 }).x).toBeCloseTo(1420);
    expect(moved.top).toBe(view.top);
  });

  it('says where an older picture lies and when it is of little use', () => {
    expect(shiftBetween(view, panned(view, { x: 30, y: 10 })).x).toBeCloseTo(30);
    expect(shiftBetween(view, { ...view, scale: 0.4 }).factor).toBe(2);
    expect(isFarOff(view, panned(view, { x: 30, y: 10 }), size)).toBe(false);
    expect(isFarOff(view, panned(view, { x: 600, y: 0 }), size)).toBe(true);
    expect(isFarOff(view, { ...view, scale: 0.5 }, size)).toBe(true);
  });
});
