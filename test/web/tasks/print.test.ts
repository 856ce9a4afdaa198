import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { cut } from '../../../src/jobs/cut.ts';
import { recut } from '../../../src/jobs/recut.ts';
import { readRunRecord } from '../../../src/program/record/record.ts';
import type { PrintWish } from '../../../src/web/api/papers.ts';
import { printWishSchema } from '../../../src/web/api/papers.ts';
import { papers, print } from '../../../src/web/tasks/print.ts';
import { workshopIn } from '../../../src/web/workshop/workshop.ts';
import { codeReader, codesIn, pageCount, pagesOf, poppler } from '../../papers/pdf-tools.ts';
import { fieldOf } from '../../papers/label-fields.ts';
import { openWorkshop, runFile, wren } from '../../support/wren.ts';

const { root, close } = openWorkshop(wren);
const shop = workshopIn(root);
const search = { seed: 1, limit: { rounds: 1 } };
const inFolder = (name: string): string => join(shop.out, 'week', name);

beforeAll(async () => {
  const out = join(shop.out, 'week');
  const request = { runFile: join(root, runFile), sharedFolder: shop.shared, out, force: false };
  await cut({ ...request, ...search });
  const labels = ['mat-left.2.A1', 'floor.1.A2'];
  await recut({ folder: out, labels, out: join(shop.out, 'again'), force: false, search });
});
afterAll(close);

function printed(wish: Partial<PrintWish>, run = 'week'): Uint8Array {
  return print({ shop, run, wish: { papers: [], begin: 0, ...wish } }).value;
}

describe.skipIf(poppler.missing)(`papers in one PDF${poppler.note}`, () => {
  it('are counted as another reader counts them', () => {
    const told = papers({ shop, run: 'week' }).papers;
    expect(told.map(({ name }) => name).sort()).toEqual(
      [
        'sheet',
        'labels',
        'cost',
        ...['A1', 'A2'].flatMap((order) =>
          ['sewing', 'fitting', 'packing'].map((what) => `${what}-${order}`),
        ),
      ].sort(),
    );
    for (const { name, pages } of told) {
      expect([name, pages]).toEqual([name, pageCount(readFileSync(inFolder(`${name}.pdf`)))]);
    }
    const sewing = told.find(({ name }) => name === 'sewing-A2')!;
    expect(sewing).toMatchObject({ what: 'sewing', order: 'A2' });
  });

  it('stand in the order in which they are named', () => {
    const names = ['cost', 'sewing-A2', 'sheet'];
    const each = names.map((name) => pagesOf(readFileSync(inFolder(`${name}.pdf`))));
    expect(pagesOf(printed({ papers: names }))).toEqual(each.flat());
    const last = each.flat().length;
    expect(pagesOf(printed({ papers: names, page: last }))).toEqual([each.at(-1)!.at(-1)]);
    expect(() => printed({ papers: names, page: last + 1 })).toThrow(Refusal);
  });

  it.skipIf(codeReader.missing)(`have the labels of some parts alone${codeReader.note}`, () => {
    const { labelStock } = readRunRecord(inFolder('run.json'));
    const { labels } = papers({ shop, run: 'week' });
    const names = ['floor.1.A2', 'mat-left.2.A1'];
    const numbers = names.map((name) => 1 + labels.findIndex(({ label }) => label === name));
    const pdf = printed({ papers: ['labels'], labels: numbers.map(String), begin: 3 });
    const fields = [3, 4].map((place) => ({ page: 1, ...fieldOf(place, labelStock) }));
    expect(codesIn(pdf, fields)).toEqual(names);
    const range = printed({ papers: ['labels'], labels: ['2-3'] });
    const first = [0, 1].map((place) => ({ page: 1, ...fieldOf(place, labelStock) }));
    expect(codesIn(range, first)).toEqual([labels[1]!.label, labels[2]!.label]);
  });

  it.skipIf(codeReader.missing)(`know the labels of a recut${codeReader.note}`, () => {
    const { labelStock } = readRunRecord(inFolder('run.json'));
    const { labels, papers: told } = papers({ shop, run: 'again' });
    expect(told.map(({ name }) => name).sort()).toEqual(['labels', 'sheet']);
    expect(labels.map(({ order }) => order).sort()).toEqual(['A1', 'A2']);
    const pdf = printed({ papers: ['labels'], labels: ['2'] }, 'again');
    expect(codesIn(pdf, [{ page: 1, ...fieldOf(0, labelStock) }])).toEqual([labels[1]!.label]);
  });

  it('are refused where there is no such paper, label or place', () => {
    const wrong: Partial<PrintWish>[] = [
      { papers: [] },
      { papers: ['sewing-Z'] },
      { papers: ['../week/sheet'] },
      { papers: ['labels'], labels: ['9999'] },
      { papers: ['labels'], labels: ['0'] },
      { papers: ['labels'], labels: [] },
      { papers: ['labels'], begin: 500 },
    ];
    for (const wish of wrong) expect(() => printed(wish), JSON.stringify(wish)).toThrow(Refusal);
  });

  it('are refused where a paper is not what was written', () => {
    const before = readFileSync(inFolder('cost.pdf'));
    const changed = Buffer.from(before);
    changed[100] = changed[100]! ^ 1;
    writeFileSync(inFolder('cost.pdf'), changed);
    expect(() => printed({ papers: ['cost'] })).toThrow('not what was written');
    writeFileSync(inFolder('cost.pdf'), before);
    expect(pageCount(printed({ papers: ['cost'] }))).toBeGreaterThan(0);
  });
});

describe('what is to be printed', () => {
  it('is read from an address', () => {
    const read = printWishSchema.parse({ papers: 'sheet,labels', labels: '3,7-9', begin: '4' });
    expect(read).toEqual({ papers: ['sheet', 'labels'], labels: ['3', '7-9'], begin: 4 });
    for (const wrong of [{ papers: 'a', labels: '1-' }, { papers: 'a', begin: '-1' }, {}]) {
      expect(printWishSchema.safeParse(wrong).success).toBe(false);
    }
  });
});
