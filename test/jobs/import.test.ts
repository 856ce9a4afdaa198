import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkSet } from '../../src/jobs/check.ts';
import { deriveSet } from '../../src/jobs/derive.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { Refusal } from '../../src/base/findings.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { boxOfPath, pathLength } from '../../src/geometry/paths/path.ts';
import { numberedChordError } from '../../src/handing/redrawing/numbered-drawing.ts';
import { headingOf } from '../../src/geometry/paths/angle.ts';
import { distance, plus, times } from '../../src/geometry/paths/point.ts';
import type { Imported } from '../../src/jobs/import.ts';
import { importSet } from '../../src/jobs/import.ts';
import { describeDrawing } from '../../src/pattern/first-look/describe.ts';
import { readSet } from '../../src/pattern/set.ts';
import type { Tag } from '../drawing/dxf.ts';
import { block, dxf, halfTrapezium, inMm, insert, line, lwpolyline, text } from '../drawing/dxf.ts';
import { checkedAfter, imported, rectangle } from '../support/imported.ts';
import { inFolder, wren } from '../support/wren.ts';

const tub = lwpolyline(
  [
    [0, 0, 0],
    [400, 0, 0.2],
    [400, 300, 0],
    [0, 300, 0],
  ],
  true,
);

/** A text inside the tub, on the numbered layer of outlines. */
function tubText(words: string, y = 20): Tag[] {
  return text(words, 20, y, 10, '1');
}

function notch(x: number, y: number, more: readonly Tag[]): Tag[] {
  return [[0, 'POINT'], [8, '4'], [10, x], [20, y], ...more];
}

const drawing = dxf({
  header: inMm,
  blocks: [
    block('A', [
      tub,
      tubText('Piece Name: Tub Ü'),
      tubText('QUANTITY: 1,1', 40),
      tubText('Material: loop', 60),
    ]),
    block('SILL-L', [tub]),
    block('SILL RH', [
      tub,
      notch(200, 0, [
        [30, 6],
        [50, 270],
      ]),
      notch(0, 150, [[30, 4]]),
    ]),
    block('MAT', [tub, tubText('Quantity: 3,0')]),
  ],
  entities: ['A', 'SILL-L', 'SILL RH', 'MAT'].map((name, i) => insert(name, 1000 * i, 0)),
});

