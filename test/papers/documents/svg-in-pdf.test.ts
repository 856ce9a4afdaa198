import { describe, expect, it } from 'vitest';
import { beginPdf, bytesOf } from '../../../src/papers/documents/pdf.ts';
import { drawSvg, sizeOfSvg } from '../../../src/papers/documents/svg-in-pdf.ts';
import { poppler, wordsOf } from '../pdf-tools.ts';

async function drawn(content: string, width = 100): Promise<Uint8Array> {
  const pdf = beginPdf('x', [210, 297]);
  pdf.addPage();
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 100" font-size="10">${content}</svg>`;
  drawSvg(pdf, svg, 20, 30, width);
  return bytesOf(pdf);
}

describe('a picture in a PDF', () => {
  it('knows its size', () => {
    expect(sizeOfSvg('<svg viewBox="0 0 200 100.5">')).toEqual({ width: 200, height: 100.5 });
    expect(() => sizeOfSvg('<svg>')).toThrow(RangeError);
  });

  it.skipIf(poppler.missing)(
    `has its words where they stand in it, at its scale${poppler.note}`,
    async () => {
      const content =
        '<g transform="translate(10 20)"><text x="5" y="6">left</text><text x="100" y="6" text-anchor="end">right</text></g><text x="100" y="80" text-anchor="middle">middle &lt;&amp;&gt;</text>';
      const { words } = wordsOf(await drawn(content));
      const of = (text: string): (typeof words)[number] =>
        words.find((word) => word.text === text)!;
      // Half the size: 20 + (10 + 5) / 2, and 20 + (10 + 100) / 2.
      expect(of('left').left).toBeCloseTo(27.5, 1);
      expect(of('right').right).toBeCloseTo(75, 1);
      expect((of('middle').left + of('<&>').right) / 2).toBeCloseTo(70, 1);
      // The baseline of 6 in a group at 20: 30 + 26 / 2; letters stand above it.
      expect(of('left').bottom).toBeGreaterThan(43);
      expect(of('left').top).toBeLessThan(43);
    },
  );

  it('refuses what it does not know rather than leave it out', async () => {
    await expect(drawn('<ellipse cx="1" cy="1" rx="2" ry="3"/>')).rejects.toThrow(RangeError);
    await expect(drawn('<g transform="rotate(3)"></g>')).rejects.toThrow(RangeError);
  });
});
