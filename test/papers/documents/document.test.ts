import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PaperBlock, Paper } from '../../../src/papers/documents/document.ts';
import { heading } from '../../../src/papers/documents/document.ts';
import { paperHtml } from '../../../src/papers/documents/document-html.ts';
import { paperPdf, sheetSize } from '../../../src/papers/documents/document-pdf.ts';
import { elementsIn, readMarkup, textOf } from '../markup.ts';
import { pagesOf, poppler, wordsOf } from '../pdf-tools.ts';

const svg =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 50"><rect width="100" height="50" fill="#ffffff"/><text x="5" y="20" font-size="8">drawn</text></svg>';

function paper(blocks: readonly PaperBlock[], more: Partial<Paper> = {}): Paper {
  return { title: 'A title', subtitle: 'Under it', foot: 'run x, fingerprint y', blocks, ...more };
}

const every: readonly PaperBlock[] = [
  heading('Second'),
  heading('Third', 3),
  { kind: 'text', text: 'Plain words.' },
  { kind: 'shout', words: 'FACE UP', text: 'Pile up.' },
  {
    kind: 'facts',
    rows: [
      ['Roll', '2030 mm'],
      ['Dye lot', 'L-7'],
      ['Gap', '6 mm'],
    ],
  },
  {
    kind: 'table',
    columns: [{ head: 'What' }, { head: 'Much', figures: true }],
    rows: [
      ['tape', '12'],
      ['board', '7'],
    ],
    totals: ['All', '19'],
  },
  { kind: 'list', items: ['one', 'two', 'three'], numbered: true, columns: 2 },
  { kind: 'picture', svg, width: 60 },
  { kind: 'beside', svg, width: 60, blocks: [{ kind: 'text', text: 'beside it' }] },
  { kind: 'frame', title: 'Careful', items: ['hands', 'blade'] },
  { kind: 'section', together: true, blocks: [heading('Last')] },
];

const everyWord =
  'A title Under it Second Third Plain words. FACE UP Pile up. Roll 2030 mm Dye lot L-7 Gap 6 mm What Much tape 12 board 7 All 19 one two three drawn beside it Careful hands blade Last';

function lines(count: number): PaperBlock[] {
  return Array.from({ length: count }, (_, i) => ({ kind: 'text', text: `line ${i}` }));
}

describe('a paper as HTML', () => {
  it('is sound markup with all that stands on the paper', () => {
    const words = elementsIn(readMarkup(paperHtml(paper(every))))
      .map(textOf)
      .join(' ')
      .split(/\s+/);
    for (const word of everyWord.split(' ')) expect(words).toContain(word);
  });

  it('takes nothing that is said for markup, in no place', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        const free = text.replaceAll(/[\p{Cc}\p{Surrogate}\uFFFE\uFFFF]/gu, ' ');
        const hostile = `<b>&amp;"'</style></title>${free}`;
        const html = paperHtml(
          paper(
            [
              heading(hostile),
              { kind: 'facts', rows: [[hostile, hostile]] },
              { kind: 'table', columns: [{ head: hostile }], rows: [[hostile]] },
              { kind: 'list', items: [hostile] },
              { kind: 'frame', title: hostile, items: [hostile] },
              { kind: 'section', label: hostile, blocks: [] },
            ],
            { title: hostile, subtitle: hostile, foot: hostile },
          ),
        );
        const style = html.slice(html.indexOf('<style>') + 7, html.indexOf('</style>'));
        expect(style).toContain('counter(pages)');
        const bare = html.replace(style, '');
        const elements = elementsIn(readMarkup(bare));
        expect(elements.filter(({ name }) => name === 'b')).toEqual([]);
        expect(elements.filter(({ name }) => name === 'td').map(textOf)).toEqual([hostile]);
      }),
      { numRuns: 60 },
    );
  });

  it('needs nothing else: no address, no script', () => {
    const html = paperHtml(paper(every)).replaceAll('http://www.w3.org/2000/svg', '');
    expect(html).not.toMatch(/https?:|src=|href=|url\(|<script|@import/);
  });
});