describe('a first set', () => {
  it('takes a single quantity of a pair for both sides together, and asks', async () => {
    const sill = (words: string) =>
      dxf({
        header: inMm,
        blocks: [block('SILL RH', [tub, tubText(words)])],
        entities: [insert('SILL RH', 0, 0)],
      });
    const pieceOf = (words: string) =>
      imported(sill(words), ({ set }) => {
        const [{ side, quantity, quantityWhy }] = set.pieces as [(typeof set.pieces)[number]];
        return [side.value, quantity, quantityWhy === null ? null : 'asked'];
      });
    expect(await pieceOf('Quantity: 4')).toEqual(['pair', 2, 'asked']);
    expect(await pieceOf('Quantity: 2')).toEqual(['pair', 1, 'asked']);
    expect(await pieceOf('Quantity: 2,2')).toEqual(['pair', 2, null]);
    expect(await pieceOf('Quantity: 1')).toEqual(['pair', 1, null]);
  });

  // 0: with the side; 1: with the quantity; 2: as a text that asks for something.
  it('asks where a quantity has none for one side, and keeps one that it cannot read', async () => {
    const pieceOf = (name: string, words: string) =>
      imported(
        dxf({
          header: inMm,
          blocks: [block(name, [tub, tubText(words)])],
          entities: [insert(name, 0, 0)],
        }),
        ({ set }) => {
          const [{ side, quantity, quantityWhy, texts }] = set.pieces as [
            (typeof set.pieces)[number],
          ];
          const asked = [side.why, quantityWhy, texts].map((why) => why?.includes(words) ?? false);
          return [side.value, quantity, asked.indexOf(true)];
        },
      );
    expect(await pieceOf('MAT', 'Quantity: 1,0')).toEqual(['centre', 1, 0]);
    expect(await pieceOf('SILL RH', 'Quantity: 1,0')).toEqual(['right', 1, 0]);
    expect(await pieceOf('SILL RH', 'Quantity: 0,2')).toEqual(['left', 2, 0]);
    expect(await pieceOf('MAT', 'Quantity: 2 sets')).toEqual(['centre', 2, 1]);
    expect(await pieceOf('MAT', 'Quantity: 1.0')).toEqual(['centre', 1, 2]);
  });

  it('asks whether something is a piece that the drawing never shows, or that lies in another', async () => {
    const inner = (layer: string, from: number, to: number): Tag[] => {
      const corners = [
        [from, from, 0],
        [to, from, 0],
        [to, to, 0],
        [from, to, 0],
      ] as const;
      return lwpolyline(corners, true).map((tag): Tag => (tag[0] === 8 ? [8, layer] : tag));
    };
    const nest = block('BIG', [
      inner('OUTLINE', 0, 900),
      inner('CUTOUT', 200, 700),
      inner('OUTLINE', 300, 500),
    ]);
    const sheet = dxf({
      header: inMm,
      blocks: [nest, block('OLD', [tub]), block('MAT', [tub])],
      entities: [insert('BIG', 0, 0), insert('MAT', 2000, 0)],
    });
    await imported(sheet, ({ set }, root) => {
      const asked = set.pieces.map(({ name, doubt }) => [name, doubt]);
      expect(asked).toEqual([
        ['big-1', null],
        ['big-2', expect.stringContaining('in the outline of "big-1"')],
        ['mat', null],
        ['old', expect.stringContaining('never inserts its block OLD')],
      ]);
      const { findings } = readSet(join(root, 'patterns/customer'), join(root, 'shared'));
      const told = findings.filter(({ rule }) => rule === 'open-question');
      expect(told.map(({ message }) => message)).toContainEqual(
        expect.stringMatching(/2 pieces may be none: big-2 .*; old /),
      );
    });
    // Where nothing is inserted, blocks are how the pieces are drawn.
    const plain = dxf({ header: inMm, blocks: [block('OLD', [tub])], entities: [] });
    await imported(plain, ({ set }) => expect(set.pieces[0]!.doubt).toBeNull());
  });

  it('has every piece, with sides from quantities and names, and says what is guessed', async () => {
    await imported(drawing, ({ set: { pieces } }, root) => {
      expect(pieces.map(({ name, side, quantity }) => [name, side.value, quantity])).toEqual([
        ['tub-u', 'pair', 1],
        ['sill', 'left', 1],
        ['sill-2', 'right', 1],
        ['mat', 'centre', 3],
      ]);
      expect(pieces.map(({ material }) => material)).toEqual([
        { value: 'loop', why: null },
        ...Array.from({ length: 3 }, () => ({ value: 'board', why: 'the drawing names none' })),
      ]);
      const { content } = readSet(join(root, 'patterns/customer'), join(root, 'shared'));
      const open = Object.entries(content.pieces).map(([name, entry]) => [
        name,
        Object.keys(entry.open ?? {}),
      ]);
      expect(open).toEqual([
        ['tub-u', ['side', 'drawnSide']],
        ['sill', ['side', 'material']],
        ['sill-2', ['side', 'material']],
        ['mat', ['side', 'material']],
      ]);
      // The numbers of its layers are those of ASTM D6673, and nobody said so.
      expect(Object.keys(content.open ?? {})).toEqual([
        'title',
        'drawn',
        'pile',
        'numbered-layers',
      ]);
    });
  });

  it('is read again as it was seen, notches as deep and as they point', async () => {
    await imported(drawing, (_, root) => {
      const { pieces } = readSet(join(root, 'patterns/customer'), join(root, 'shared'));
      const [first, ...rest] = pieces.map(({ outline }) => areaOf(outline));
      for (const area of rest) expect(area).toBeCloseTo(first!, 6);
      const notches = pieces[2]!.features.filter(({ role }) => role === 'NOTCH');
      const ends = notches.map(({ path }) => path.vertices.map(({ x, y }) => [x, y]));
      // The first is drawn pointing out and goes in all the same; the second square to its edge.
      expect(ends).toEqual([
        [
          [2200, 0],
          [2200, 6],
        ],
        [
          [2000, 150],
          [2004, 150],
        ],
      ]);
    });
  });

  it('leaves a set that is there alone', async () => {
    await imported(drawing, (_, root) => {
      const request = {
        file: join(root, 'customer.dxf'),
        folder: join(root, 'patterns/wren'),
        sharedFolder: join(root, 'shared'),
        units: undefined,
        drawn: undefined,
        gap: 0.05,
      };
      const before = readFileSync(join(root, 'patterns/wren/set.yaml'), 'utf8');
      expect(() => importSet(request)).toThrow(/exists already/);
      expect(readFileSync(join(root, 'patterns/wren/set.yaml'), 'utf8')).toBe(before);
    });
  });

  const open = lwpolyline(
    [
      [0, 0, 0],
      [400, 0, 0],
      [400, 300, 0],
    ],
    false,
  );
  it.each<[string, string, RegExp]>([
    ['without units', dxf({ entities: [tub] }), /in which units.*--units mm/],
    [
      'with nothing closed',
      dxf({
        header: inMm,
        entities: [
          [
            [0, 'POINT'],
            [8, 'X'],
            [10, 0],
            [20, 0],
          ],
        ],
      }),
      /no closed outline/,
    ],
    ['with an open outline', dxf({ header: inMm, entities: [tub, open] }), /gap of 500 mm/],
    ['that is none', 'Dear customer', /EOF/],
  ])('is not made of a drawing %s', async (_, words, says) => {
    await inFolder(wren, (root) => {
      writeFileSync(join(root, 'customer.dxf'), words);
      const folder = join(root, 'patterns/customer');
      const request = {
        folder,
        file: join(root, 'customer.dxf'),
        sharedFolder: join(root, 'shared'),
      };
      const make = (): Imported =>
        importSet({ ...request, units: undefined, drawn: undefined, gap: 0.05 });
      expect(make).toThrow(Refusal);
      expect(make).toThrow(says);
      expect(existsSync(folder)).toBe(false);
    });
  });

  it.each(['../away', 'Ä', 'a b', ''])('is not made under the name "%s"', async (name) => {
    await inFolder(wren, (root) => {
      const request = { file: 'x.dxf', folder: join(root, 'patterns', name), sharedFolder: root };
      const make = (): Imported =>
        importSet({ ...request, units: undefined, drawn: undefined, gap: 0.05 });
      expect(make).toThrow(Refusal);
    });
  });
});

