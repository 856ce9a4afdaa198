import type { Box } from '../../../geometry/paths/box.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import { transformPoint } from '../../../geometry/paths/transform.ts';
import { mm } from '../../svg/svg.ts';

/** Space that the figures of a ruler need to the left of a drawing and below it, mm on the page. */
export const rulerRoom = { left: 9, below: 6 };

/** Height of the figures, mm. */
const figures = 2.5;
/** Least distance between figures, mm on the page. */
const least = 14;

/**
 * Figures to the left of a drawing and below it by which a place is found: mm in the frame of the block, across and
 * upwards. `box`: what is drawn, in that frame; `corner`: the lower left corner of the ruler on the page.
 */
export function drawFigures(box: Box, onPage: Transform, corner: { x: number; y: number }): string {
  const step = stepFor(least / onPage.a);
  const line = 'fill="none" stroke="#55514a" stroke-width="0.2"';
  const across = multiples(step, box.minX, box.maxX).map((value) => {
    const { x } = transformPoint(onPage, { x: value, y: 0 });
    return {
      tick: `M${mm(x)} ${mm(corner.y)}v-1.2`,
      text: figure(value, x, corner.y + figures, 'middle'),
    };
  });
  const up = multiples(step, box.minY, box.maxY).map((value) => {
    const { y } = transformPoint(onPage, { x: 0, y: value });
    return {
      tick: `M${mm(corner.x)} ${mm(y)}h1.2`,
      text: figure(value, corner.x - 0.6, y + 0.36 * figures, 'end'),
    };
  });
  const all = [...across, ...up];
  return `<g font-size="${figures}" fill="#55514a"><path d="${all.map(({ tick }) => tick).join('')}" ${line}/>${all.map(({ text }) => text).join('')}</g>`;
}

function figure(value: number, x: number, y: number, anchor: string): string {
  return `<text x="${mm(x)}" y="${mm(y)}" text-anchor="${anchor}">${value}</text>`;
}

/** The least of 1, 2, 5, 10, 20, 50 ... that is no less than a length. */
function stepFor(length: number): number {
  const power = 10 ** Math.floor(Math.log10(length));
  return [1, 2, 5, 10].map((one) => one * power).find((one) => one >= length)!;
}

function multiples(step: number, from: number, to: number): number[] {
  const first = Math.ceil(from / step);
  // Adding 0 makes a plain zero of -0.
  return Array.from(
    { length: Math.floor(to / step) - first + 1 },
    (_, i) => (first + i) * step + 0,
  );
}
