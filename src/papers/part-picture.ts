import { roomiestPoint } from '../geometry/interior.ts';
import type { Path } from '../geometry/path.ts';
import { polyline } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { Transform } from '../geometry/transform.ts';
import { transformPath } from '../geometry/transform.ts';
import type { Part } from '../handing/part.ts';
import { fitText, lineSpacing } from './label.ts';
import { arrow, escapeXml, mm, pathData } from './svg.ts';

/** A part where it lies, on the page: x along the roll, y down from the far edge of the roll. */
export interface Drawn {
  readonly part: Part;
  readonly transform: Transform;
  readonly fill: string;
  /** Direction of the pile on the page, degrees clockwise; null without pile. */
  readonly pageDeg: number | null;
}

/** The part itself: filled, cutouts open, net outline thin, marks dashed, notches as strokes. */
export function drawPart({ part, transform, fill }: Drawn, type: number): string {
  const place = (path: Path): string => pathData(transformPath(transform, path));
  const outline = [part.cut, ...part.inner.map(({ path }) => path)].map(place).join('');
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
    `<path d="${outline}" fill="${fill}" fill-rule="evenodd" stroke="#1b1b1b" stroke-width="${mm(type / 12)}" stroke-linejoin="round"/>`,
    net,
    marks.length === 0
      ? ''
      : `<path d="${marks.join('')}" fill="none" stroke="#55514a" stroke-width="${thin}" stroke-dasharray="${mm(type / 2)} ${mm(type / 3)}"/>`,
    ...dots.map(({ path }) => drawCross(transformPath(transform, path).vertices[0]!, type)),
    notches.length === 0
      ? ''
      : `<path d="${notches.join('')}" stroke="#1b1b1b" stroke-width="${mm(type / 8)}"/>`,
  ]
    .filter((line) => line !== '')
    .join('\n');
}

function drawCross({ x, y }: Point, type: number): string {
  const r = mm(type / 4);
  return `<path d="M${mm(x)} ${mm(y)}m-${r} 0h${mm(type / 2)}m-${r} -${r}v${mm(type / 2)}" stroke="#55514a" stroke-width="${mm(type / 22)}"/>`;
}

/** Name, then set and order as in the label, and pile arrow, at the roomiest place of a part, always upright. */
export function drawLabel({ part, transform, pageDeg }: Drawn, type: number): string {
  const paths = [part.cut, ...part.inner.map(({ path }) => path)].map((path) =>
    transformPath(transform, path),
  );
  const { point } = roomiestPoint(paths[0]!, paths.slice(1));
  const rowsBelow = pageDeg === null ? 0 : 0.8;
  const block = { words: wordsOf(part), last: `${part.set}.${part.order}`, rowsBelow };
  const { lines, size } = fitText(block, paths, point, { smallest: type, largest: 1.5 * type });
  const top = point.y - ((lines.length + rowsBelow) * size * lineSpacing) / 2;
  const text = lines.map((line, i) => {
    const weight = i < lines.length - 1 ? ' font-weight="bold"' : '';
    return `<text x="${mm(point.x)}" y="${mm(top + (i + 0.85) * size * lineSpacing)}"${weight}>${escapeXml(line)}</text>`;
  });
  const arrowAt = { x: point.x, y: top + (lines.length + 0.45) * size * lineSpacing };
  const pile = pageDeg === null ? '' : arrow(arrowAt, pageDeg, 2.4 * size, size / 9);
  return `<g font-size="${mm(size)}" text-anchor="middle" stroke="#ffffff" stroke-width="${mm(size / 5)}" stroke-linejoin="round" paint-order="stroke">${text.join('')}</g>${pile}`;
}

/** The name in pieces that may be set on lines of their own, hyphens kept. */
function wordsOf({ name }: Part): string[] {
  return name.split(/(?<=-)/);
}