const floor = [
  rectangle(0, 0, 600, 400, 'Black lines'),
  text('FLOOR', 200, 200, 20, 'Black lines'),
];
const boot = [rectangle(1000, 0, 500, 400, 'OUTLINE'), text('BOOT', 1100, 200, 20)];

describe('what a drawing does not say', () => {
  it('is asked by check, each question once for all pieces, and by key', async () => {
    const { findings } = await checkedAfter([...floor, ...boot]);
    const asked = findings.filter(({ rule }) => rule === 'open-question');
    expect(asked.map(({ message }) => message.split('"')[1])).toEqual([
      'title: Customer',
      'drawn: RHD',
      'pile: rearward',
      'side: centre',
      'material: board',
    ]);
    expect(asked.at(-1)!.message).toContain('floor (line 20), boot (line 26)');
  });

  it('is not asked where somebody said it', async () => {
    const { findings } = await checkedAfter([...floor, ...boot], { drawn: 'LHD' });
    expect(findings.filter(({ message }) => message.includes('"drawn: '))).toEqual([]);
  });

  it('keeps a closed line on a layer that says nothing, and asks what it is', async () => {
    const { findings, patterns } = await checkedAfter([
      ...floor,
      ...boot,
      rectangle(100, 100, 180, 90, 'Heel (pad)'),
      rectangle(1100, 100, 60, 60, 'CUTOUT'),
    ]);
    const [piece, other] = patterns.pieces;
    expect(piece!.features).toEqual([]);
    expect(piece!.unknown.map(({ layer }) => layer)).toEqual(['HEEL-PAD']);
    expect(other!.features.map(({ role }) => role)).toEqual(['CUTOUT']);
    const unknown = findings.filter(({ rule }) => rule === 'unknown-layer');
    expect(unknown).toMatchObject([{ severity: 'error', where: { piece: 'floor' } }]);
    expect(unknown[0]!.message).toContain('a closed line of 180 by 90 mm');
  });

  it.each([
    ['Outline;', 'OUTLINE-2'],
    ['PAD?', 'PAD-2'],
    ['Äste', 'ASTE'],
    ['???', 'LAYER'],
  ])('never turns the layer %j into one that says something', async (layer, own) => {
    const { patterns } = await checkedAfter([...floor, line(100, 100, 200, 100, layer)]);
    expect(patterns.pieces[0]!.unknown.map((one) => one.layer)).toEqual([own]);
  });

  it('keeps what lies in no outline in a block of its own, and asks', async () => {
    const { findings, made } = await checkedAfter([
      ...floor,
      ...boot,
      line(3000, 0, 3000, 100, 'dims'),
      text('all sizes net', 3000, 500),
    ]);
    expect(made.set.leftOut).toBe(
      '1 on layer dims (an open line 100 mm long at 3000, 0); the texts "all sizes net"',
    );
    const one = findings.find(({ message }) => message.includes('lies in no outline'));
    expect(one).toMatchObject({ severity: 'error', rule: 'open-question' });
    await imported(
      dxf({ header: inMm, entities: [...floor, ...boot, line(3000, 0, 3000, 100, 'dims')] }),
      (_, root) => {
        const { blocks } = readDrawing(join(root, 'patterns/customer/customer.dxf'), {
          setUnits: 'mm',
        });
        const left = blocks.find(({ name }) => name === 'LEFT-OUT')!;
        expect(left.entities.map(({ layer }) => layer)).toEqual(['DIMS']);
      },
    );
  });

  it('loses nothing: every entity is on a piece or in that block', async () => {
    const words = dxf({
      header: inMm,
      entities: [
        ...floor,
        ...boot,
        rectangle(20, 20, 10, 10, 'x1'),
        line(50, 50, 90, 50, 'x2'),
        notch(300, 300, []),
        line(-50, 200, 650, 200, 'x3'),
        line(620, 0, 620, 300, 'x4'),
        line(5000, 0, 5000, 100, 'x5'),
        notch(5000, 5000, []),
        text('see letter', 100, 300),
        text('sheet 1', 5000, 300),
      ],
    });
    await imported(words, (_, root) => {
      const count = (file: string): number =>
        readDrawing(join(root, file), { setUnits: 'mm' }).entities.length;
      expect(count('patterns/customer/customer.dxf')).toBe(count('customer.dxf'));
    });
  });

  it('asks what texts on a piece mean, but for labels and its name', async () => {
    const { findings } = await checkedAfter([
      ...floor,
      ...boot,
      text('Quantity: 1', 100, 50),
      text('Note: cut 2', 100, 80),
    ]);
    const [one, ...rest] = findings.filter(({ message }) => message.includes('these texts'));
    expect(rest).toEqual([]);
    expect(one!.where.piece).toBe('floor');
    expect(one!.message).toContain(': "Note: cut 2".');
  });

  const things = [
    rectangle(100, 100, 100, 60, 'CUTOUT'),
    line(300, 0, 300, 400, 'FOLD'),
    text('FLOOR', 480, 360, 20),
  ];
  const textsAsked = async (words: string, x: number, y: number): Promise<string | null> => {
    const entities = [rectangle(0, 0, 600, 400, 'OUTLINE'), ...things, text(words, x, y, 10)];
    return (await checkedAfter(entities)).made.set.pieces[0]!.texts;
  };
  it.each([
    ['gear lever', 110, 130],
    ['h/brake', 110, 180],
    ['FOLD', 310, 200],
    ['HEEL PAD', 120, 80],
  ])('does not ask what %j means, beside what it names', async (words, x, y) => {
    expect(await textsAsked(words, x, y)).toBeNull();
  });
  it.each([
    // Beside nothing.
    ['gear lever', 480, 200],
    ['gear lever 2', 110, 130],
    ['no hole', 110, 130],
    ['FOLD UNDER', 310, 200],
    ['cut out', 110, 130],
    ['PILE ACROSS', 310, 200],
    ['trim at the big lever', 110, 130],
    ['lever?', 110, 130],
  ])('asks what %j means', async (words, x, y) => {
    expect(await textsAsked(words, x, y)).toBe(`"${words}"`);
  });

  it.each([
    ['nap to rear on all pieces', 'rearward'],
    ['Pile to the front', 'forward'],
    ['all net. PILE FORWARD', 'forward'],
    ['PILE TO LEFT', 'left'],
  ])('guesses from %j where the pile leans, and asks', async (words, way) => {
    const { made, findings } = await checkedAfter([...floor, ...boot, text(words, 0, 900)]);
    expect(made.set.pile).toEqual({ value: way, why: `a text in the drawing says "${words}"` });
    const asked = findings.filter(({ message }) => message.startsWith(`"pile: ${way}" is a guess`));
    expect(asked).toHaveLength(1);
    // On a piece it is asked about there alone.
    const on = await checkedAfter([...floor, ...boot, text(words, 100, 50)]);
    expect(on.made.set.pile.value).toBe(way);
    expect(on.made.set.pieces[0]!.texts).toBeNull();
  });
  it.each(['pile not to rear', 'nap of rear floor', 'rear pile', 'nap to front or to rear'])(
    'guesses nothing from %j',
    async (words) => {
      const { made } = await checkedAfter([...floor, ...boot, text(words, 0, 900)]);
      expect(made.set.pile.why).toContain('no drawing says');
    },
  );
  it('asks about texts that differ on the pile', async () => {
    const { made } = await checkedAfter([
      ...floor,
      ...boot,
      text('pile to front', 100, 50),
      text('pile to rear', 1100, 50),
    ]);
    expect(made.set.pile.why).toContain('differ: "pile to front", "pile to rear"');
    expect(made.set.pieces.map(({ texts }) => texts)).toEqual([
      '"pile to front"',
      '"pile to rear"',
    ]);
  });

  it.each([
    ['MIRROR', /a text on it says "MIRROR"/],
    ['1 each side', /a text on it says "1 each side"/],
    ['LH & RH', /a text on it says "LH & RH"/],
  ])('takes the text %j for a pair, and asks', async (words, why) => {
    const { made } = await checkedAfter([...floor, ...boot, text(words, 100, 50)]);
    expect(made.set.pieces[0]!.side).toMatchObject({ value: 'pair' });
    expect(made.set.pieces[0]!.side.why).toMatch(why);
    expect(made.set.pieces[1]!.side.value).toBe('centre');
  });

  it.each([
    ['FRONT FLOOR RH', 'front-floor', 'right'],
    ['L/H Front Floor', 'front-floor', 'left'],
    ['FloorRH', 'floor', 'right'],
    ['Floor left rear', 'floor-rear', 'left'],
  ])('takes %j for one of a pair, without its side in the name', async (words, name, drawn) => {
    const { made } = await checkedAfter([
      rectangle(0, 0, 600, 400, 'OUTLINE'),
      text(words, 100, 200, 20),
      ...boot,
    ]);
    const [piece] = made.set.pieces;
    expect(piece).toMatchObject({ name, side: { value: 'pair' }, drawnSide: { value: drawn } });
    expect(piece!.side.why).toContain('nothing of that name says');
  });

  it.each(['FLOOR RHD', 'TYPE R MAT', 'UPRIGHT'])('finds no side in %j', async (words) => {
    const { made } = await checkedAfter([
      rectangle(0, 0, 600, 400, 'OUTLINE'),
      text(words, 100, 200, 20),
      ...boot,
    ]);
    expect(made.set.pieces[0]!.side.value).toBe('centre');
  });

  it('takes no piece that lies beside a centreline for a centre piece', async () => {
    const { made } = await checkedAfter([
      rectangle(100, 0, 600, 400, 'OUTLINE'),
      rectangle(-700, 0, 600, 400, 'OUTLINE'),
      rectangle(-300, 600, 600, 400, 'OUTLINE'),
      line(0, -50, 0, 1200, 'AXIS'),
    ]);
    expect(made.set.pieces.map(({ side }) => side.value)).toEqual(['right', 'left', 'centre']);
    expect(made.set.pieces[0]!.side.why).toContain('wholly to the right of the line on layer AXIS');
  });

  it('says where a piece lies beside x = 0, where nothing else says it', async () => {
    const { made } = await checkedAfter([
      rectangle(100, 0, 600, 400, 'OUTLINE'),
      rectangle(-700, 0, 600, 400, 'OUTLINE'),
    ]);
    expect(made.set.pieces[0]!.side.why).toContain('wholly to the right of x = 0: if');
    expect(made.set.pieces[1]!.side.why).toContain('wholly to the left of x = 0');
  });

  it.each([
    ['sill carpet - 1 each side', 'sill-carpet', 'pair', 1],
    ['DOOR BOTTOM 2 off handed', 'door-bottom', 'pair', 1],
    ['DOOR BOTTOM 4 OFF, HANDED', 'door-bottom', 'pair', 2],
    ['Wheel arch (1 pair)', 'wheel-arch', 'pair', 1],
    ['Flap 2 pairs', 'flap', 'pair', 2],
    ['MAT x2', 'mat', 'centre', 2],
    ['2 off Mat', 'mat', 'centre', 2],
    ['MAT 1 OFF', 'mat', 'centre', 1],
    ['MAT RH 1 off each', 'mat', 'pair', 1],
    ['FLOOR 2', 'floor-2', 'centre', 1],
    ['4x4 MAT', '4x4-mat', 'centre', 1],
    ['SIDE OFFCUT', 'side-offcut', 'centre', 1],
    ['pair', 'pair', 'pair', 1],
    ['DOOR L+R', 'door', 'pair', 1],
    ['SILL LH & RH', 'sill', 'pair', 1],
    ['STEP L/R', 'step', 'pair', 1],
    ['TUNNEL mirrored on centre line', 'tunnel-mirrored-on-centre-line', 'centre', 1],
    ['TUNNEL half, mirror on CL', 'tunnel-half-mirror-on-cl', 'centre', 1],
  ])('reads how many and for which side in the name %j', async (words, name, side, quantity) => {
    const { made, findings } = await checkedAfter([
      rectangle(0, 0, 600, 400, 'OUTLINE'),
      text(words, 100, 200, 20),
      ...boot,
    ]);
    expect(made.set.pieces[0]).toMatchObject({ name, side: { value: side }, quantity });
    expect(findings.some(({ message }) => message.startsWith('"quantity: '))).toBe(quantity > 1);
  });

  it('asks for how many a text says, once', async () => {
    const { findings } = await checkedAfter([...floor, ...boot, text('2 OFF', 100, 50)]);
    const asked = findings.filter(({ message }) => message.includes('"2 OFF"'));
    expect(asked.map(({ message }) => message)).toEqual([
      '"quantity: 2" is a guess on this piece: a text on it says "2 OFF".',
    ]);
  });

  it('asks of two pieces, one with pedal holes, whether they go with the driver', async () => {
    const toes = [
      rectangle(300, 0, 400, 300, 'OUTLINE'),
      text('TOE BOARD RH', 320, 20, 18),
      rectangle(-700, 0, 400, 300, 'OUTLINE'),
      text('TOE BOARD LH', -680, 20, 18),
    ];
    const pedals = rectangle(400, 150, 40, 80, 'CUTOUT');
    const why = async (entities: readonly (readonly Tag[])[]): Promise<(string | null)[]> =>
      (await checkedAfter(entities)).made.set.pieces.map(({ side }) => side.why);
    const [right, left] = await why([...toes, pedals]);
    expect(right).toMatch(
      /a closed line of 40 by 80 mm at 420, 190 .*"side: driver" or "side: passenger".*CUTOUT-DRIVER/,
    );
    expect(left).toContain('"TOE BOARD RH" alone: answer both together');
    const [plain] = await why(toes);
    expect(plain).toMatch(/is the mirror image of its twin "TOE BOARD LH": make the two one piece/);
  });

  it('asks whether half is drawn where a straight edge lies along the centreline', async () => {
    const { made } = await checkedAfter([
      rectangle(0, 0, 600, 400, 'OUTLINE'),
      line(0, -50, 0, 500, 'cl'),
      ...boot,
    ]);
    expect(made.set.pieces[0]!.side.why).toMatch(
      /a straight edge along it: .*"half: true", and the line on layer cl is its AXIS/,
    );
  });

  it('has its title from the largest text outside, or from the folder', async () => {
    const title = text('HARRIER COUPE', 0, 900, 60);
    const { made } = await checkedAfter([...floor, ...boot, title, text('scale 1:1', 0, 800, 80)]);
    expect(made.set.title.value).toBe('HARRIER COUPE');
    const scaled = text('HARRIER COUPE RHD - carpets  scale 1:1  mm', 0, 900, 60);
    const { made: again } = await checkedAfter([...floor, ...boot, scaled]);
    expect(again.set.title.value).toBe('HARRIER COUPE - carpets');
    const two = await checkedAfter([...floor, ...boot, title, text('or another', 0, 800, 60)]);
    expect(two.made.set.title.value).toBe('Customer');
  });

  it('has the hand that the drawing names', async () => {
    const { made } = await checkedAfter([...floor, ...boot, text('LHD shown', 0, 900)]);
    expect(made.set.hand).toEqual({ value: 'LHD', why: 'the drawing says LHD somewhere' });
  });
});

