import type { Entity } from '../../drawing/drawing.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import { transformPath, transformPoint } from '../../geometry/paths/transform.ts';
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
