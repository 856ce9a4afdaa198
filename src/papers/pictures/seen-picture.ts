import { basename } from 'node:path';
import type { Entity } from '../../drawing/drawing.ts';
import { unionBox } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import {
  compose,
  transformPath,
  transformPoint,
  translation,
} from '../../geometry/paths/transform.ts';
import { decimal } from '../../base/numbers.ts';
import type { SeenPiece, Sight } from '../../pattern/first-look/sight.ts';
import { cutOffAt, drawCross, escapeXml, mm, pathData, rect, svgPage } from '../svg/svg.ts';
import { counted } from '../../base/wording.ts';
import { wrapped } from '../svg/wrap.ts';
import { drawOverview, drawUnexplained, fittedInto } from './unexplained.ts';

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

/**
 * Every piece found in a drawing, with its name and size, each as large as its cell allows. Below them
 * the whole drawing with what lies in no outline, if there is such. What no layer explains is broken red.
 */
export function seenPicture({ report, pieces, leftOut }: Sight): string {
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
  if (leftOut.length > 0) {
    const outlines = pieces.map(({ outline }) => outline.contour.path);
    const { svg, height: own } = drawOverview(outlines, leftOut, page.width - 2 * page.margin);
    drawn.push(`<g transform="translate(${page.margin} ${mm(y)})">${svg}</g>`);
    y += own + gap;
  }
  const height = y + page.margin - gap;
  return svgPage({ width: page.width, height, type }, title, [
    rect(0, 0, page.width, height, 'fill="#ffffff"'),
    `<text x="${page.margin}" y="${page.margin + 4}" font-size="4.5" font-weight="bold">${escapeXml(title)}</text>`,
    ...drawn,
  ]);
}

function drawPiece({ report, outline }: SeenPiece): { svg: string; height: number } {
  const shapes = [outline.contour.entity, ...outline.alternatives];
  const box = shapes.map(({ path }) => boxOfPath(path)).reduce(unionBox);
  const { transform, height: own } = fittedInto(box, {
    width: cell.width,
    height: cell.drawing,
  });
  const toCell = compose(translation({ x: 0, y: (cell.drawing - own) / 2 }), transform);
  const known = outline.inner.filter(({ role }) => role !== 'unknown');
  const unknown = outline.inner.filter(({ role }) => role === 'unknown');
  const isUnknown = ({ kind, layer }: Entity): boolean =>
    kind !== 'text' && report.unknownLayers.includes(layer);
  const cutouts = known.map(({ path }) => pathData(transformPath(toCell, path)));
  const shape = [pathData(transformPath(toCell, outline.contour.path)), ...cutouts].join('');
  const lines = wordsOf(report).flatMap((line) => wrapped(line, cell.width / type));
  const texts = lines.map((line, i) => {
    const y = cell.drawing + 3 + (i + 0.8) * lineHeight;
    return `<text x="0" y="${mm(y)}"${i === 0 ? ' font-weight="bold"' : ''}>${escapeXml(line)}</text>`;
  });
  const svg = [
    `<path d="${shape}" fill="#eee7da" fill-rule="evenodd" stroke="#1b1b1b" stroke-width="0.3"/>`,
    cutOffAt(
      { minX: -1, minY: -1, maxX: cell.width + 1, maxY: cell.drawing + 1 },
      [
        ...outline.others
          .filter((entity) => !isUnknown(entity))
          .map((entity) => drawOther(entity, toCell)),
        ...[...unknown.map(({ entity }) => entity), ...outline.others.filter(isUnknown)].map(
          (entity) => drawUnexplained(entity, toCell),
        ),
      ].join(''),
    ),
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
