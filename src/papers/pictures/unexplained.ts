import type { Entity } from '../../drawing/drawing.ts';
import { boxOfEntities } from '../../drawing/extents.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { centreOf, growBox, heightOf, unionBox, widthOf } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import {
  compose,
  scaling,
  transformPath,
  transformPoint,
  translation,
} from '../../geometry/paths/transform.ts';
import { cutShort } from '../../base/wording.ts';
import { drawCross, escapeXml, mm, pathData } from '../svg/svg.ts';

/** The colour of what nobody has explained yet. It is broken too, for black and white. */
const ink = '#b3261e';
const stroke = `stroke="${ink}" stroke-width="0.35"`;

/** So many letters of a text are shown. */
const mostLetters = 40;

/**
 * Something drawn that no piece has, or whose layer says nothing: broken lines, with the name of the
 * layer beside them; a text as it reads. `onPage` takes it to the page, mm.
 */
export function drawUnexplained(entity: Entity, onPage: Transform): string {
  if (entity.kind === 'text') {
    return label(entity.text.replaceAll(/\s+/g, ' '), transformPoint(onPage, entity.at));
  }
  if (entity.kind === 'point') {
    const at = transformPoint(onPage, entity.at);
    return drawCross(at, 2, stroke) + label(entity.layer, { x: at.x + 1.4, y: at.y });
  }
  const path = transformPath(onPage, entity.path);
  const [start] = path.vertices;
  return (
    `<path d="${pathData(path)}" fill="none" ${stroke} stroke-dasharray="1.2 0.6"/>` +
    label(entity.layer, { x: start!.x + 0.6, y: start!.y - 0.6 })
  );
}

function label(words: string, { x, y }: { readonly x: number; readonly y: number }): string {
  return `<text x="${mm(x)}" y="${mm(y)}" font-size="2.6" fill="${ink}">${escapeXml(cutShort(words, mostLetters))}</text>`;
}

/** The height of an overview of what lies in no outline, at most, and of the words above it, mm. */
const overview = { height: 110, head: 6 };

/**
 * What lies in no outline, at its place: outlines faint, and everything else as drawUnexplained does it.
 * `width`: as wide as it may be, mm on the page. Its upper left corner is the origin.
 */
export function drawOverview(
  outlines: readonly Path[],
  leftOut: readonly Entity[],
  width: number,
): { svg: string; height: number } {
  const { head } = overview;
  const box = outlines.map(boxOfPath).reduce(unionBox, boxOfEntities(leftOut));
  const size = { width, height: overview.height - head };
  const { transform, height } = fittedInto(growBox(box, 1), size);
  const onPage = compose(translation({ x: 0, y: head }), transform);
  const faint = outlines.map((path) => pathData(transformPath(onPage, path))).join('');
  const svg = [
    `<text x="0" y="3" font-weight="bold">In no outline: ${leftOut.length}</text>`,
    faint === '' ? '' : `<path d="${faint}" fill="#f4f2ee" stroke="#9a958c" stroke-width="0.25"/>`,
    ...leftOut.map((entity) => drawUnexplained(entity, onPage)),
  ].join('');
  return { svg, height: head + height };
}

/** Takes a box of a drawing to the middle of a space of the page, as large as fits. */
export function fittedInto(
  box: Box,
  { width, height }: { readonly width: number; readonly height: number },
): { transform: Transform; height: number } {
  const scale = Math.min(width / widthOf(box), height / heightOf(box));
  const middle = centreOf(box);
  const transform = compose(
    translation({ x: width / 2, y: (scale * heightOf(box)) / 2 }),
    compose(scaling(scale, -scale), translation({ x: -middle.x, y: -middle.y })),
  );
  return { transform, height: scale * heightOf(box) };
}
