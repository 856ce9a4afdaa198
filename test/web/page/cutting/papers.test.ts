import { describe, expect, it } from 'vitest';
import type { FolderFile } from '../../../../src/web/api/files.ts';
import type { PicturedLay } from '../../../../src/web/api/pictured.ts';
import { papersOf } from '../../../../src/web/page/cutting/papers.ts';
import { fileName, metres, metresDown } from '../../../../src/web/page/words.ts';

const file = (name: string): FolderFile => ({
  name,
  size: 1,
  what: 'paper',
  of: null,
  offered: true,
});
const lay = { material: 'loop', roll: 'end' } as PicturedLay;

describe('the papers of a run', () => {
  it('are told once each, in the forms that are there, the operator’s first', () => {
    const names = ['labels.pdf', 'sewing-7.html', 'sewing-7.pdf', 'fitting-7.svg', 'fitting-7.pdf'];
    const files = [...names, 'sheet.html', 'sheet.pdf', 'parts.csv', 'loop-end.svg'].map(file);
    expect(papersOf({ files, lays: [lay] })).toEqual([
      { words: 'Sheet for the operator', look: 'sheet.html', print: 'sheet.pdf', table: null },
      { words: 'Labels', look: null, print: 'labels.pdf', table: null },
      { words: 'Sewing sheet, order 7', look: 'sewing-7.html', print: 'sewing-7.pdf', table: null },
      {
        words: 'Fitting sheet, order 7',
        look: 'fitting-7.svg',
        print: 'fitting-7.pdf',
        table: null,
      },
      { words: 'All parts', look: null, print: null, table: 'parts.csv' },
      { words: 'Picture of loop-end', look: 'loop-end.svg', print: null, table: null },
    ]);
  });
});

describe('words', () => {
  it('never say less cloth than is needed', () => {
    expect(metres(18001)).toBe('18.01 m');
    expect(metres(18010)).toBe('18.01 m');
    expect(metres(0)).toBe('0.00 m');
  });

  it('never say more cloth is left than there is', () => {
    expect(metresDown(18009)).toBe('18.00 m');
    expect(metresDown(18010)).toBe('18.01 m');
  });

  it.each([
    ['Week 48', 'week-48'],
    ['Müller’s  van!', 'muller-s-van'],
    ['***', 'run'],
  ])('make of "%s" the name %s', (title, name) => {
    expect(fileName(title)).toBe(name);
  });
});
