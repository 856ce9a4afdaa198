import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { RunContent } from '../../../src/run/run-file.ts';
import type { PicturedLay } from '../../../src/web/api/pictured.ts';
import { withLays, withMove } from '../../../src/web/workshop/lays-in-run.ts';
import { openRunFile, saveRunFile } from '../../../src/web/workshop/run-file.ts';
import { rememberRoll } from '../../../src/web/workshop/stock-file.ts';
import type { Workshop } from '../../../src/web/workshop/workshop.ts';

// What a person has written stays, to the last blank: expectations here are whole lines, by hand.

let shop: Workshop;
let file = '';

beforeEach(() => {
  const root = mkdtempSync(join(tmpdir(), 'in-place-'));
  shop = { patterns: join(root, 'patterns'), shared: join(root, 'shared'), out: join(root, 'out') };
  mkdirSync(shop.patterns);
  mkdirSync(shop.shared);
  file = join(shop.patterns, 'week.yaml');
});

afterEach(() => rmSync(join(shop.patterns, '..'), { recursive: true }));

/** Written by a person who has his own ways with blanks, brackets, quotes and comments. */
const commented = `# Monday's vans
title:   "Wren, three sets"     # as on the board
cutter: long-bay

# told by the customer
orders:
  - order: A1       # urgent
    set: wren
    # the left one broke
    hand: RHD
    quantity: 2
  - {order: A2, set: wren, hand: LHD, heelPads: both}   # may wait

rolls:
  # from the end of L217
  loop:
    length: 9000   # measured
    defects:
    - [[100, 0], [200, 0], [200,50]]   # oil

    # pinned by hand
    pins:
      # must lie on the edge
      - {part: floor.1.A1, at: [1200,400], rotation: 90}   # by the door

      - part: dash.1.A1      # the long one
        at: [300.0, 20]
        rotation: 180
      # till here
    laid: # found by the search
      - { part: mat-left.1.A1, at: [ 10, 20 ], rotation: 0 } # first
      - {part: mat-right.1.A1, at: [400, 20], rotation: 0}   # second

      - { part: rest.1.A1, at: [700, 1e2], rotation: 0 }
  rubber: { laid: [ {part: pad.1.A1, at: [1, 2], rotation: 0},   {part: pad.2.A1, at: [3, 4], rotation: 0} ] } # pads
effort: 2_0

# the end`.replace('2_0', '20');

/** Lines that are gone and that have come, each with its sign, as a line diff says it. */
function diff(before: string, after: string): string[] {
  const [a, b] = [before.split('\n'), after.split('\n')];
  const lengths = Array.from({ length: a.length + 1 }, () =>
    Array.from({ length: b.length + 1 }, () => 0),
  );
  for (let i = a.length - 1; i >= 0; i--) {
    for (let j = b.length - 1; j >= 0; j--) {
      lengths[i]![j] =
        a[i] === b[j]
          ? lengths[i + 1]![j + 1]! + 1
          : Math.max(lengths[i + 1]![j]!, lengths[i]![j + 1]!);
    }
  }
  const said: string[] = [];
  for (let [i, j] = [0, 0]; i < a.length || j < b.length;) {
    if (i < a.length && j < b.length && a[i] === b[j]) [i, j] = [i + 1, j + 1];
    else if (j >= b.length || (i < a.length && lengths[i + 1]![j]! >= lengths[i]![j + 1]!)) {
      said.push(`- ${a[i++]}`);
    } else said.push(`+ ${b[j++]}`);
  }
  // The file ends with a line break from now on.
  return said.filter((line) => line !== '+ ' && line !== '- ');
}

/** What a change of the content does to the lines of a file. */
function changedLines(text: string, change: (content: RunContent) => RunContent): string[] {
  writeFileSync(file, text);
  const { content, version } = openRunFile(shop, 'week');
  const next = change(content);
  saveRunFile(shop, 'week', next, version);
  // As it goes over the wire: what is not said is not there.
  expect(openRunFile(shop, 'week').content).toEqual(JSON.parse(JSON.stringify(next)));
  return diff(text, readFileSync(file, 'utf8'));
}

/** A part dragged on the page, or let go. */
function dragged(label: string, to: [number, number, number] | null, material = 'loop') {
  const place = to === null ? null : { x: to[0], y: to[1], rotation: to[2] };
  return (content: RunContent) =>
    withMove(content, {
      version: '',
      material,
      colour: null,
      roll: null,
      label,
      to: place,
      dry: false,
    });
}

