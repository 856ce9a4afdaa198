import { escapeXml, mm, rect, svgPage } from './svg.ts';

/** Height of the type, mm on paper. */
const type = 4;

/** A field of a colour with a line round it. `at`: its upper left corner. */
export function drawSwatch(
  sample: string,
  at: { readonly x: number; readonly y: number },
  {
    width,
    height,
    line,
  }: { readonly width: number; readonly height: number; readonly line: number },
): string {
  return rect(
    at.x,
    at.y,
    width,
    height,
    `fill="${sample}" stroke="#1b1b1b" stroke-width="${mm(line)}"`,
  );
}

/** A colour and its word, as a picture 90 mm wide. */
export function swatchPicture(sample: string, word: string): string {
  const [width, height] = [90, 8];
  return svgPage({ width, height, type }, `Colour: ${word}`, [
    drawSwatch(sample, { x: 0.3, y: 0.3 }, { width: 24, height: height - 0.6, line: 0.3 }),
    `<text x="28" y="${mm(height / 2 + 0.36 * type)}" font-weight="bold">${escapeXml(word)}</text>`,
  ]);
}
