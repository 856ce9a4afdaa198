import type { Path } from '../../../geometry/paths/path.ts';
import { polyline } from '../../../geometry/paths/path.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import { transformPath } from '../../../geometry/paths/transform.ts';
import type { Part } from '../../../handing/part.ts';
import type { Fill } from '../../svg/fills.ts';
import { drawFill } from '../../svg/fills.ts';
import type { FittedText, TextBlock, TextRoom } from '../../svg/label.ts';
import { breaksOf, fitTextIn, lineSpacing, textRoom } from '../../svg/label.ts';
import { arrow, drawCross, escapeXml, mm, pathData } from '../../svg/svg.ts';

/**
 * The space for the arrow of the pile below a text: its height in lines, and its width as a share of the
 * type.
 */
const arrowRoom = { rows: 0.8, width: 2.4 };

/** A part where it lies, on the page: x along the roll, y down from the far edge of the roll. */
export interface PartOnPage {
  readonly part: Part;
  readonly transform: Transform;
  readonly fill: Fill;
  /** Direction of the pile on the page, degrees clockwise from the right. null: no pile direction. */
  readonly pageDeg: number | null;
}

/**
 * Draws a part: filled, cutouts open, net outline thin, marks dashed, notches as strokes. It shows its
 * label when it is pointed at.
 */
export function drawPart({ part, transform, fill }: PartOnPage, type: number): string {
  const place = (path: Path): string => pathData(transformPath(transform, path));
  const contours = contoursOf(part, transform);
  const thin = mm(type / 22);
  const marks = part.marks
    .filter(({ path }) => path.vertices.length > 1)
    .map(({ path }) => place(path));
  const dots = part.marks.filter(({ path }) => path.vertices.length === 1);
  const notches = part.notches.map(({ from, to }) => place(polyline([from, to], false)));
  const net =
    part.net === part.cut
      ? ''
      : `<path d="${place(part.net)}" fill="none" stroke="#6b675f" stroke-width="${thin}"/>`;
  return [
    `<g><title>${escapeXml(part.label)}</title>`,
    drawFill(fill, contours, 1.1 * type),
    `<path d="${contours.map(pathData).join('')}" fill="none" stroke="#1b1b1b" stroke-width="${mm(type / 12)}" stroke-linejoin="round"/>`,
    net,
    marks.length === 0
      ? ''
      : `<path d="${marks.join('')}" fill="none" stroke="#55514a" stroke-width="${thin}" stroke-dasharray="${mm(type / 2)} ${mm(type / 3)}"/>`,
    ...dots.map(({ path }) =>
      drawCross(
        transformPath(transform, path).vertices[0]!,
        type / 2,
        `stroke="#55514a" stroke-width="${thin}"`,
      ),
    ),
    notches.length === 0
      ? ''
      : `<path d="${notches.join('')}" stroke="#1b1b1b" stroke-width="${mm(type / 8)}"/>`,
    '</g>',
  ]
    .filter((line) => line !== '')
    .join('\n');
}

/**
 * The name of a part, then set and order as in its label, with space for the arrow of the pile, if that
 * fits the part in type no smaller than `type`. null: it fits nowhere.
 */
export function fittedName(drawn: PartOnPage, room: TextRoom, type: number): FittedText | null {
  // A name is broken after its hyphens, which stay.
  const breaks = breaksOf(drawn.part.name.split(/(?<=-)/));
  const settings = breaks.map((lines) => lines.concat(setAndOrder(drawn.part)));
  return fitTextIn({ settings, below: belowName(drawn) }, room, {
    smallest: type,
    largest: 1.5 * type,
  });
}

export function setAndOrder({ set, order }: Part): string {
  return `${set}.${order}`;
}

/** The space below a name for the arrow of the pile. */
function belowName({ pageDeg }: PartOnPage): TextBlock['below'] {
  return pageDeg === null ? { rows: 0, width: 0 } : arrowRoom;
}

/** The room that a part has for its name or its number. */
export function roomOn({ part, transform }: PartOnPage): TextRoom {
  const [outline, ...holes] = contoursOf(part, transform);
  return textRoom(outline!, holes);
}

/** Draws a number on a part that is too small for its name, with the arrow of the pile if that fits. */
export function drawNumber(
  drawn: PartOnPage,
  room: TextRoom,
  number: number,
  type: number,
): string {
  const lines = [String(number)];
  const sizes = { smallest: type, largest: type };
  const fitted = fitTextIn({ settings: [lines], below: belowName(drawn) }, room, sizes);
  if (fitted !== null) return drawLabel(fitted, drawn.pageDeg);
  return drawLabel({ lines, size: type, centre: room.middle }, null);
}

/** Draws a text on a part, always upright, and below it the arrow of the pile. */
export function drawLabel({ lines, size, centre }: FittedText, pageDeg: number | null): string {
  const rows = lines.length + (pageDeg === null ? 0 : arrowRoom.rows);
  const top = centre.y - (rows * size * lineSpacing) / 2;
  const text = lines.map((line, i) => {
    const weight = i === 0 || i < lines.length - 1 ? ' font-weight="bold"' : '';
    return `<text x="${mm(centre.x)}" y="${mm(top + (i + 0.85) * size * lineSpacing)}"${weight}>${escapeXml(line)}</text>`;
  });
  const arrowAt = { x: centre.x, y: top + (lines.length + 0.45) * size * lineSpacing };
  const pile = pageDeg === null ? '' : arrow(arrowAt, pageDeg, arrowRoom.width * size, size / 9);
  return `<g font-size="${mm(size)}" text-anchor="middle" stroke="#ffffff" stroke-width="${mm(size / 5)}" stroke-linejoin="round" paint-order="stroke">${text.join('')}</g>${pile}`;
}

/** The outline and then the holes of a part, on the page. */
function contoursOf({ cut, inner }: Part, transform: Transform): Path[] {
  return [cut, ...inner.map(({ path }) => path)].map((path) => transformPath(transform, path));
}