describe('a part that is dragged changes its own lines and no others', () => {
  it('from where it was pinned', () => {
    expect(changedLines(commented, dragged('floor.1.A1', [1250, 400, 90]))).toEqual([
      '-       - {part: floor.1.A1, at: [1200,400], rotation: 90}   # by the door',
      '+       - {part: floor.1.A1, at: [1250,400], rotation: 90}   # by the door',
    ]);
  });

  it('where it stands on several lines', () => {
    expect(changedLines(commented, dragged('dash.1.A1', [300, 25.5, 0]))).toEqual([
      '-         at: [300.0, 20]',
      '-         rotation: 180',
      '+         at: [300.0, 25.5]',
      '+         rotation: 0',
    ]);
  });

  it('from where a search has laid it: its line goes to the pins, its comment with it', () => {
    expect(changedLines(commented, dragged('mat-right.1.A1', [500, 20, 0]))).toEqual([
      '+       - {part: mat-right.1.A1, at: [500, 20], rotation: 0}   # second',
      '-       - {part: mat-right.1.A1, at: [400, 20], rotation: 0}   # second',
    ]);
  });

  it('let go: its lines go to what is laid', () => {
    expect(changedLines(commented, dragged('dash.1.A1', null))).toEqual([
      '-       - part: dash.1.A1      # the long one',
      '-         at: [300.0, 20]',
      '-         rotation: 180',
      '+       - part: dash.1.A1      # the long one',
      '+         at: [300.0, 20]',
      '+         rotation: 180',
    ]);
  });

  it('that lay nowhere: one line comes', () => {
    expect(changedLines(commented, dragged('cover.1.A1', [5, 6, 0]))).toEqual([
      '+       - { part: cover.1.A1, at: [ 5, 6 ], rotation: 0 }',
    ]);
  });

  it('inside brackets, where several parts share a line', () => {
    const line = commented.split('\n').find((one) => one.includes('rubber'))!;
    expect(changedLines(commented, dragged('pad.2.A1', [9, 4, 0], 'rubber'))).toEqual([
      `- ${line}`,
      `+   rubber: { laid: [ {part: pad.1.A1, at: [1, 2], rotation: 0} ], pins: [ { part: pad.2.A1, at: [ 9, 4 ], rotation: 0 } ] } # pads`,
    ]);
  });

  it('on a roll that the file does not speak of', () => {
    expect(changedLines(commented, dragged('mat.1.A1', [1, 2, 0], 'felt'))).toEqual([
      '+   felt:',
      '+     pins:',
      '+       - { part: mat.1.A1, at: [ 1, 2 ], rotation: 0 }',
    ]);
    const bare =
      'title: x\ncutter: y\norders:\n  - { order: A1, set: wren, hand: RHD } # one\n# end\n';
    expect(changedLines(bare, dragged('mat.1.A1', [1, 2, 0], 'felt'))).toEqual([
      '+ rolls:',
      '+   felt:',
      '+     pins:',
      '+       - { part: mat.1.A1, at: [ 1, 2 ], rotation: 0 }',
    ]);
  });

  const lastPin = `title: x
cutter: y
orders: [{ order: A1, set: wren, hand: RHD }]
rolls:
  loop:
    length: 900
    pins: # by hand
      # keep it
      - { part: a.1.A1, at: [1, 2], rotation: 0 } # here
    laid: [] # as pins
`;

  it('the last of a list: what was said beside and above it stays', () => {
    expect(changedLines(lastPin, dragged('a.1.A1', null))).toEqual([
      '-     pins: # by hand',
      '+     # by hand',
      '+     laid: # as pins',
      '-     laid: [] # as pins',
    ]);
  });

  it('to a list in brackets, where no comment can be: it stays on a line of its own', () => {
    const text = lastPin
      .replace('laid: [] # as pins', 'laid: [{ part: b.1.A1, at: [3, 4] }]')
      .replace('keep it', 'all');
    expect(changedLines(text, dragged('a.1.A1', null))).toEqual([
      '-     pins: # by hand',
      '+     # by hand',
      '-       - { part: a.1.A1, at: [1, 2], rotation: 0 } # here',
      '-     laid: [{ part: b.1.A1, at: [3, 4] }]',
      '+       # here',
      '+     laid: [{ part: b.1.A1, at: [3, 4] }, { part: a.1.A1, at: [ 1, 2 ], rotation: 0 }]',
    ]);
  });

  it('beside anchors, aliases and tags, which stay where they are', () => {
    const text = lastPin
      .replace('at: [1, 2]', 'at: &here [1, 2]')
      .replace('laid: []', 'laid: [{ part: b.1.A1, at: *here }]');
    const lines = changedLines(text, dragged('b.1.A1', [7, 8, 0]));
    expect(lines).toHaveLength(2);
    for (const line of lines) expect(line).toContain('b.1.A1');
    const anchored = commented
      .replace('cutter: long-bay', 'cutter: &cut long-bay')
      .replace('order: A1', 'order: !!str A1');
    const moved = changedLines(anchored, dragged('mat-right.1.A1', [1, 2, 90]));
    expect(moved.length).toBeGreaterThan(0);
    for (const line of moved) expect(line).toContain('mat-right.1.A1');
  });

  it('or whole keys, where an anchor that is written over is named elsewhere', () => {
    const text = commented
      .replace('order: A1', 'order: &first A1')
      .replace('length: 9000', 'dyeLot: *first\n    length: 9000');
    const renamed = changedLines(text, (content) => ({
      ...content,
      orders: content.orders.map((order, i) => (i === 0 ? { ...order, order: 'B7' } : order)),
    }));
    expect(renamed.join('\n')).toContain('B7');
    // The roll keeps the dye lot that it had by way of the order's name.
    expect(openRunFile(shop, 'week').content.rolls['loop']).toMatchObject({ dyeLot: 'A1' });
    expect(readFileSync(file, 'utf8')).toContain("# Monday's vans");
  });

  it('in a file with the line breaks of Windows', () => {
    const text = commented.replaceAll('\n', '\r\n');
    for (const label of ['floor.1.A1', 'mat-right.1.A1', 'cover.1.A1']) {
      const lines = changedLines(text, dragged(label, [1, 2, 90]));
      expect(lines.length).toBeLessThanOrEqual(2);
      for (const line of lines) expect(line).toContain(label);
    }
    expect(readFileSync(file, 'utf8')).not.toMatch(/[^\r]\n[^$]/);
  });
});