describe.skipIf(poppler.missing)(`a paper as PDF${poppler.note}`, () => {
  it('has all that stands on the paper, and each sheet its number and what it belongs to', async () => {
    const pages = pagesOf(await paperPdf(paper([...lines(30), ...every])));
    expect(pages).toHaveLength(2);
    const words = pages.join(' ').split(/\s+/);
    for (const word of everyWord.split(' ')) expect(words).toContain(word);
    for (const [i, page] of pages.entries()) {
      expect(page).toContain(`sheet ${i + 1} of 2`);
      expect(page).toContain('run x, fingerprint y');
    }
  });

  it('has no empty sheet at its end, wherever its last row comes to stand', async () => {
    const row = { kind: 'table', columns: [{ head: 'Last' }], rows: [['end']] } as const;
    // A soft line is lower than another by less than a millimetre: so the end comes to every height.
    for (let soft = 0; soft < 38; soft += 2) {
      const above = lines(38).map((line, i) =>
        i < soft ? { ...line, soft: true as const } : line,
      );
      const blocks = [...above, row, { kind: 'list', items: ['item'] } as const];
      const pages = pagesOf(await paperPdf(paper(blocks as PaperBlock[])));
      const blank = pages.filter((page) => !/line|end|item/.test(page));
      expect([soft, blank]).toEqual([soft, []]);
    }
  });

  it('is the same bytes again', async () => {
    expect(await paperPdf(paper(every))).toEqual(await paperPdf(paper(every)));
  });

  it('fits A4 and Letter alike', () => {
    // ISO 216: A4 is 210 x 297 mm. ANSI/ASME Y14.1: Letter is 8.5 x 11 in.
    expect(sheetSize.width).toBeLessThanOrEqual(Math.min(210, 8.5 * 25.4));
    expect(sheetSize.height).toBeLessThanOrEqual(Math.min(297, 11 * 25.4) + 1e-9);
  });

  it('has every line once and in order, on as many sheets as it takes, inside the margins', async () => {
    const { words, size } = wordsOf(await paperPdf(paper(lines(400))));
    const numbers = words.filter(({ text }) => /^\d+$/.test(text) && text.length <= 3);
    const body = numbers.filter(({ left, bottom }) => left < 60 && bottom < size.height - 15);
    expect(body.map(({ text }) => Number(text))).toEqual(Array.from({ length: 400 }, (_, i) => i));
    for (const { left, right, top, bottom } of words) {
      expect(left).toBeGreaterThanOrEqual(9.5);
      expect(right).toBeLessThanOrEqual(size.width - 9.5);
      expect(top).toBeGreaterThanOrEqual(9.5);
      expect(bottom).toBeLessThanOrEqual(size.height - 5);
    }
  });

  it('repeats the head of a table that goes on, and tears no row', async () => {
    const rows = Array.from({ length: 120 }, (_, i) => [
      `row${i}`,
      `some words that need two lines in a narrow column ${i}`,
    ]);
    const pages = pagesOf(
      await paperPdf(
        paper([{ kind: 'table', columns: [{ head: 'HEAD', share: 4 }, { head: 'Words' }], rows }]),
      ),
    );
    expect(pages.length).toBeGreaterThan(3);
    for (const page of pages) expect(page).toContain('HEAD');
    expect(pages.join('\n').match(/row\d+/g)).toHaveLength(120);
  });

  it('leaves no heading alone at the foot of a sheet', async () => {
    // Whatever stands above: each count of lines puts the heading elsewhere.
    for (let count = 36; count <= 48; count++) {
      const pages = pagesOf(
        await paperPdf(paper([...lines(count), heading('HEADING'), ...lines(1)])),
      );
      const page = pages.find((text) => text.includes('HEADING'))!;
      expect(page.slice(page.indexOf('HEADING'))).toContain('line 0');
    }
  });

  it('leaves no heading with the head of its table alone at the foot of a sheet', async () => {
    const table: PaperBlock = {
      kind: 'table',
      columns: [{ head: 'Head' }],
      rows: [['first row '.repeat(60)]],
    };
    for (let count = 36; count < 50; count++) {
      const pages = pagesOf(await paperPdf(paper([...lines(count), heading('Alone'), table])));
      const at = (words: string): number => pages.findIndex((page) => page.includes(words));
      expect([count, at('Alone'), at('Head')]).toEqual([count, at('first row'), at('first row')]);
    }
  });

  it('keeps a section together where it fits a sheet, and tears it where it does not', async () => {
    const section = (count: number): PaperBlock => ({
      kind: 'section',
      together: true,
      blocks: lines(count).map(
        (line) => ({ ...line, text: `kept ${(line as { text: string }).text}` }) as PaperBlock,
      ),
    });
    const short = pagesOf(await paperPdf(paper([...lines(30), section(20)])));
    expect(short.filter((page) => page.includes('kept'))).toHaveLength(1);
    const long = pagesOf(await paperPdf(paper([...lines(30), section(90)])));
    expect(long.join('').match(/kept line/g)).toHaveLength(90);
  });

  it('shows letters of any script, and the number of what no face has', async () => {
    const text = 'Größe Привет 三角形 한국어 ไทย 🚐 x\u0000y\u202Ez';
    const [page] = pagesOf(await paperPdf(paper([{ kind: 'text', text }])));
    for (const word of ['Größe', 'Привет', '三角形', '한국어', '[U+1F690]'])
      expect(page).toContain(word);
    for (const unseen of ['\u0000', '\u202E']) expect(page).not.toContain(unseen);
  });

  it('breaks what has no blank rather than print over the edge', async () => {
    const { words, size } = wordsOf(
      await paperPdf(
        paper([
          { kind: 'text', text: 'W'.repeat(500) },
          { kind: 'table', columns: [{ head: 'a' }, { head: 'b' }], rows: [['M'.repeat(90), 'x']] },
        ]),
      ),
    );
    for (const { right } of words) expect(right).toBeLessThanOrEqual(size.width - 9.5);
    expect(
      words
        .map(({ text }) => text)
        .join('')
        .match(/W/g),
    ).toHaveLength(500);
  });
});
