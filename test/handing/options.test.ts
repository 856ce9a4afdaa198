/**
 * The laws of options, on random small sets. What goes with an option is drawn on a layer with a suffix.
 * The same set is drawn out by hand for each choice, without suffixes: it is the expectation.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { box, hole, line, on } from '../../patterns/fenlark/pen.ts';
import type { Entity } from '../../src/drawing/drawing.ts';
import { textEntity } from '../../src/drawing/entity-of.ts';
import { deriveParts } from '../../src/handing/derive.ts';
import type { Part } from '../../src/handing/part.ts';
import { redrawnSet } from '../../src/handing/redrawing/redrawn-set.ts';
import type { SetFiles } from '../../src/pattern/set.ts';
import { readSet, readSetFiles } from '../../src/pattern/set.ts';
import type { Hand } from '../../src/pattern/words.ts';
import { hands } from '../../src/pattern/words.ts';
import {
  blockNames,
  rewrittenSetFile,
  shortLayers,
  writeSetDrawing,
} from '../../src/pattern/write-set.ts';
import { drawingText } from '../support/wren.ts';
import { tries } from '../support/thorough.ts';
import { materials, order } from './fixtures.ts';

/** What a vehicle has: an overdrive or none, and one of three consoles. */
interface Choice {
  readonly od: boolean;
  readonly cs: 'none' | 'sh' | 'lg';
}

const choices: readonly Choice[] = [true, false].flatMap((od) =>
  (['none', 'sh', 'lg'] as const).map((cs) => ({ od, cs })),
);

/** The suffixes, each with what it means. */
const meanings = {
  'WITH-OD': ({ od }: Choice) => od,
  'WITHOUT-OD': ({ od }: Choice) => !od,
  'WITH-CS-NONE': ({ cs }: Choice) => cs === 'none',
  'WITH-CS-LG': ({ cs }: Choice) => cs === 'lg',
  'WITHOUT-CS-NONE': ({ cs }: Choice) => cs !== 'none',
  'WITHOUT-CS-LG': ({ cs }: Choice) => cs !== 'lg',
} as const;
type Suffix = keyof typeof meanings;

/** Something drawn, and the suffixes of its layer. */
interface Drawn {
  readonly entity: Entity;
  readonly when: readonly Suffix[];
}

interface SmallPiece {
  readonly entry: string;
  readonly drawn: readonly Drawn[];
}

const suffix = fc.constantFrom(...(Object.keys(meanings) as Suffix[]));
const when = fc.oneof(
  fc.constant<Suffix[]>([]),
  suffix.map((one) => [one]),
  fc.uniqueArray(suffix, { minLength: 2, maxLength: 2 }),
);
/** Two suffixes of which in every choice exactly one holds. */
const eitherOr = fc.constantFrom<[Suffix, Suffix]>(
  ['WITH-OD', 'WITHOUT-OD'],
  ['WITHOUT-CS-NONE', 'WITH-CS-NONE'],
  ['WITH-CS-LG', 'WITHOUT-CS-LG'],
);

function as(suffixes: readonly Suffix[], entities: readonly Entity[]): Drawn[] {
  return entities.map((entity) => ({ entity, when: suffixes }));
}

const wide = { path: box(-300, 0, 300, 400), top: 400, side: 300 };
const tall = { path: box(-280, 0, 280, 440, 25), top: 440, side: 280 };

const outlines: fc.Arbitrary<Drawn[]> = fc.oneof(
  fc.constant(as([], on('OUTLINE', wide.path))),
  when.map((own) => as(own, on('OUTLINE', tall.path))),
  eitherOr.map(([one, other]) => [
    ...as([one], on('OUTLINE', wide.path)),
    ...as([other], on('OUTLINE', tall.path)),
  ]),
);

const axes: fc.Arbitrary<Drawn[]> = fc.oneof(
  { arbitrary: fc.constant(as([], on('AXIS', line([0, 0], [0, 400])))), weight: 3 },
  {
    arbitrary: eitherOr.map(([one, other]) => [
      ...as([one], on('AXIS', line([0, 0], [0, 400]))),
      ...as([other], on('AXIS', line([10, 0], [12, 400]))),
    ]),
    weight: 1,
  },
);

const piles: fc.Arbitrary<Drawn[]> = fc.oneof(
  { arbitrary: fc.constant(as([], on('PILE', line([20, 300], [20, 250])))), weight: 3 },
  {
    arbitrary: eitherOr.map(([one, other]) => [
      ...as([one], on('PILE', line([20, 300], [20, 250]))),
      ...as([other], on('PILE', line([20, 250], [60, 250]))),
    ]),
    weight: 1,
  },
);