describe('a search that has laid parts', () => {
  it('changes where they lie, in the order of the file, and adds what is new', () => {
    const labels = ['new.1.A1', 'rest.1.A1', 'mat-right.1.A1', 'mat-left.1.A1'];
    const placements = labels.map((label, i) => ({ label, x: 10 + i, y: 20, rotation: 0 }));
    const lay: PicturedLay = {
      material: 'loop',
      colour: null,
      roll: null,
      pinned: [],
      length: 1,
      density: 1,
      bites: [],
      placements,
    };
    expect(changedLines(commented, (content) => withLays(content, [lay]))).toEqual([
      '-       - { part: mat-left.1.A1, at: [ 10, 20 ], rotation: 0 } # first',
      '-       - {part: mat-right.1.A1, at: [400, 20], rotation: 0}   # second',
      '+       - { part: mat-left.1.A1, at: [ 13, 20 ], rotation: 0 } # first',
      '+       - {part: mat-right.1.A1, at: [12, 20], rotation: 0}   # second',
      '-       - { part: rest.1.A1, at: [700, 1e2], rotation: 0 }',
      '+       - { part: rest.1.A1, at: [11, 20], rotation: 0 }',
      '+       - { part: new.1.A1, at: [ 10, 20 ], rotation: 0 }',
    ]);
  });
});

