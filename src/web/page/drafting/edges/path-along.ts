import type { Spot, StretchView } from '../../../../drafting/edge-view.ts';

/** How far apart places are looked at along a path, mm. */
const step = 2;

function pathElement(d: string): SVGPathElement {
  const element = document.createElementNS('http://www.w3.org/2000/svg', 'path');
  element.setAttribute('d', d);
  return element;
}

/** A part of a path, from and to so many mm along it, as short lines; with its middle. */
export function partOfPath(
  d: string,
  from: number,
  to: number,
): Pick<StretchView, 'd' | 'middle' | 'outward'> {
  const path = pathElement(d);
  const at = (along: number): Spot => {
    const { x, y } = path.getPointAtLength(along);
    return [x, y];
  };
  const count = Math.max(1, Math.ceil((to - from) / step));
  const spots = Array.from({ length: count + 1 }, (_, i) => at(from + ((to - from) * i) / count));
  const middle = at((from + to) / 2);
  const [before, after] = [at((from + to) / 2 - 1), at((from + to) / 2 + 1)];
  const [dx, dy] = [after[0] - before[0], after[1] - before[1]];
  const long = Math.hypot(dx, dy) || 1;
  return {
    d: `M${spots.map(([x, y]) => `${x} ${y}`).join('L')}`,
    middle,
    outward: [dy / long, -dx / long],
  };
}

/** Where a path begins. */
export function beginOfPath(d: string): Spot {
  const { x, y } = pathElement(d).getPointAtLength(0);
  return [x, y];
}

/** The place of a path that is nearest to a spot: mm along it. */
export function nearestAlong(d: string, [x, y]: Spot): number {
  const path = pathElement(d);
  const long = path.getTotalLength();
  const off = (along: number): number => {
    const at = path.getPointAtLength(along);
    return Math.hypot(at.x - x, at.y - y);
  };
  const nearest = (places: readonly number[]): number =>
    places.reduce((best, one) => (off(one) < off(best) ? one : best));
  const coarse = Array.from({ length: Math.ceil(long / step) + 1 }, (_, i) =>
    Math.min(long, i * step),
  );
  const near = nearest(coarse);
  const fine = Array.from({ length: 41 }, (_, i) => near + ((i - 20) * step) / 20);
  return nearest(fine.map((along) => Math.min(long, Math.max(0, along))));
}