describe('parts with numbered layers', () => {
  it('come back with the geometry that they went out with', async () => {
    await inFolder(wren, (root) => {
      const { parts } = deriveSet({
        setFolder: join(root, 'patterns/wren'),
        sharedFolder: join(root, 'shared'),
        out: join(root, 'out'),
        options: { hand: 'LHD', heelPads: 'driver', boards: true, underlay: true },
        force: false,
        as: 'astm',
      });
      const read = readDrawing(join(root, 'out/parts/wren-LHD.dxf'));
      expect(read).toMatchObject({ units: 'mm', unitsFrom: 'text' });
      const { pieces } = describeDrawing(read, new Map(), { gap: 0.05 });
      expect(pieces.map(({ report }) => report.name)).toEqual(parts.map(({ name }) => name));
      for (const [i, { report, outline }] of pieces.entries()) {
        const part = parts[i]!;
        const within = numberedChordError * pathLength(part.cut);
        expect(Math.abs(report.outline.area - areaOf(part.cut))).toBeLessThanOrEqual(within + 1e-6);
        const sides = Object.values(boxOfPath(part.cut));
        for (const [k, side] of report.outline.bbox.entries()) {
          expect(Math.abs(side - sides[k]!)).toBeLessThanOrEqual(numberedChordError);
        }
        // Cutouts, and holes as points with their diameter.
        const drills = outline.others.flatMap((one) =>
          one.kind === 'point' && one.layer === '13' && one.mark
            ? [Math.PI * (one.mark.height / 2) ** 2]
            : [],
        );
        const areas = [...report.inner.map(({ area }) => area), ...drills].sort((a, b) => a - b);
        const inner = part.inner.map(({ path }) => areaOf(path)).sort((a, b) => a - b);
        expect(areas.length).toBe(inner.length);
        for (const [k, area] of areas.entries()) {
          expect(Math.abs(area / inner[k]! - 1)).toBeLessThan(1e-3);
        }
        const notches = outline.others.filter(({ layer }) => layer === '4');
        expect(notches.length).toBe(part.notches.length);
        for (const [k, one] of notches.entries()) {
          const { from, to } = part.notches[k]!;
          if (one.kind !== 'point') throw new Error('a notch is a point');
          expect(distance(one.at, from)).toBeLessThan(1e-6);
          expect(one.mark!.height).toBeCloseTo(distance(from, to), 6);
          // The angle points to its inner end.
          const end = plus(one.at, times(headingOf(one.mark!.deg!), one.mark!.height));
          expect(distance(end, to)).toBeLessThan(1e-4);
        }
      }
      // Somewhere there were all of them.
      expect(parts.some(({ notches }) => notches.length > 0)).toBe(true);
      expect(parts.some(({ inner }) => inner.length > 1)).toBe(true);
    });
  });
});

