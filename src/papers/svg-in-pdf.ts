import SVGtoPDF from 'svg-to-pdfkit';
import type { Pdf } from './pdf.ts';
import { runsOfText, toPoints } from './pdf.ts';

/** Width and height of a picture in its own unit. */
export function sizeOfSvg(svg: string): { width: number; height: number } {
  const [, , width, height] = /viewBox="(\S+) (\S+) ([\d.]+) ([\d.]+)"/
    .exec(svg)!
    .slice(1)
    .map(Number) as [number, number, number, number];
  return { width, height };
}

/** Draws one of this product's pictures, its left at x, its top at y, `width` mm wide. */
export function drawSvg(pdf: Pdf, svg: string, x: number, y: number, width: number): void {
  const { width: own, height } = sizeOfSvg(svg);
  const faced = withFaces(haloed(svg));
  SVGtoPDF(pdf, faced, toPoints(x), toPoints(y), {
    width: toPoints(width),
    height: toPoints((width * height) / own),
    fontCallback: (family, bold) => (family === 'rest' ? 'rest' : bold ? 'bold' : 'plain'),
    assumePt: true,
  });
}

/** The library knows no `paint-order`: letters would be eaten by their own halo. Drawn twice instead. */
function haloed(svg: string): string {
  return svg.replaceAll(
    /<g ([^>]*?)( stroke="[^"]*" stroke-width="[^"]*" stroke-linejoin="round") paint-order="stroke">(.*?)<\/g>/gs,
    '<g $1$2>$3</g><g $1>$3</g>',
  );
}

/** Texts with letters that the plain faces lack get the face that has them. */
function withFaces(svg: string): string {
  return svg.replaceAll(
    /<text([^>]*)>([^<]*)<\/text>/g,
    (whole, attributes: string, text: string) =>
      runsOfText(text, false).some(({ face }) => face === 'rest')
        ? `<text${attributes} font-family="rest">${text}</text>`
        : whole,
  );
}
