import type { Severity } from '../../../base/findings.ts';
import type { Box } from '../../../geometry/paths/box.ts';
import { boxContains, growBox, boxOfPoints } from '../../../geometry/paths/box.ts';
import { headingOf } from '../../../geometry/paths/angle.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import { distance, minus, plus, times, unit } from '../../../geometry/paths/point.ts';
import { mm } from '../../svg/svg.ts';

/** Radius of the ring round a number, mm. */
export const ringRadius = 2.5;

/**
 * Rings are full for errors, open for warnings, broken for notes, so that they differ in black and white.
 */
const looks: Readonly<Record<Severity, { fill: string; ink: string; dash: string }>> = {
  error: { fill: '#8f1d14', ink: '#ffffff', dash: '' },
  warning: { fill: '#ffffff', ink: '#1b1b1b', dash: '' },
  note: { fill: '#ffffff', ink: '#55514a', dash: ' stroke-dasharray="1 0.7"' },
};

/** A number in a ring round a point of the page. */
export function drawRing(number: number, severity: Severity, { x, y }: Point): string {
  const { fill, ink, dash } = looks[severity];
  const text = String(number);
  const size = text.length > 2 ? 1.9 : 2.7;
  const edge = severity === 'error' ? fill : ink;
  return (
    `<circle cx="${mm(x)}" cy="${mm(y)}" r="${ringRadius}" fill="${fill}" stroke="${edge}" stroke-width="0.5"${dash}/>` +
    `<text x="${mm(x)}" y="${mm(y + 0.36 * size)}" font-size="${size}" font-weight="bold" text-anchor="middle" fill="${ink}">${text}</text>`
  );
}

/** A dot at the exact place, and a line from it to the ring beside it. */
export function drawMark(number: number, severity: Severity, spot: Point, ring: Point): string {
  const end = plus(ring, times(unit(minus(spot, ring)), ringRadius));
  const [x, y] = [mm(spot.x), mm(spot.y)];
  return (
    `<path d="M${x} ${y}L${mm(end.x)} ${mm(end.y)}" fill="none" stroke="#1b1b1b" stroke-width="0.3"/>` +
    `<circle cx="${x}" cy="${y}" r="0.7" fill="#1b1b1b"/>${drawRing(number, severity, ring)}`
  );
}

/** How far a ring may stand from its spot, mm, and in how many directions. */
const reaches = [5, 7.5, 10, 13, 16, 20, 24, 29, 35, 42, 50, 60];
const directions = 24;

/**
 * The middle of a ring for each spot, inside a box of the page: as near to the spot as possible without
 * covering a spot or another ring. If there is no room at all, it is on the spot.
 */
export function ringsBeside(spots: readonly Point[], box: Box): Point[] {
  const rings: Point[] = [];
  for (const spot of spots) {
    const free = candidates(spot).find(
      (at) =>
        boxContains(box, growBox(boxOfPoints([at]), ringRadius)) &&
        rings.every((ring) => distance(ring, at) > 2 * ringRadius + 0.5) &&
        spots.every((other) => distance(other, at) > ringRadius + 1),
    );
    rings.push(free ?? spot);
  }
  return rings;
}

function candidates(spot: Point): Point[] {
  return reaches.flatMap((reach) =>
    Array.from({ length: directions }, (_, i) =>
      plus(spot, times(headingOf((i * 360) / directions - 45), reach)),
    ),
  );
}