describe('a set whose drawing shows a block otherwise than it is drawn', () => {
  const write = (root: string, more: readonly Tag[]): void => {
    const parts = { header: inMm, blocks: [block('TUB', [tub])] };
    writeFileSync(
      join(root, 'patterns/wren/tub.dxf'),
      dxf({ ...parts, entities: [insert('TUB', 900, 0, more)] }),
    );
    const setText =
      'title: Tub\ndrawn: RHD\ndrawing: tub.dxf\npieces:\n  tub: { side: centre, material: loop }\n';
    writeFileSync(join(root, 'patterns/wren/set.yaml'), setText);
  };

  it.each<[string, Tag[], boolean]>([
    ['turned', [[50, 30]], false],
    [
      'scaled',
      [
        [41, 25.4],
        [42, 25.4],
      ],
      true,
    ],
    ['stretched', [[42, 1.1]], true],
    ['mirrored', [[41, -1]], true],
  ])('%s', async (_, more, found) => {
    await inFolder(wren, (root) => {
      write(root, more);
      const { findings } = readSet(join(root, 'patterns/wren'), join(root, 'shared'));
      expect(findings.some(({ rule }) => rule === 'placed-otherwise')).toBe(found);
    });
  });
});

describe('a set whose drawing shows its blocks', () => {
  const rulesOf = (root: string, inserts: Tag[][]): string[] => {
    const blocks = [block('TUB', [tub]), block('LID', [tub])];
    writeFileSync(
      join(root, 'patterns/wren/tub.dxf'),
      dxf({ header: inMm, blocks, entities: inserts }),
    );
    const setText =
      'title: Tub\ndrawn: RHD\ndrawing: tub.dxf\npieces:\n  tub: { side: centre, material: loop }\n  lid: { side: centre, material: loop, decided: as the tub }\n';
    writeFileSync(join(root, 'patterns/wren/set.yaml'), setText);
    const { findings } = readSet(join(root, 'patterns/wren'), join(root, 'shared'));
    return findings.map(({ rule, where }) => [rule, where.piece].filter(Boolean).join(' '));
  };
  const turned = (name: string, deg: number): Tag[] => insert(name, 900, 0, [[50, deg]]);

  it('turned alone, or turned and not, or not all of them', async () => {
    await inFolder(wren, (root) => {
      const upright = [insert('TUB', 0, 0), insert('LID', 0, 0)];
      expect(rulesOf(root, upright)).toEqual([]);
      expect(rulesOf(root, [turned('TUB', 180), insert('LID', 0, 0)])).toEqual([
        'placed-turned tub',
      ]);
      expect(rulesOf(root, [turned('TUB', 180), ...upright])).toEqual([]);
      expect(rulesOf(root, [turned('TUB', 360), insert('LID', 0, 0)])).toEqual([]);
      expect(rulesOf(root, [insert('TUB', 0, 0)])).toEqual(['never-shown']);
      expect(rulesOf(root, [])).toEqual([]);
    });
  });

  it('an outline in no block is told, and one that a piece’s block holds is not', async () => {
    await inFolder(wren, (root) => {
      expect(rulesOf(root, [insert('TUB', 0, 0), insert('LID', 0, 0), tub])).toEqual([
        'unused-block',
      ]);
    });
  });
});

