import { cpSync, mkdtempSync, mkdirSync, rmSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { hole, line, box, note, on } from '../../patterns/fenlark/pen.ts';
import type { Finding } from '../../src/base/findings.ts';
import type { Block, Entity } from '../../src/drawing/drawing.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { boxOfPath } from '../../src/geometry/paths/path.ts';
import type { Transform } from '../../src/geometry/paths/transform.ts';
import {
  rotation,
  transformPath,
  transformPoint,
  translation,
} from '../../src/geometry/paths/transform.ts';
import { checkSet } from '../../src/jobs/check.ts';
import { siskinBlocks, siskinSet } from '../support/siskin.ts';
import { drawingText, setFile, wren, wrenBlocks } from '../support/wren.ts';

/** What a set file says, as data: the tests change it as a person would in an editor. */
interface SetData {
  pieces: Record<string, Record<string, unknown>>;
  [key: string]: unknown;
}

/** A set that is to be checked: what is drawn, and what its set file says. */
interface TrialSet {
  readonly blocks: Block[];
  readonly content: SetData;
}

type Change = (set: TrialSet) => TrialSet;

const root = mkdtempSync(join(tmpdir(), 'wrong-sets-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const project = resolve(import.meta.dirname, '../..');
const shared = join(root, 'shared');
cpSync(join(project, 'shared'), shared, { recursive: true });
for (const [name, text] of Object.entries(wren)) {
  if (name.startsWith('shared/')) writeFileSync(join(root, name), text);
}

const fenlark = join(project, 'patterns/fenlark');
const sound = {
  fenlark: () => ({
    blocks: [...readDrawing(join(fenlark, 'fenlark.dxf'), { setUnits: 'mm' }).blocks],
    content: parse(readFileSync(join(fenlark, 'set.yaml'), 'utf8')) as SetData,
  }),
  wren: () => ({ blocks: wrenBlocks(), content: parse(String(wren[setFile])) as SetData }),
  siskin: () => ({ blocks: siskinBlocks(), content: parse(siskinSet) as SetData }),
} satisfies Record<string, () => TrialSet>;

type SoundName = keyof typeof sound;

let checked = 0;

function findingsOf({ blocks, content }: TrialSet): Finding[] {
  const folder = join(root, `set-${++checked}`);
  mkdirSync(folder);
  writeFileSync(join(folder, String(content['drawing'])), drawingText(blocks));
  writeFileSync(join(folder, 'set.yaml'), stringify(content));
  return checkSet(folder, shared).findings;
}

/** What is drawn of one piece, changed. */
function drawn(name: string, change: (entities: readonly Entity[]) => Entity[]): Change {
  return ({ blocks, content }) => {
    if (!blocks.some((block) => block.name === name)) throw new Error(`there is no ${name}`);
    return {
      content,
      blocks: blocks.map((block) =>
        block.name === name ? { name, entities: change(block.entities) } : block,
      ),
    };
  };
}

function more(name: string, ...added: Entity[]): Change {
  return drawn(name, (entities) => [...entities, ...added]);
}

/** What the set file says of one piece, changed; undefined takes a key away. */
function said(name: string, keys: Record<string, unknown>): Change {
  return ({ blocks, content }) => {
    const { [name]: entry, ...others } = content.pieces;
    if (entry === undefined) throw new Error(`there is no ${name}`);
    return {
      blocks,
      content: { ...content, pieces: { ...others, [name]: { ...entry, ...keys } } },
    };
  };
}

/** A piece under another name, drawn by the same block. */
function renamed(name: string, to: string): Change {
  return ({ blocks, content }) => {
    const { [name]: entry, ...others } = content.pieces;
    const block = entry!['block'] ?? name.toUpperCase();
    return { blocks, content: { ...content, pieces: { ...others, [to]: { ...entry, block } } } };
  };
}

function another(name: string, entry: Record<string, unknown>): Change {
  return ({ blocks, content }) => ({
    blocks,
    content: { ...content, pieces: { ...content.pieces, [name]: entry } },
  });
}

function both(first: Change, second: Change): Change {
  return (set) => second(first(set));
}

function onLayer(layer: string, to: string): (entities: readonly Entity[]) => Entity[] {
  return (entities) => entities.map((one) => (one.layer === layer ? { ...one, layer: to } : one));
}

function movedOn(layer: string, transform: Transform): (entities: readonly Entity[]) => Entity[] {
  return (entities) =>
    entities.map((one) => (one.layer === layer ? transformed(one, transform) : one));
}

function transformed(one: Entity, transform: Transform): Entity {
  return one.kind === 'path'
    ? { ...one, path: transformPath(transform, one.path) }
    : { ...one, at: transformPoint(transform, one.at) };
}

const aside = (x: number, y: number): Transform => translation({ x, y });

/** Each block drawn from its own lower left corner, and no word of where it belongs. */
const fromCorners: Change = ({ blocks, content }) => ({
  blocks: blocks.map(({ name, entities }) => {
    const found = entities.find((one) => one.layer === 'OUTLINE');
    const { minX, minY } = boxOfPath(
      found?.kind === 'path' ? found.path : { closed: false, vertices: [] },
    );
    return { name, entities: entities.map((one) => transformed(one, aside(-minX, -minY))) };
  }),
  content: {
    ...content,
    pieces: Object.fromEntries(
      Object.entries(content.pieces).map(([name, entry]) => [name, { ...entry, at: undefined }]),
    ),
  },
});

/** The block lies on its side in the drawing, its front to the left, and its AXIS was drawn backwards. */
function lyingWithAxisBackwards(name: string): Change {
  return drawn(name, (entities) =>
    entities
      .map((one) => transformed(one, rotation(90)))
      .map((one) =>
        one.kind === 'path' && one.layer === 'AXIS'
          ? { ...one, path: { ...one.path, vertices: one.path.vertices.toReversed() } }
          : one,
      ),
  );
}

/** A way to get a set wrong: what is done to each of the three, and the rule that must tell. */
interface Way {
  readonly name: string;
  readonly rule: string;
  readonly severity: Finding['severity'];
  readonly done: Readonly<Record<SoundName, Change>>;
}

const ways: readonly Way[] = [
  {
    name: 'a fold line is on the layer of notches',
    rule: 'notch-across',
    severity: 'error',
    done: {
      fenlark: drawn('DOOR-STEP', onLayer('FOLD', 'NOTCH')),
      wren: drawn('FLOOR', onLayer('FOLD', 'NOTCH')),
      siskin: drawn('CAB-FLOOR', onLayer('FOLD', 'NOTCH')),
    },
  },
  {
    name: 'a line of 50 mm is on the layer of notches',
    rule: 'notch-long',
    severity: 'error',
    done: {
      fenlark: more('BENCH-FRONT', ...on('NOTCH', line([700, -3600], [650, -3600]))),
      wren: more('FLOOR', ...on('NOTCH', line([550, 200], [500, 200]))),
      siskin: more('KICK', ...on('NOTCH', line([0, 100], [50, 100]))),
    },
  },
  {
    name: 'a hole for the hand brake has no suffix',
    rule: 'one-sided',
    severity: 'warning',
    done: {
      fenlark: more('BENCH-FRONT', ...on('HOLE', hole(330, -3500, 20))),
      wren: said('floor', { decided: undefined }),
      siskin: more('CAB-FLOOR', ...on('HOLE', hole(520, 200, 20))),
    },
  },
  {
    name: 'the AXIS is drawn 5 mm beside the middle',
    rule: 'axis-off-middle',
    severity: 'warning',
    done: {
      fenlark: drawn('BENCH-FRONT', movedOn('AXIS', aside(5, 0))),
      wren: drawn('FLOOR', movedOn('AXIS', aside(-5, 0))),
      siskin: drawn('CAB-FLOOR', movedOn('AXIS', aside(5, 0))),
    },
  },
  {
    name: 'a pad on one side of a centre piece has no suffix',
    rule: 'pad-one-sided',
    severity: 'error',
    done: {
      fenlark: both(
        said('cab-floor', { pad: 'rubber-ribbed' }),
        more('CAB-FLOOR', ...on('PAD', box(300, 270, 400, 340, 35))),
      ),
      wren: both(
        said('floor', { pad: 'rubber' }),
        more('FLOOR', ...on('PAD', box(200, 150, 350, 300))),
      ),
      siskin: both(
        said('cab-floor', { pad: 'rubber-ribbed' }),
        more('CAB-FLOOR', ...on('PAD', box(100, 100, 250, 250))),
      ),
    },
  },
  {
    name: 'a piece is said to be on the other side',
    rule: 'drawn-elsewhere',
    severity: 'warning',
    done: {
      fenlark: said('battery-lid', { side: 'right' }),
      wren: said('mat', { drawnSide: 'left' }),
      // Its `at` makes it certain.
      siskin: said('kick', { side: 'driver' }),
    },
  },
  {
    name: 'the name of a piece says the other side',
    rule: 'name-side',
    severity: 'warning',
    done: {
      fenlark: renamed('slider-step', 'slider-step-left'),
      wren: renamed('cover', 'cover-rh'),
      siskin: both(
        said('sill-left', { block: 'SILL-R', side: 'right', at: [470, 60] }),
        said('sill-right', { block: 'SILL-L', side: 'left', at: [-540, 60] }),
      ),
    },
  },
  {
    name: 'the other one of a kind is missing',
    rule: 'no-counterpart',
    severity: 'warning',
    done: {
      fenlark: renamed('slider-step', 'slider-step-right'),
      wren: both(said('rest', { side: 'right' }), renamed('rest', 'rest-right')),
      siskin: renamed('sill-left', 'trim-left'),
    },
  },
  {
    name: 'a note asks for two, and one is cut',
    rule: 'note-says-pair',
    severity: 'warning',
    done: {
      fenlark: more('SLIDER-STEP', note('CUT 1 EACH SIDE', 800, -1100)),
      wren: more('REST', note('PAIR', 500, 760)),
      siskin: both(renamed('sill-left', 'trim'), more('SILL-L', note('MIRROR', 30, 300))),
    },
  },
  {
    name: 'a piece of the left and the driver’s are one block',
    rule: 'same-block',
    severity: 'warning',
    done: {
      fenlark: another('rest-pad', {
        side: 'left',
        block: 'FOOTREST',
        material: 'carpet-loop',
        tucked: 'x',
      }),
      wren: another('rest-pad', { side: 'left', block: 'REST', material: 'loop', edge: 'bound' }),
      siskin: another('kick-pad', {
        side: 'left',
        block: 'KICK',
        material: 'carpet-loop',
        at: [-420, 760],
        tucked: 'the dash',
      }),
    },
  },
  {
    name: 'edge lines and notches are drawn 0.8 mm beside the outline',
    rule: 'snapped',
    severity: 'note',
    done: {
      fenlark: drawn('DOOR-STEP', movedOn('TUCK', aside(0.8, 0))),
      wren: drawn('FLOOR', movedOn('SEAM', aside(0, 0.8))),
      siskin: drawn('SILL-L', movedOn('NOTCH', aside(0.8, 0))),
    },
  },
  {
    name: 'nothing says where the blocks lie in the vehicle',
    rule: 'stacked',
    severity: 'warning',
    done: { fenlark: fromCorners, wren: fromCorners, siskin: fromCorners },
  },
  {
    name: 'two pieces go under each other',
    rule: 'tuck-circle',
    severity: 'warning',
    done: {
      fenlark: said('rear-lip', { tucked: 'the living floor' }),
      wren: both(said('floor', { tucked: 'the dash' }), said('dash', { tucked: 'the floor' })),
      siskin: both(
        said('kick', { tucked: 'the sill right' }),
        said('sill-right', { tucked: 'the kick and the door seal' }),
      ),
    },
  },
];

const names = Object.keys(sound) as SoundName[];

describe('a sound set', () => {
  it.each(names)('%s: nothing is found', (name) => {
    expect(findingsOf(sound[name]())).toEqual([]);
  });
});

describe.each(ways)('$name', ({ rule, severity, done }) => {
  it.each(names)('is told: %s', (name) => {
    const told = findingsOf(done[name](sound[name]())).filter((one) => one.rule === rule);
    expect(told.length).toBeGreaterThan(0);
    const isSure = rule === 'drawn-elsewhere' && name === 'siskin';
    expect(told[0]!.severity).toBe(isSure ? 'error' : severity);
  });
});

describe('a centreline that lies level in the drawing, drawn from front to rear', () => {
  it.each([
    ['fenlark', 'BENCH-FRONT', 'pile-direction'],
    ['siskin', 'CAB-FLOOR', 'pile-direction'],
    // The set file does not say where its pile leans, so nothing else can show it.
    ['wren', 'FLOOR', 'axis-level'],
  ] as const)('is told: %s', (name, block, rule) => {
    const found = findingsOf(lyingWithAxisBackwards(block)(sound[name]()));
    expect(found.map((one) => one.rule)).toContain(rule);
  });

  it('does not tell the pile either, where none is drawn', () => {
    const undrawn = drawn('BENCH-FRONT', (entities) =>
      entities.filter(({ layer }) => layer !== 'PILE'),
    );
    expect(findingsOf(undrawn(sound.fenlark()))).toEqual([]);
    const level = both(undrawn, lyingWithAxisBackwards('BENCH-FRONT'));
    const rules = findingsOf(level(sound.fenlark())).map(({ rule }) => rule);
    expect(rules).toEqual(expect.arrayContaining(['no-pile', 'axis-level']));
  });
});

describe('the Fenlark with one side written wrong', () => {
  it.each([
    ['battery-lid', { side: 'right' }],
    ['filler-cover', { side: 'left' }],
    ['footrest', { side: 'passenger' }],
    ['footwell-mat', { drawnSide: 'left' }],
  ])('%s %j', (name, keys) => {
    const told = findingsOf(said(name, keys)(sound.fenlark()));
    expect(told.map(({ rule, where }) => `${rule} ${where.piece}`)).toContain(
      `drawn-elsewhere ${name}`,
    );
  });
});
