import { measurePath, placeAlong } from '../geometry/measuring/measured-path.ts';
import type { Path } from '../geometry/paths/path.ts';
import { pathLength } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Notch, Part } from '../handing/part.ts';
import type { CutKind } from './cuts.ts';
import { leftToBench, treatmentOf } from './cuttable.ts';
import type { Cutter } from './cutter.ts';
import { notchCuts } from './order/notch-cuts.ts';
import { sharpCorners, sharpestTurn } from './strokes/corners.ts';
import { bladeReach } from './strokes/overcut.ts';
import { shortestNotch } from './strokes/strokes.ts';

/** What the knife leaves to be done by hand on a part, with the places in the part's frame, mm. */
export interface LeftWork {
  readonly kind: 'corners' | 'notches' | 'holes' | 'cutouts';
  readonly places: readonly Point[];
  /** The side of the part that lies on the bed: a wedge at a corner is uncut there. */
  readonly below: 'back' | 'face';
}

/**
 * All that a cutter leaves to be done by hand on a part of a material of this thickness, mm: holes and
 * cutouts that are too tight, notches that are too short, and inside corners to be cut free.
 */
export function leftWorkOf(part: Part, cutter: Cutter, thickness: number): LeftWork[] {
  const bench = leftToBench(part, cutter);
  const places = (role: 'HOLE' | 'CUTOUT'): Point[] =>
    bench.filter((one) => one.role === role).map(({ at }) => at);
  const below = cutter.face === 'up' ? 'back' : 'face';
  const work: LeftWork[] = [
    { kind: 'holes', places: places('HOLE'), below },
    { kind: 'cutouts', places: places('CUTOUT'), below },
    {
      kind: 'notches',
      places: shortNotches(part, cutter, thickness).map(({ from }) => from),
      below,
    },
    { kind: 'corners', places: wedgeCorners(part, cutter, thickness), below },
  ];
  return work.filter(({ places: at }) => at.length > 0);
}

/**
 * The notches of a part that are too short for a leaning blade. So as not to cut the upper side too far,
 * it must stop so early that it cuts almost nothing.
 */
export function shortNotches(part: Part, cutter: Cutter, thickness: number): Notch[] {
  const { front, rear } = bladeReach(cutter, thickness);
  return part.notches.filter((notch) =>
    notchCuts(notch, cutter).some(
      (path) => pathLength(path) - front.upper - rear.under < shortestNotch,
    ),
  );
}

/** How long the wedge is that a leaning blade leaves uncut below, before and after an inside corner, mm. */
export function wedgeOf(cutter: Cutter, thickness: number): { before: number; after: number } {
  const { front, rear } = bladeReach(cutter, thickness);
  return { before: front.upper - front.under, after: rear.upper - rear.under };
}

/**
 * The inside corners of a part that a leaning blade does not cut through: it must stop short of them, so a
 * part of the underside stays uncut there.
 */
export function wedgeCorners(part: Part, cutter: Cutter, thickness: number): Point[] {
  const { before, after } = wedgeOf(cutter, thickness);
  if (before + after === 0) return [];
  return cutContours(part, cutter).flatMap(([kind, path]) => {
    const measured = measurePath(path);
    return sharpCorners(measured, kind, sharpestTurn(cutter))
      .filter(({ inside }) => inside)
      .map(({ along }) => placeAlong(measured, along).point)
      .map(({ x, y }) => ({ x, y }));
  });
}

/** The closed lines of a part that the knife cuts. */
export function cutContours(part: Part, cutter: Cutter): [kind: CutKind, path: Path][] {
  return [
    ['outline', part.cut],
    ...part.inner
      .filter((inner) => treatmentOf(inner, cutter) === 'cut')
      .map(({ path }): [CutKind, Path] => ['inner', path]),
  ];
}