describe('a set of numbered layers', () => {
  const words = dxf({
    header: inMm,
    entities: [rectangle(0, 0, 600, 400, '1'), rectangle(100, 100, 200, 200, '11')],
  });

  it('is cut only when somebody has said that the numbers mean what ASTM D6673 says', async () => {
    const openOf = (root: string): string[] => {
      const { content } = readSet(join(root, 'patterns/customer'), join(root, 'shared'));
      return Object.keys(content.open ?? {});
    };
    await imported(words, ({ set }, root) => {
      expect(set.numbered).toContain('11 for CUTOUT');
      expect(openOf(root)).toContain('numbered-layers');
      const { findings } = checkSet(join(root, 'patterns/customer'), join(root, 'shared'));
      const asked = findings.filter(({ message }) => message.includes('11 for CUTOUT'));
      expect(asked.map(({ rule, severity }) => [rule, severity])).toEqual([
        ['open-question', 'error'],
      ]);
    });
    const layers: [string, string][] = [
      ['1', 'OUTLINE'],
      ['11', 'PAD'],
    ];
    await imported(
      words,
      ({ set }, root) => {
        expect(set.numbered).toBeNull();
        expect(openOf(root)).not.toContain('numbered-layers');
      },
      { layers },
    );
  });

  it('with a mirror line and no word of a half is an error, and with it the whole piece', async () => {
    await inFolder(wren, (root) => {
      const folder = join(root, 'patterns/wren');
      const entities = [halfTrapezium, line(0, 0, 0, 300, '6')];
      writeFileSync(
        join(folder, 'tub.dxf'),
        dxf({ header: inMm, blocks: [block('TUB', entities)], entities: [] }),
      );
      const set = (more: string): ReturnType<typeof readSet> => {
        const setText = `title: Tub\ndrawn: RHD\ndrawing: tub.dxf\npieces:\n  tub: { side: centre, material: loop${more} }\n`;
        writeFileSync(join(folder, 'set.yaml'), setText);
        return readSet(folder, join(root, 'shared'));
      };
      expect(set('').findings.map(({ rule }) => rule)).toContain('half-not-said');
      expect(set('').pieces).toEqual([]);
      // A trapezium of 400 and 300 over 300.
      expect(areaOf(set(', half: true').pieces[0]!.outline)).toBeCloseTo(105_000, 6);
    });
  });
});
