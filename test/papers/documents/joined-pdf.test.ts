import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { heading } from '../../../src/papers/documents/document.ts';
import { paperPdf } from '../../../src/papers/documents/document-pdf.ts';
import type { JoinedPage, PdfSource } from '../../../src/papers/documents/joined-pdf.ts';
import { joinedPdf } from '../../../src/papers/documents/joined-pdf.ts';
import { readOwnPdf } from '../../../src/papers/documents/own-pdf.ts';
import { chosenLabels } from '../../../src/papers/sheets/chosen-labels.ts';
import { labelsPdf } from '../../../src/papers/sheets/labels.ts';
import { defaultLabelStock as stock } from '../../../src/pattern/shop/label-stock.ts';
import { fieldOf } from '../label-fields.ts';
import { looksOf, pageCount, pagesOf, poppler } from '../pdf-tools.ts';

const svg =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 10"><rect width="20" height="10" fill="#dddddd"/></svg>';

async function paperOf(title: string, lines: number): Promise<Uint8Array> {
  const blocks = Array.from({ length: lines }, (_, i) => heading(`${title} (${i}) 7 0 R`, 3));
  return paperPdf({ title, subtitle: 'Übergröße, 三角形', foot: title, blocks });
}

function labelsOf(count: number): Promise<Uint8Array> {
  const labels = Array.from({ length: count }, (_, i) => ({
    label: `mat-${i + 1}.1.A1`,
    name: `mat-${i + 1}`,
    side: 'left' as const,
    hand: 'RHD' as const,
    order: 'A1',
    set: 1,
    title: 'Wren van',
    steps: [{ verb: 'Bind', words: `${100 + i} mm in black` }],
    svg,
  }));
  return labelsPdf(labels, stock, 'Labels');
}

function source(bytes: Uint8Array): PdfSource {
  return { file: 'paper.pdf', pdf: readOwnPdf(bytes, 'paper.pdf') };
}

function allPages(one: PdfSource): JoinedPage[] {
  return one.pdf.pages.map((_, page) => ({ source: one, page }));
}

const wholePage = { x: 0, y: 0, width: 210, height: 279.4 };

describe.skipIf(poppler.missing)(`joined PDFs${poppler.note}`, () => {
  it('have as many pages as their parts have, as another reader counts them', async () => {
    for (const count of [0, 60]) {
      const pdf = await paperOf('One', count);
      expect(source(pdf).pdf.pages).toHaveLength(pageCount(pdf));
    }
  });

  it('have the pages of all in the order given, each as it was', async () => {
    const [one, two] = [await paperOf('One', 60), await paperOf('Two', 5)];
    const [first, second] = [source(one), source(two)];
    const pages = [...allPages(second), ...allPages(first), { source: second, page: 0 }];
    const joined = joinedPdf('Both: 三', pages);
    expect(pageCount(joined)).toBe(pages.length);
    expect(pagesOf(joined)).toEqual([...pagesOf(two), ...pagesOf(one), pagesOf(two)[0]]);
    const looks = (pdf: Uint8Array, page: number): string =>
      looksOf(pdf, [{ page, ...wholePage }])[0]!;
    expect(looks(joined, 1)).toBe(looks(two, 1));
    expect(looks(joined, 3)).toBe(looks(one, 2));
    expect(looks(one, 1)).not.toBe(looks(one, 2));
  });

  it('are the same bytes again, and can be joined again', async () => {
    const one = source(await paperOf('One', 60));
    const joined = joinedPdf('Title', allPages(one));
    expect(joinedPdf('Title', allPages(one))).toEqual(joined);
    const again = joinedPdf('Title', allPages(source(joined)));
    expect(pagesOf(again)).toEqual(pagesOf(joined));
  });

  it('have chosen labels one after the other from the first free place, and nothing else', async () => {
    const pdf = await labelsOf(25);
    const chosen = [0, 11, 24, 7];
    const begin = 8;
    const joined = joinedPdf('Labels', chosenLabels(source(pdf), stock, chosen, begin));
    const perSheet = stock.columns * stock.rows;
    expect(pageCount(joined)).toBe(2);
    // Not even hidden: the reader takes all text of a file, and what is clipped too.
    const said = pagesOf(joined)
      .join(' ')
      .match(/mat-\d+\.1\.A1/g);
    expect(said!.toSorted()).toEqual(chosen.map((i) => `mat-${i + 1}.1.A1`).toSorted());
    const fields = (numbers: readonly number[]) =>
      numbers.map((number) => ({
        page: 1 + Math.floor(number / perSheet),
        ...shrunk(fieldOf(number % perSheet, stock)),
      }));
    const there = chosen.map((_, i) => begin + i);
    // Places lie between dots, so that the edges of letters come out in other greys: only dark and light count.
    const meant = looksOf(pdf, fields(chosen)).map(blackAndWhite);
    const found = looksOf(joined, fields(there)).map(blackAndWhite);
    for (const [i, look] of found.entries()) {
      expect(look.length).toBe(meant[i]!.length);
      expect(different(look, meant[i]!), `label ${chosen[i]}`).toBeLessThan(0.04);
      const other = meant[(i + 1) % meant.length]!;
      expect(different(look, other)).toBeGreaterThan(0);
      expect(different(look, meant[i]!)).toBeLessThan(different(look, other));
    }
    const empty = [...Array(2 * perSheet).keys()].filter((place) => !there.includes(place));
    for (const look of looksOf(joined, fields(empty))) {
      expect(blackAndWhite(look)).not.toContain('1');
    }
  });

  it('are refused where a file is none of ours', () => {
    const strange = new TextEncoder().encode('%PDF-1.7\n1 0 obj\n<<>>\nendobj\n');
    expect(() => readOwnPdf(strange, 'x.pdf')).toThrow(Refusal);
    expect(() => readOwnPdf(new Uint8Array(), 'x.pdf')).toThrow(Refusal);
  });
});

/** A field without its outermost half millimetre, where dots of a neighbour may be. */
function shrunk({ x, y, width, height }: ReturnType<typeof fieldOf>): ReturnType<typeof fieldOf> {
  return { x: x + 0.5, y: y + 0.5, width: width - 1, height: height - 1 };
}

/** The dots of a picture: 1 for dark. */
function blackAndWhite(pgm: string): string {
  const dots = pgm.slice(/^P5\s+\d+ \d+\s+\d+\s/.exec(pgm)![0].length);
  return [...dots].map((dot) => (dot.charCodeAt(0) < 128 ? '1' : '0')).join('');
}

/** The share of dots that differ, of those that are dark. */
function different(a: string, b: string): number {
  let count = 0;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) count++;
  return count / a.length;
}