const follows = fc.constantFrom('', '', '-DRIVER', '-PASSENGER', '-LEFT', '-RIGHT');
const things: fc.Arbitrary<Drawn[]> = fc
  .uniqueArray(
    fc.record({
      place: fc.nat(23),
      role: fc.constantFrom('CUTOUT', 'HOLE', 'MARK', 'FOLD', 'PAD', 'NOTE'),
      follows,
      when,
    }),
    { maxLength: 7, selector: ({ place }) => place },
  )
  .map((all) =>
    all.flatMap((one) => {
      const [x, y] = [-250 + 65 * (one.place % 8), 60 + 110 * Math.floor(one.place / 8)];
      const layer = one.role === 'NOTE' ? 'NOTE' : `${one.role}${one.follows}`;
      const isOpen = one.role === 'MARK' || one.role === 'FOLD' || one.role === 'NOTE';
      const path = isOpen
        ? line([x, y], [x + 20, y + 7])
        : one.role === 'HOLE'
          ? hole(x, y, 9)
          : box(x, y, x + 31, y + 17, 4);
      return as(one.when, on(layer, path));
    }),
  );

/** The lower edge, which all outlines have, named beside it. */
const edges: fc.Arbitrary<Drawn[]> = fc.oneof(
  fc.constant<Drawn[]>([]),
  fc
    .tuple(fc.constantFrom('SEAM', 'TUCK', 'RAW'), when)
    .map(([role, own]) =>
      as(own, [
        ...on(role, line([-200, 0], [150, 0])),
        textEntity(role, 'rear', { x: 0, y: -20 }, 12),
      ]),
    ),
);

const piece: fc.Arbitrary<SmallPiece> = fc
  .record({
    side: fc.constantFrom('centre', 'left', 'driver', 'pair, drawnSide: right'),
    drawn: fc.tuple(outlines, axes, piles, edges, things),
  })
  .map(({ side, drawn: [outline, axis, pile, edge, other] }) => ({
    entry: `{ side: ${side}, material: carpet, edge: bound, pad: rubber, decided: so it is }`,
    drawn: [...outline, ...(side === 'centre' ? axis : []), ...pile, ...edge, ...other],
  }));

const smallSet = fc.array(piece, { minLength: 1, maxLength: 3 });

