import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { Refusal } from '../../../src/base/findings.ts';
import type { RunContent } from '../../../src/run/run-file.ts';
import { archivedRuns, putAway } from '../../../src/web/workshop/archive.ts';
import { gatherOrders } from '../../../src/web/workshop/gather.ts';
import { openRunFile } from '../../../src/web/workshop/run-file.ts';
import { runFileIn } from '../../../src/web/workshop/workshop.ts';
import { shopForEach } from '../in-shop.ts';

const inShop = shopForEach();
const fileOf = (run: string): string => runFileIn(inShop().shop, run);
const contentOf = (run: string): RunContent => parse(readFileSync(fileOf(run), 'utf8'));
const ordersOf = (run: string): string[] => contentOf(run).orders.map(({ order }) => order);
const wish = (name: string, ...orders: [string, string][]) => ({
  title: name,
  name,
  cutter: contentOf('wren-week').cutter,
  orders: orders.map(([run, order]) => ({ run, order })),
});

describe('a run of orders that other runs have', () => {
  it('takes them out of there, each as it stands, and leaves the others', () => {
    const { shop } = inShop();
    const before = openRunFile(shop, 'wren-week').content.orders;
    const [first, second] = before;
    gatherOrders(shop, wish('friday', ['wren-week', second!.order]));
    expect(before.length).toBe(2);
    expect(openRunFile(shop, 'friday').content.orders).toEqual([second]);
    expect(openRunFile(shop, 'wren-week').content.orders).toEqual([first]);
  });

  it('puts a run away as it was that has no order left', () => {
    const { shop } = inShop();
    const before = readFileSync(fileOf('wren-week'), 'utf8');
    const all = ordersOf('wren-week').map((order): [string, string] => ['wren-week', order]);
    expect(gatherOrders(shop, wish('friday', ...all)).emptied).toEqual(['wren-week']);
    expect(readFileSync(fileOf('wren-week'), 'utf8')).toBe(before);
    expect(archivedRuns(shop)).toEqual(['wren-week']);
    expect(ordersOf('friday')).toEqual(all.map(([, order]) => order));
  });

  it('is refused, and nothing changed, where two are called the same or one is gone', () => {
    const { shop, root } = inShop();
    const text = readFileSync(fileOf('wren-week'), 'utf8');
    writeFileSync(join(root, 'patterns/other.yaml'), text);
    const [first] = ordersOf('wren-week');
    const twice = wish('friday', ['wren-week', first!], ['other', first!]);
    expect(() => gatherOrders(shop, twice)).toThrow(Refusal);
    expect(() => gatherOrders(shop, wish('friday', ['wren-week', 'nobody']))).toThrow(Refusal);
    expect(() => gatherOrders(shop, wish('other', ['wren-week', first!]))).toThrow(Refusal);
    expect(existsSync(fileOf('friday'))).toBe(false);
    expect(readFileSync(fileOf('wren-week'), 'utf8')).toBe(text);
    expect(readFileSync(fileOf('other'), 'utf8')).toBe(text);
  });
});

it('rolls in colours that only the taken orders want go with them, with nothing on them', () => {
  const { shop, root } = inShop();
  const claret = 'carpet: { material: loop, colour: claret }';
  const navy = 'carpet: { material: loop, colour: navy }';
  writeFileSync(
    join(root, 'patterns/colours.yaml'),
    `title: colours
cutter: long-bay
orders:
  - { order: B1, set: wren, hand: RHD, ${claret} }
  - { order: B2, set: wren, hand: LHD, ${navy} }
  - { order: B3, set: wren, hand: LHD, ${navy} }
rolls:
  loop:
    - { name: r1, colour: claret, length: 9000, laid: [{ part: floor.1.B1, at: [1, 2], rotation: 90 }] }
    - { name: r2, colour: navy, length: 8000 }
  board: { length: 3000 }
`,
  );
  gatherOrders(shop, wish('friday', ['colours', 'B1'], ['colours', 'B2']));
  const rollsIn = (run: string): unknown =>
    Object.entries(openRunFile(shop, run).content.rolls).map(([material, entries]) => [
      material,
      [entries].flat().map(({ name, laid }) => [name, laid]),
    ]);
  // Navy stays: B3 wants it.
  expect(rollsIn('friday')).toEqual([['loop', [['r1', []]]]]);
  expect(rollsIn('colours')).toEqual([
    ['loop', [['r2', []]]],
    ['board', [[undefined, []]]],
  ]);
});

it('orders of a run whose cutting has begun stay there', () => {
  const { shop, root } = inShop();
  const before = readFileSync(fileOf('wren-week'), 'utf8');
  const [first] = ordersOf('wren-week');
  mkdirSync(join(root, 'out'), { recursive: true });
  const tick = "{ roll: loop, step: bite 1, at: '2026-05-04T09:30:00Z' }";
  writeFileSync(
    join(root, 'out/wren-week.marks.yaml'),
    `cuttings:\n  - files: 0123456789ab\n    ticks:\n      - ${tick}\n`,
  );
  expect(() => gatherOrders(shop, wish('friday', ['wren-week', first!]))).toThrow(/has begun/);
  expect(existsSync(fileOf('friday'))).toBe(false);
  expect(readFileSync(fileOf('wren-week'), 'utf8')).toBe(before);
});

describe('a run that is put away', () => {
  it('is named in a file that a person can write, and comes back', () => {
    const { shop, root } = inShop();
    const file = join(root, 'shared/archive.yaml');
    putAway(shop, 'wren-week', true);
    putAway(shop, 'wren-week', true);
    expect(parse(readFileSync(file, 'utf8'))).toEqual({ runs: ['wren-week'] });
    writeFileSync(file, '# old ones\nruns: [spring, wren-week]\n');
    putAway(shop, 'wren-week', false);
    expect(archivedRuns(shop)).toEqual(['spring']);
    expect(readFileSync(file, 'utf8')).toContain('# old ones');
    expect(existsSync(fileOf('wren-week'))).toBe(true);
  });

  it('is not lost where the file cannot be read', () => {
    const { shop, root } = inShop();
    const file = join(root, 'shared/archive.yaml');
    writeFileSync(file, 'runs: 7\n');
    expect(() => putAway(shop, 'wren-week', true)).toThrow(Refusal);
    expect(readFileSync(file, 'utf8')).toBe('runs: 7\n');
  });
});