describe('orders and rolls that are changed in their forms', () => {
  const orders =
    (change: (orders: RunContent['orders']) => RunContent['orders']) => (content: RunContent) => ({
      ...content,
      orders: change(content.orders),
    });
  const loop = (change: (roll: object) => unknown) => (content: RunContent) =>
    ({
      ...content,
      rolls: { ...content.rolls, loop: change(content.rolls['loop']!) },
    }) as RunContent;

  it.each<[string, (content: RunContent) => RunContent, string[]]>([
    [
      'an order with another name',
      orders(([a, b]) => [{ ...a!, order: 'A7' }, b!]),
      ['-   - order: A1       # urgent', '+   - order: A7       # urgent'],
    ],
    [
      'an order of more sets',
      orders(([a, b]) => [a!, { ...b!, quantity: 3 }]),
      [
        '-   - {order: A2, set: wren, hand: LHD, heelPads: both}   # may wait',
        '+   - {order: A2, set: wren, hand: LHD, heelPads: both, quantity: 3}   # may wait',
      ],
    ],
    [
      'an order with something said that was not',
      orders(([a, b]) => [{ ...a!, binding: 'black' }, b!]),
      ['+     binding: black'],
    ],
    [
      'an order less',
      orders(([, b]) => [b!]),
      ['-   - order: A1       # urgent', '-     set: wren', '-     hand: RHD', '-     quantity: 2'],
    ],
    [
      'an order more',
      orders((all) => [...all, { ...all[1]!, order: 'A3', hand: 'RHD' }]),
      [
        '+   - { order: A3, set: wren, hand: RHD, quantity: 1, heelPads: both, boards: true, underlay: true }',
      ],
    ],
    [
      'a roll with another length, and a dye lot',
      loop((roll) => ({ ...roll, length: 8750.5, dyeLot: '7' })),
      ['-     length: 9000   # measured', '+     length: 8750.5   # measured', '+     dyeLot: "7"'],
    ],
    [
      'a roll without a length',
      loop((roll) => ({ ...roll, length: undefined })),
      ['-     length: 9000   # measured'],
    ],
    [
      'a defect more',
      loop((roll) => ({
        ...roll,
        defects: [
          ...(roll as { defects: [] }).defects,
          [
            [1, 2],
            [3, 2],
            [3, 4],
          ],
        ],
      })),
      ['+     - [ [ 1, 2 ], [ 3, 2 ], [ 3, 4 ] ]'],
    ],
    [
      'another title',
      (content) => ({ ...content, title: 'Wren' }),
      [
        '- title:   "Wren, three sets"     # as on the board',
        '+ title:   Wren     # as on the board',
      ],
    ],
  ])('%s', (_, change, lines) => {
    expect(changedLines(commented, change)).toEqual(lines);
  });

  it('one roll that becomes two is an item of a list, comments and all; and is alone again', () => {
    const plain = { defects: [], pins: [], laid: [] };
    changedLines(
      commented,
      loop((roll) => [roll, plain]),
    );
    const two = readFileSync(file, 'utf8');
    const comments = (text: string): string[] => text.match(/#.*$/gm)!;
    expect(comments(two)).toEqual(comments(commented));
    expect(two).toContain('    - length: 9000   # measured\n');
    changedLines(
      two,
      loop((rolls) => (rolls as unknown as object[])[0]),
    );
    expect(diff(commented, readFileSync(file, 'utf8'))).toEqual([]);
  });

  it('a roll of the shop: others stay as they stand', () => {
    const stock =
      'rolls: # of the shop\n  loop:\n    # rack 3\n    - { name: end, length: 900 }   # torn\n\n    - name: other # new\n      length: 70\n';
    const rolls = join(shop.shared, 'rolls.yaml');
    writeFileSync(rolls, stock);
    mkdirSync(join(shop.shared, 'materials'));
    writeFileSync(join(shop.shared, 'materials/loop.yaml'), '');
    rememberRoll(shop, 'loop', { name: 'end', length: 850, defects: [], pins: [], laid: [] });
    const after = readFileSync(rolls, 'utf8');
    expect(after).toBe(stock.replace('length: 900', 'length: 850'));
  });
});

describe('whatever is dragged', () => {
  const labels = [
    'floor.1.A1',
    'dash.1.A1',
    'mat-left.1.A1',
    'mat-right.1.A1',
    'rest.1.A1',
    'new.1.A1',
  ];
  const step = fc.record({
    label: fc.constantFrom(...labels),
    to: fc.option(
      fc.tuple(
        fc.integer({ min: 0, max: 2000 }),
        fc.integer({ min: 0, max: 2000 }),
        fc.constantFrom(0, 90),
      ),
    ),
  });

  it('no comment is lost, and no line changes that does not name a part of the roll', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 12 }), (steps) => {
        let text = commented;
        for (const { label, to } of steps) {
          changedLines(text, dragged(label, to as [number, number, number] | null));
          text = readFileSync(file, 'utf8');
        }
        const comments = (one: string): string[] => one.match(/#.*$/gm)!.toSorted();
        expect(comments(text)).toEqual(comments(commented));
        const others = (one: string): string[] =>
          one
            .trimEnd()
            .split('\n')
            .filter((line) => !/part: |at: |rotation: |(pins|laid): *(#.*)?$|^ *#|^$/.test(line));
        expect(others(text)).toEqual(others(commented));
      }),
      { numRuns: 40 },
    );
  });
});
