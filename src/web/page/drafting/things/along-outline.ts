import type { Spot } from '../../../../drafting/edge-view.ts';

/** A place on an outline: how far along it, and how far away from what was pointed at, mm. */
interface PlaceOnOutline {
  readonly at: Spot;
  readonly along: number;
  readonly off: number;
}

function pathFrom(d: string): SVGPathElement {
  const path = document.createElementNS('http://www.w3.org/2000/svg', 'path');
  path.setAttribute('d', d);
  return path;
}

/** The place on an outline (SVG path data, mm) that is nearest to a spot, to a thousandth of a mm. */
export function nearestOnOutline(d: string, [x, y]: Spot): PlaceOnOutline {
  const path = pathFrom(d);
  const length = path.getTotalLength();
  const offAt = (along: number): number => {
    const at = path.getPointAtLength(along);
    return Math.hypot(at.x - x, at.y - y);
  };
  const count = 600;
  let best = 0;
  for (let i = 1; i < count; i++) {
    if (offAt((i * length) / count) < offAt((best * length) / count)) best = i;
  }
  let [low, high] = [((best - 1) * length) / count, ((best + 1) * length) / count];
  const within = (along: number): number => Math.min(length, Math.max(0, along));
  while (high - low > 0.001) {
    const third = (high - low) / 3;
    if (offAt(within(low + third)) < offAt(within(high - third))) high -= third;
    else low += third;
  }
  const along = within((low + high) / 2);
  return { at: spotAt(path, along), along, off: offAt(along) };
}

/** The place so many mm along an outline, counter-clockwise, from the corner nearest to a spot. */
export function alongFromCorner(d: string, from: Spot, mm: number): Spot {
  const path = pathFrom(d);
  const length = path.getTotalLength();
  const { along } = nearestOnOutline(d, from);
  return spotAt(path, (((along + mm) % length) + length) % length);
}

function spotAt(path: SVGPathElement, along: number): Spot {
  const { x, y } = path.getPointAtLength(along);
  return [Math.round(x * 1000) / 1000, Math.round(y * 1000) / 1000];
}
