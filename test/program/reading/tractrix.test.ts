import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance } from '../../../src/geometry/paths/point.ts';
import type { Dragged } from '../../../src/program/reading/tractrix.ts';
import { dragStraight, tipOf } from '../../../src/program/reading/tractrix.ts';
import { evenly } from '../../knife/sample-parts.ts';

function degrees(radians: number): number {
  return (radians * 180) / Math.PI;
}

/** The knife after its axis went round a circle in steps of a hundredth of a degree. */
function dragRound(knife: Dragged, radius: number, deg: number, offset: number): Dragged {
  let now = knife;
  const start = Math.atan2(knife.axis.y, knife.axis.x);
  const steps = Math.round(Math.abs(deg) * 100);
  for (let i = 1; i <= steps; i++) {
    const angle = start + (deg * Math.PI * i) / (180 * steps);
    now = dragStraight(now, { x: radius * Math.cos(angle), y: radius * Math.sin(angle) }, offset);
  }
  return now;
}

describe('a dragged knife', () => {
  // facts 2 [D]: d 6, heading 90 degrees off: 5.70 degrees left after 18 mm, 0.772 after 30 mm.
  it.each([
    [18, 5.7, 2],
    [30, 0.772, 3],
  ])('turns into its course: after %d mm %d degrees are left', (way, left, digits) => {
    const knife = { axis: { x: 0, y: 0 }, heading: Math.PI / 2 };
    expect(degrees(dragStraight(knife, { x: way, y: 0 }, 6).heading)).toBeCloseTo(left, digits);
  });

  it('is where small steps bring it too', () => {
    fc.assert(
      fc.property(evenly(-3, 3), (heading) => {
        const whole = dragStraight({ axis: { x: 0, y: 0 }, heading }, { x: 20, y: 0 }, 6);
        let steps: Dragged = { axis: { x: 0, y: 0 }, heading };
        for (let i = 1; i <= 100; i++) steps = dragStraight(steps, { x: i / 5, y: 0 }, 6);
        expect(steps.heading).toBeCloseTo(whole.heading, 9);
      }),
    );
  });

  // What a tractrix is: the tip moves only along the blade.
  it('moves its tip along the blade alone', () => {
    fc.assert(
      fc.property(evenly(-3, 3), (heading) => {
        const before = { axis: { x: 0, y: 0 }, heading };
        const after = dragStraight(before, { x: 1e-4, y: 0 }, 6);
        const a = tipOf(before, 6);
        const b = tipOf(after, 6);
        const aside = (b.y - a.y) * Math.cos(heading) - (b.x - a.x) * Math.sin(heading);
        expect(Math.abs(aside)).toBeLessThan(1e-9);
      }),
    );
  });

  it('keeps its tip where the axis goes round it', () => {
    const knife = { axis: { x: 6, y: 0 }, heading: 0 };
    const after = dragRound(knife, 6, 90, 6);
    expect(distance(tipOf(after, 6), { x: 0, y: 0 })).toBeLessThan(0.001);
    expect(degrees(after.heading)).toBeCloseTo(90, 1);
  });

  // facts 2 [D]: tip radius 50, offset 6: axis radius 50.3587, ahead by 6.8428 degrees.
  it('settles on the circle that the generator counts on', () => {
    const knife = { axis: { x: 50.3587, y: 0 }, heading: Math.PI / 2 };
    const after = dragRound(knife, 50.3587, 120, 6);
    const tip = tipOf(after, 6);
    expect(Math.hypot(tip.x, tip.y)).toBeCloseTo(50, 3);
    const lead = degrees(Math.atan2(after.axis.y, after.axis.x) - Math.atan2(tip.y, tip.x));
    expect(lead).toBeCloseTo(6.8428, 2);
  });
});
