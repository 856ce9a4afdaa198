import type { Path } from '../geometry/path.ts';
import { segmentsOf } from '../geometry/path.ts';
import { arcOf } from '../geometry/segment.ts';
import { headingOf } from '../geometry/angle.ts';
import type { Point } from '../geometry/point.ts';
import { decimal } from '../numbers.ts';

/** A length on a picture: mm with two decimals. */
export function mm(value: number): string {
  return decimal(value, 2);
}

/** Text for XML and HTML, in content and in attributes. */
export function escapeXml(text: string): string {
  // Control characters are not allowed in XML at all, not even written as references.
  // oxlint-disable-next-line no-control-regex
  const clean = text.replaceAll(/[\u0000-\u0008\u000B\u000C\u000E-\u001F]/g, '\uFFFD');
  return clean
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

/**
 * The `d` of an SVG path, arcs as arcs. The path's y must already run down the page, so that a
 * counter-clockwise arc of the path's own numbers is drawn with sweep flag 1.
 */
export function pathData(path: Path): string {
  const [first] = path.vertices;
  if (first === undefined) return '';
  const pieces = segmentsOf(path).map((segment) => {
    const end = `${mm(segment.to.x)} ${mm(segment.to.y)}`;
    if (segment.bulge === 0) return `L${end}`;
    const { radius, sweep } = arcOf(segment);
    const large = Math.abs(sweep) > Math.PI ? 1 : 0;
    return `A${mm(radius)} ${mm(radius)} 0 ${large} ${sweep > 0 ? 1 : 0} ${end}`;
  });
  return `M${mm(first.x)} ${mm(first.y)}${pieces.join('')}${path.closed ? 'Z' : ''}`;
}

export function rect(
  x: number,
  y: number,
  width: number,
  height: number,
  attributes: string,
): string {
  return `<rect x="${mm(x)}" y="${mm(y)}" width="${mm(width)}" height="${mm(height)}" ${attributes}/>`;
}

/** An arrow through a point of the page, `deg` clockwise from the right. */
export function arrow(at: Point, deg: number, length: number, width: number): string {
  const { x, y } = headingOf(deg);
  const tip = { x: at.x + (x * length) / 2, y: at.y + (y * length) / 2 };
  const barb = (turn: number): string => {
    const h = headingOf(deg + turn);
    return `M${mm(tip.x)} ${mm(tip.y)}l${mm(h.x * 4 * width)} ${mm(h.y * 4 * width)}`;
  };
  const shaft = `M${mm(tip.x - x * length)} ${mm(tip.y - y * length)}L${mm(tip.x)} ${mm(tip.y)}`;
  return `<path d="${shaft}${barb(150)}${barb(-150)}" fill="none" stroke="#1b1b1b" stroke-width="${mm(width)}" stroke-linecap="round"/>`;
}
