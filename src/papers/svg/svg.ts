import type { Box } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { segmentsOf } from '../../geometry/paths/path.ts';
import { arcOf } from '../../geometry/paths/segment.ts';
import { headingOf } from '../../geometry/paths/angle.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { decimal, rounded } from '../../base/numbers.ts';

/** A length in a picture: mm with two decimals. */
export function mm(value: number): string {
  return decimal(value, 2);
}

/** Text for XML and HTML, in content and in attributes. */
export function escapeXml(text: string): string {
  // Characters that XML does not allow at all, not even written as references.
  // oxlint-disable-next-line no-control-regex
  const clean = text.replaceAll(/[\0-\x08\x0B\x0C\x0E-\x1F\uFFFE\uFFFF]|\p{Surrogate}/gu, '\uFFFD');
  return clean
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

/**
 * The `d` of an SVG path, with arcs as arcs. The path's y must already point down the page: then an arc
 * that is counter-clockwise in the path's own numbers has the sweep flag 1.
 */
export function pathData(path: Path): string {
  const [first] = path.vertices;
  if (first === undefined) return '';
  const pieces = segmentsOf(path).map((segment) => {
    const [from, to] = [onPage(segment.from), onPage(segment.to)];
    const end = `${mm(to.x)} ${mm(to.y)}`;
    if (segment.bulge === 0 || distance(from, to) === 0) return `L${end}`;
    // The radius is worked out from the rounded ends. Otherwise that of a half circle could be less than
    // half its chord, and the arc would become flat.
    const { radius, sweep } = arcOf({ from, to, bulge: segment.bulge });
    const r = decimal(radius, 4);
    return `A${r} ${r} 0 ${Math.abs(sweep) > Math.PI ? 1 : 0} ${sweep > 0 ? 1 : 0} ${end}`;
  });
  return `M${mm(first.x)} ${mm(first.y)}${pieces.join('')}${path.closed ? 'Z' : ''}`;
}

function onPage({ x, y }: Point): Point {
  return { x: rounded(x, 2), y: rounded(y, 2) };
}

/**
 * A whole picture with a width and height in its own unit: mm on paper, or on the roll. `type`: height of
 * the type unless an element says otherwise.
 */
export function svgPage(
  {
    width,
    height,
    type,
  }: { readonly width: number; readonly height: number; readonly type: number },
  title: string,
  content: readonly string[],
): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 ${mm(width)} ${mm(height)}" font-family="'DejaVu Sans', Arial, sans-serif" font-size="${mm(type)}" fill="#1b1b1b">`,
    `<title>${escapeXml(title)}</title>`,
    ...content,
    '</svg>\n',
  ].join('\n');
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

/** What is drawn, cut off at the sides of a box of the page. */
export function cutOffAt({ minX, minY, maxX, maxY }: Box, content: string): string {
  if (content === '') return '';
  const width = mm(maxX - minX);
  const height = mm(maxY - minY);
  const [x, y] = [mm(minX), mm(minY)];
  return `<svg x="${x}" y="${y}" width="${width}" height="${height}" viewBox="${x} ${y} ${width} ${height}">${content}</svg>`;
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

/** Bold words in a white ring whose middle is at a point of the page. `type`: height of the type. */
export function ringed(
  words: string | number,
  { x, y }: Point,
  {
    radius,
    weight,
    type,
  }: { readonly radius: number; readonly weight: number; readonly type: number },
): string {
  return (
    `<circle cx="${mm(x)}" cy="${mm(y)}" r="${radius}" fill="#ffffff" stroke="#1b1b1b" stroke-width="${weight}"/>` +
    `<text x="${mm(x)}" y="${mm(y + 0.36 * type)}" text-anchor="middle" font-weight="bold">${words}</text>`
  );
}

/** An upright cross through a point of the page: it stands for a point of a drawing. */
export function drawCross({ x, y }: Point, size: number, attributes: string): string {
  const half = size / 2;
  return `<path d="M${mm(x - half)} ${mm(y)}H${mm(x + half)}M${mm(x)} ${mm(y - half)}V${mm(y + half)}" fill="none" ${attributes}/>`;
}
