import { decimal } from '../../../base/numbers.ts';
import { cutShort } from '../../../base/wording.ts';
import type { Difference } from '../../../compare/difference.ts';
import type { Box } from '../../../geometry/paths/box.ts';
import { boxOfPoints, centreOf, growBox, heightOf, widthOf } from '../../../geometry/paths/box.ts';
import { boxOfPath } from '../../../geometry/paths/path.ts';
import { escapeXml, mm } from '../../svg/svg.ts';
import { drawWindow, page, placeOnPage, sorted, type } from './overlay-sheet.ts';

/** A difference that is enlarged, and its number in the list. */
export interface CloseUp {
  readonly number: number;
  readonly difference: Difference;
}

/** Size of a window and the spaces between two, and between two pairs, mm on paper. */
const size = 43;
const gap = 2;
const between = page.width - 4 * size - 2 * gap;
/** What is seen round the feature, as a share of its size; and of its part. */
const surroundings = 0.7;
const share = 0.25;
/** A window is so many times as large as the feature at most; and so many mm at least. */
const largest = 3;
const least = 12;

/**
 * Enlargements in pairs, before and after, with nothing drawn over them. Each shows the whole feature and what is
 * round it on its part.
 */
export function drawCloseUps(
  closeUps: readonly CloseUp[],
  top: number,
): { svg: string; height: number } {
  if (closeUps.length === 0) return { svg: '', height: 0 };
  const head = 1.8 * type;
  const pitch = size + 3.6 * type;
  const svg = closeUps.map(({ number, difference }, i) => {
    const x = (i % 2) * (2 * size + gap + between);
    const y = top + head + Math.floor(i / 2) * pitch;
    return `<g transform="translate(${mm(x)} ${mm(y)})">${drawPair(number, difference)}</g>`;
  });
  return {
    svg: [
      `<text y="${mm(top + type)}" font-weight="bold">Enlarged, before and after</text>`,
      ...svg,
    ].join('\n'),
    height: head + Math.ceil(closeUps.length / 2) * pitch,
  };
}

function drawPair(number: number, { kind, reach, pair, label }: Difference): string {
  const [was, is] = pair!;
  // Of an outline that differs at a place, the reach is the neighbourhood of that place already.
  const part = kind === 'outline' ? reach! : boxOfPath(is.outline);
  const box = squareRound(reach!, part);
  const drawn = sorted([was], [is]);
  const across = `${decimal(widthOf(box), 0)} mm across`;
  const title = cutShort(`${number}: ${label ?? ''}, ${across}`, 54);
  return [
    `<text y="${mm(1.1 * type)}"><tspan font-weight="bold">${escapeXml(title)}</tspan></text>`,
    drawSide(box, 0, 'before', { ...drawn, is: [] }),
    drawSide(box, size + gap, 'after, over before', drawn),
  ].join('\n');
}

function drawSide(box: Box, x: number, words: string, drawn: ReturnType<typeof sorted>): string {
  const y = 1.6 * type;
  return [
    `<g transform="translate(${mm(x)} ${mm(y)})">`,
    drawWindow(box, drawn, placeOnPage(box, size, size), size, size),
    `<rect x="0" y="0" width="${size}" height="${size}" fill="none" stroke="#1b1b1b" stroke-width="0.25"/>`,
    `<text y="${mm(size + 1.2 * type)}">${words}</text></g>`,
  ].join('\n');
}

/** A square with the whole feature, and as much of its part that it is known where it is, but the feature stays large. */
function squareRound(reach: Box, part: Box): Box {
  const feature = Math.max(widthOf(reach), heightOf(reach), least / largest);
  const whole = Math.max(widthOf(part), heightOf(part));
  const side = Math.min(Math.max(feature * (1 + surroundings), share * whole), largest * feature);
  return growBox(boxOfPoints([centreOf(reach)]), side / 2);
}
