import { basename } from 'node:path';
import type { Entity } from '../../drawing/drawing.ts';
import { centreOf, heightOf, widthOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import {
  compose,
  scaling,
  transformPath,
  transformPoint,
  translation,
} from '../../geometry/paths/transform.ts';
import { decimal } from '../../base/numbers.ts';
import type { SeenPiece, Sight } from '../../pattern/first-look/describe.ts';
import { drawCross, escapeXml, mm, pathData, rect, svgPage } from '../svg/svg.ts';
import { counted } from '../../base/wording.ts';
import { wrapped } from '../svg/wrap.ts';

/** Width of the page, A4 across, mm. It is as long as necessary. */
const page = { width: 297, margin: 10 };
const columns = 4;
const gap = 5;
const cell = {
  width: (page.width - 2 * page.margin - (columns - 1) * gap) / columns,
  /** Height of the space for the drawing of a piece, mm. */
  drawing: 44,
};
const type = 3;
const lineHeight = 1.35 * type;

/** Every piece found in a drawing, with its name and size, each as large as its cell allows. */
export function seenPicture({ report, pieces }: Sight): string {
  const title = `${basename(report.file)}: ${counted(pieces.length, 'piece')}, units ${report.units} (${report.unitsFrom})`;
  const top = page.margin + 10;
  const drawn: string[] = [];
  let y = top;
  for (let i = 0; i < pieces.length; i += columns) {
    const row = pieces.slice(i, i + columns).map(drawPiece);
    for (const [k, { svg }] of row.entries()) {
      const x = page.margin + k * (cell.width + gap);
      drawn.push(`<g transform="translate(${mm(x)} ${mm(y)})">${svg}</g>`);
    }
    y += Math.max(...row.map(({ height }) => height)) + gap;
  }
  const height = y + page.margin - gap;
  return svgPage({ width: page.width, height, type }, title, [
    rect(0, 0, page.width, height, 'fill="#ffffff"'),
    `<text x="${page.margin}" y="${page.margin + 4}" font-size="4.5" font-weight="bold">${escapeXml(title)}</text>`,
    ...drawn,
  ]);
}

function drawPiece({ report, outline }: SeenPiece): { svg: string; height: number } {
  const box = boxOfPath(outline.contour.path);
  const scale = Math.min(cell.width / widthOf(box), cell.drawing / heightOf(box));
  const middle = centreOf(box);
  const toCell = compose(
    translation({ x: cell.width / 2, y: cell.drawing / 2 }),
    compose(scaling(scale, -scale), translation({ x: -middle.x, y: -middle.y })),
  );
  const cutouts = outline.inner.map(({ path }) => pathData(transformPath(toCell, path)));
  const shape = [pathData(transformPath(toCell, outline.contour.path)), ...cutouts].join('');
  const lines = wordsOf(report).flatMap((line) => wrapped(line, cell.width / type));
  const texts = lines.map((line, i) => {
    const y = cell.drawing + 3 + (i + 0.8) * lineHeight;
    return `<text x="0" y="${mm(y)}"${i === 0 ? ' font-weight="bold"' : ''}>${escapeXml(line)}</text>`;
  });
  const svg = [
    `<path d="${shape}" fill="#eee7da" fill-rule="evenodd" stroke="#1b1b1b" stroke-width="0.3"/>`,
    ...outline.others.map((entity) => drawOther(entity, toCell)),
    ...texts,
  ].join('');
  return { svg, height: cell.drawing + 3 + lines.length * lineHeight };
}

function drawOther(entity: Entity, toCell: Transform): string {
  const stroke = 'stroke="#9c4a1a" stroke-width="0.2"';
  if (entity.kind === 'text') return '';
  if (entity.kind === 'point') return drawCross(transformPoint(toCell, entity.at), 2, stroke);
  return `<path d="${pathData(transformPath(toCell, entity.path))}" fill="none" ${stroke}/>`;
}

function wordsOf({ name, outline, inner, features, half, layers }: SeenPiece['report']): string[] {
  const [x0, y0, x1, y1] = outline.bbox;
  const { lines, arcs } = outline.segments;
  const others = Object.entries(features).map(([role, count]) => `${count} ${role}`);
  return [
    half ? `${name} (half drawn)` : name,
    `${decimal(x1 - x0, 1)} x ${decimal(y1 - y0, 1)} mm, ${decimal(outline.area / 1e6, 4)} m2`,
    `${counted(lines, 'line')}, ${counted(arcs, 'arc')}, ${inner.length} inside`,
    ...(others.length > 0 ? [others.join(', ')] : []),
    `layers ${layers.join(' ')}`,
  ];
}