const root = mkdtempSync(join(tmpdir(), 'options-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const head = `title: small
drawn: RHD
units: mm
drawing: small.dxf
`;
const options = `options:
  od: { words: overdrive switch, default: false }
  cs: { words: centre console, values: [none, sh, lg], default: none }
`;

function writeSet(name: string, text: string, drawing: string): string {
  const folder = join(root, name);
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'set.yaml'), text);
  writeFileSync(join(folder, 'small.dxf'), drawing);
  return folder;
}

/** The set with suffixes. A name that is too long for the drawing is one of its own layers. */
function withSuffixes(pieces: readonly SmallPiece[]): string {
  const own = new Map<string, string>();
  const nameOf = ({ entity, when: suffixes }: Drawn): string => {
    const full = [entity.layer, ...suffixes].join('-');
    if (full.length <= 31) return full;
    const short = own.get(full) ?? `OWN${own.size + 1}`;
    own.set(full, short);
    return short;
  };
  const blocks = pieces.map(({ drawn }, i) => ({
    name: `P${i}`,
    entities: drawn.map((one) => ({ ...one.entity, layer: nameOf(one) })),
  }));
  const layers = [...own].map(([full, short]) => `  ${short}: ${full}\n`).join('');
  const entries = pieces.map(({ entry }, i) => `  p${i}: ${entry}\n`).join('');
  return writeSet(
    'suffixed',
    `${head}${options}${layers === '' ? '' : `layers:\n${layers}`}pieces:\n${entries}`,
    drawingText(blocks),
  );
}

/** The set as a person would draw it for one choice alone; null: it has no piece. */
function drawnOut(pieces: readonly SmallPiece[], choice: Choice): string | null {
  const there = pieces.map(({ entry, drawn }) => ({
    entry,
    drawn: drawn.filter((one) => one.when.every((suffixed) => meanings[suffixed](choice))),
  }));
  const isThere = there.map(({ drawn }) => drawn.some(({ entity }) => entity.layer === 'OUTLINE'));
  if (!isThere.includes(true)) return null;
  const blocks = there.flatMap(({ drawn }, i) =>
    isThere[i] ? [{ name: `P${i}`, entities: drawn.map(({ entity }) => entity) }] : [],
  );
  const entries = there.flatMap(({ entry }, i) => (isThere[i] ? [`  p${i}: ${entry}\n`] : []));
  return writeSet('plain', `${head}pieces:\n${entries.join('')}`, drawingText(blocks));
}

const pads = ['driver', 'both'] as const;

function partsOf(folder: string, hand: Hand, choice: Choice | null): Part[] {
  const set = readSet(
    folder,
    join(root, 'shared'),
    choice === null ? {} : { options: { ...choice } },
  );
  return pads.flatMap((heelPads) => [
    ...deriveParts(set, order(hand, { heelPads }), materials).parts,
  ]);
}

/** Parts without the order in which they, and things on them, were drawn. */
function inOrder(parts: readonly Part[]): string {
  const sorted = (all: readonly unknown[]): string[] =>
    all.map((one) => JSON.stringify(one)).sort();
  const all = parts.map((part) => ({
    ...part,
    inner: sorted(part.inner),
    marks: sorted(part.marks),
    notches: sorted(part.notches),
  }));
  return sorted(all).join('\n');
}

function allParts(files: SetFiles): string[] {
  return choices.flatMap((choice) => {
    const set = files.chosen({ options: { ...choice } });
    return hands.map((hand) => inOrder(deriveParts(set, order(hand), materials).parts));
  });
}

describe('options', () => {
  it('make of a set what somebody would have drawn for that choice alone, in both hands', () => {
    const seen = { pieces: 0, absent: 0 };
    fc.assert(
      fc.property(smallSet, (pieces) => {
        const folder = withSuffixes(pieces);
        for (const choice of choices) {
          const plain = drawnOut(pieces, choice);
          for (const hand of hands) {
            const parts = partsOf(folder, hand, choice);
            const names = new Set(parts.map((part) => part.piece));
            seen.pieces += names.size;
            seen.absent += pieces.length - names.size;
            expect(inOrder(parts)).toBe(inOrder(plain === null ? [] : partsOf(plain, hand, null)));
          }
        }
      }),
      { numRuns: tries(15, 60) },
    );
    expect(Math.min(seen.pieces, seen.absent)).toBeGreaterThan(5);
  });

  it('switched on and off again leave everything as it was', () => {
    fc.assert(
      fc.property(smallSet, fc.shuffledSubarray([...choices, ...choices]), (pieces, others) => {
        const files = readSetFiles(withSuffixes(pieces), join(root, 'shared'));
        const before = allParts(files);
        for (const choice of others) files.chosen({ options: { ...choice } });
        expect(allParts(files)).toEqual(before);
        const fresh = readSetFiles(join(root, 'suffixed'), join(root, 'shared'));
        expect(JSON.stringify(fresh.chosen({}).pieces)).toBe(
          JSON.stringify(files.chosen({ options: { od: false, cs: 'none' } }).pieces),
        );
      }),
      { numRuns: tries(15, 40) },
    );
  });

  it('are all in the set drawn anew for either hand: it gives the same parts in every choice', () => {
    fc.assert(
      fc.property(smallSet, fc.constantFrom(...hands), (pieces, hand) => {
        const folder = withSuffixes(pieces);
        const files = readSetFiles(folder, join(root, 'shared'));
        const again = readSetFiles(redrawn(files, hand, 'again'), join(root, 'shared'));
        expect(allParts(again)).toEqual(allParts(files));
        const back = readSetFiles(redrawn(again, 'RHD', 'back'), join(root, 'shared'));
        expect(allParts(back)).toEqual(allParts(files));
      }),
      { numRuns: tries(20, 50) },
    );
  });
});

/** Writes a set anew for a hand, and gives its folder. */
function redrawn(files: SetFiles, hand: Hand, name: string): string {
  const { pieces } = redrawnSet(files, hand);
  const names = blockNames(pieces.map((one) => one.name));
  const { blocks, layers } = shortLayers(
    pieces.map((one) => ({ name: names.get(one.name)!, entities: one.entities })),
  );
  const entries = pieces.map((one) => {
    const { side, drawnSide } = files.written.pieces[one.name]!;
    const half = drawnSide === undefined ? '' : `, drawnSide: ${drawnSide}`;
    return `  ${one.name}: { side: ${side}${half}, material: carpet, edge: bound, pad: rubber, decided: so it is }\n`;
  });
  const text = rewrittenSetFile(
    `${head}${options}pieces:\n${entries.join('')}`,
    hand,
    'small.dxf',
    names,
    layers,
  );
  return writeSet(name, text, writeSetDrawing(blocks, layers));
}
