import type { Pdf } from './pdf.ts';
import { drawRun, runsOfText, widthOfRun } from './pdf.ts';
import { toPoints } from './points.ts';

/** Width and height of a picture in its own unit. */
export function sizeOfSvg(svg: string): { width: number; height: number } {
  const found = /viewBox="\S+ \S+ ([\d.]+) ([\d.]+)"/.exec(svg);
  if (found === null) throw new RangeError('a picture without a viewBox');
  return { width: Number(found[1]), height: Number(found[2]) };
}

type Attributes = Readonly<Record<string, string>>;

/**
 * Draws one of this product's pictures with its upper left corner at x, y, `width` mm wide. It only knows
 * the SVG that this product writes: paths, rectangles, circles, texts, groups that are moved, and
 * pictures inside the picture that are clipped at their edges. Throws RangeError for anything else.
 */
export function drawSvg(pdf: Pdf, svg: string, x: number, y: number, width: number): void {
  pdf.save();
  pdf.translate(toPoints(x), toPoints(y)).scale(toPoints(width) / sizeOfSvg(svg).width);
  const open: Attributes[] = [{ fill: '#000000' }];
  let text = '';
  let isWhole = true;
  for (const [, closing, name, attributes, alone, words] of svg.matchAll(markup)) {
    if (words !== undefined) {
      text = words;
      continue;
    }
    if (closing === '/') {
      const style = open.pop()!;
      if (name === 'text') drawText(pdf, plain(text), style);
      else if (name === 'g' || name === 'svg') pdf.restore();
      continue;
    }
    const said = attributesOf(attributes!);
    const style = styleBelow(open.at(-1)!, said);
    if (name === 'g' || name === 'svg') {
      pdf.save();
      if (name === 'svg' && !isWhole) window(pdf, said);
      else if (said['transform'] !== undefined) move(pdf, said['transform']);
      isWhole = false;
    } else drawShape(pdf, name!, style);
    if (alone !== '/') open.push(style);
  }
  pdf.restore();
}

const markup = /<(\/?)([a-z]+)((?:\s+[A-Za-z-]+="[^"]*")*)\s*(\/?)>|([^<]+)/g;

function attributesOf(text: string): Attributes {
  const found: Record<string, string> = {};
  for (const [, name, value] of text.matchAll(/([A-Za-z-]+)="([^"]*)"/g)) found[name!] = value!;
  return found;
}

/**
 * The attributes of an element. Those that it lacks are found on the elements round it, through the
 * prototype.
 */
function styleBelow(around: Attributes, own: Attributes): Attributes {
  return Object.assign(Object.create(around), own) as Attributes;
}

/**
 * An attribute that must stand on the element itself, such as a place or a shape. It is not inherited.
 */
function ownOf(style: Attributes, name: string): string | undefined {
  return Object.hasOwn(style, name) ? style[name] : undefined;
}

function move(pdf: Pdf, transform: string): void {
  const found = /^translate\(([-\d.]+) ([-\d.]+)\)$/.exec(transform);
  if (found === null) throw new RangeError(`no transform: ${transform}`);
  pdf.translate(Number(found[1]), Number(found[2]));
}

/** Begins a picture inside the picture, clipped at its edges. */
function window(pdf: Pdf, said: Attributes): void {
  const [x = 0, y = 0, width = 0, height = 0] = ['x', 'y', 'width', 'height'].map((name) =>
    Number(said[name] ?? 0),
  );
  const [left = 0, top = 0, wide = width] = (said['viewBox'] ?? `0 0 ${width}`)
    .split(' ')
    .map(Number);
  pdf.translate(x, y).rect(0, 0, width, height).clip();
  pdf.scale(width / wide).translate(-left, -top);
}

function drawShape(pdf: Pdf, name: string, style: Attributes): void {
  const number = (of: string): number => Number(ownOf(style, of) ?? 0);
  switch (name) {
    case 'path':
      if (ownOf(style, 'd') !== '') paint(pdf.path(ownOf(style, 'd')!), style);
      break;
    case 'rect':
      paint(pdf.rect(number('x'), number('y'), number('width'), number('height')), style);
      break;
    case 'circle':
      paint(pdf.circle(number('cx'), number('cy'), number('r')), style);
      break;
    case 'text':
    case 'title':
      break;
    default:
      throw new RangeError(`no element of this product’s pictures: ${name}`);
  }
}

function paint(pdf: Pdf, style: Attributes): void {
  const { fill = 'none', stroke = 'none' } = style;
  const rule = style['fill-rule'] === 'evenodd' ? 'even-odd' : 'non-zero';
  const opacity = Number(style['opacity'] ?? 1);
  pdf.fillOpacity(opacity * Number(style['fill-opacity'] ?? 1)).strokeOpacity(opacity);
  if (stroke !== 'none') setPen(pdf, style);
  if (fill !== 'none' && stroke !== 'none') pdf.fillAndStroke(fill, stroke, rule);
  else if (fill !== 'none') pdf.fillColor(fill).fill(rule);
  else if (stroke !== 'none') pdf.strokeColor(stroke).stroke();
}

function setPen(pdf: Pdf, style: Attributes): void {
  pdf
    .lineWidth(Number(style['stroke-width'] ?? 1))
    .lineCap(style['stroke-linecap'] === 'round' ? 'round' : 'butt')
    .lineJoin(style['stroke-linejoin'] === 'round' ? 'round' : 'miter');
  const dashes = style['stroke-dasharray'];
  if (dashes === undefined) pdf.undash();
  else pdf.dash(dashes.split(' ').map(Number) as unknown as number, {});
}

/**
 * Draws one line of text on its baseline. If letters have a halo, it is drawn first, so that it does not
 * cover parts of them.
 */
function drawText(pdf: Pdf, text: string, style: Attributes): void {
  const size = Number(style['font-size']);
  const runs = runsOfText(text, style['font-weight'] === 'bold');
  const widths = runs.map((run) => size * widthOfRun(run));
  const whole = widths.reduce((sum, width) => sum + width, 0);
  const shift = { start: 0, middle: whole / 2, end: whole }[style['text-anchor'] ?? 'start'] ?? 0;
  const draw = (pen: { fill?: boolean; stroke?: boolean }): void => {
    let x = Number(ownOf(style, 'x') ?? 0) - shift;
    for (const [i, { face, text: words }] of runs.entries()) {
      pdf.font(face).fontSize(size);
      drawRun(pdf, words, x, Number(ownOf(style, 'y') ?? 0), pen);
      x += widths[i]!;
    }
  };
  pdf.fillOpacity(1).strokeOpacity(1);
  if (style['stroke'] !== undefined) {
    setPen(pdf, style);
    pdf.strokeColor(style['stroke']);
    draw({ fill: false, stroke: true });
  }
  pdf.fillColor(style['fill']!);
  draw({});
}

const references: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  '#39': "'",
};

function plain(text: string): string {
  return text.replaceAll(/&([a-z0-9#]+);/g, (whole, name: string) => references[name] ?? whole);
}
