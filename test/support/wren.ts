/**
 * The Wren, a small van that never existed: five pieces for tests of the whole job, with a pair, two
 * centre pieces, one that goes with the driver and one fixed to the body, every kind of edge, a heel
 * pad and a board. Drawn RHD in the vehicle's frame: x to the right, y forward, mm.
 */
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { along, box, hole, line, on, outline, points } from '../../patterns/fenlark/pen.ts';
import type { Block, Entity } from '../../src/drawing/drawing.ts';
import { writeR12 } from '../../src/drawing/writing/write-r12.ts';

/** Files by their path below a workshop's folder. */
export type Files = Readonly<Record<string, string | Uint8Array>>;

export const runFile = 'patterns/wren-week.yaml';
export const setFile = 'patterns/wren/set.yaml';
export const drawingFile = 'patterns/wren/wren.dxf';

const runText = `title: Wren, three sets
cutter: long-bay
effort: 2
orders:
  - { order: A1, set: wren, hand: RHD, quantity: 2, binding: black }
  - { order: A2, set: wren, hand: LHD, heelPads: both }
rolls:
  loop: { length: 9000, dyeLot: "7" }
`;

const setText = `title: Wren van, cab
drawn: RHD
units: mm
drawing: wren.dxf
binding: tape
pieces:
  floor: { side: centre, material: loop, decided: the drain stays, covered: the seat base }
  dash: { side: centre, outline: driver, material: loop }
  mat: { side: pair, drawnSide: right, material: loop, edge: bound, pad: rubber }
  rest: { side: driver, material: loop, edge: bound, board: { material: board, inset: 2 } }
  cover: { side: left, material: loop, edge: raw, covered: the wing, decided: a bolt of the seat }
seams:
  - join: [floor, dash]
`;

const bindingText = `title: tape
width: 20
insideRadius: 10
joining: 250
tightRadius: 40
tightExtra: 0.12
`;

function materialText(kind: string, turns: string, width: number, seam: number, tuck: number) {
  return `title: ${kind} for tests
kind: ${kind}
thickness: 4
turns: ${turns}
gap: 6
roll: { width: ${width}, selvedge: 20, startMargin: 15 }
allowances: { bound: 0, seam: ${seam}, tuck: ${tuck}, turned: 25, raw: 0 }
notchDepth: 5
`;
}

const rearward = (x: number, y: number): Entity[] => on('PILE', line([x, y + 30], [x, y - 30]));
const axis = on('AXIS', line([0, -50], [0, 50]));

/** An oblong of 1100 x 900: sewn in front, tucked at the sides, raw behind. */
function floorBlock(): Block {
  const path = box(-550, 0, 550, 900);
  const entities = [
    on('OUTLINE', path),
    axis,
    rearward(0, 450),
    on('SEAM', along(path, [550, 900], [-550, 900])),
    on('TUCK', along(path, [550, 0], [550, 900]), along(path, [-550, 900], [-550, 0])),
    on('RAW', along(path, [-550, 0], [550, 0])),
    on('CUTOUT-DRIVER', box(300, 600, 380, 680, 20)),
    on('HOLE-PASSENGER', hole(-400, 700, 15)),
    on('CUTOUT-LEFT', box(-200, 200, -120, 320, 15)),
    on('HOLE', hole(100, 100, 12)),
    points('HOLE', [-500, 100]),
    points('NOTCH-DRIVER', [200, 900]),
    on('FOLD', line([-550, 450], [550, 450])),
    on('MARK-DRIVER', box(250, 300, 450, 500, 25)),
  ];
  return { name: 'FLOOR', entities: entities.flat() };
}

/** Sewn to the floor, tucked elsewhere; what stands over the pedals goes with the driver. */
function dashBlock(): Block {
  const path = outline(
    [-550, 920],
    [550, 920],
    [550, 1120, { b: 0.1 }],
    [250, 1160],
    [220, 1060, { r: 45 }],
    [60, 1060, { r: 45 }],
    [30, 1180],
    [-550, 1120],
  );
  const entities = [
    on('OUTLINE', path),
    axis,
    rearward(-300, 1000),
    on('SEAM', along(path, [-550, 920], [550, 920])),
    on('TUCK', along(path, [550, 920], [-550, 920])),
    on('HOLE-DRIVER', hole(450, 1000, 14)),
    points('NOTCH', [200, 920]),
  ];
  return { name: 'DASH', entities: entities.flat() };
}

/** The right half of the pair, bound all round, with a cable hole on the right of the vehicle. */
function matBlock(): Block {
  const path = outline(
    [120, 100, { r: 30 }],
    [500, 100, { r: 30 }],
    [500, 480, { r: 30 }],
    [430, 560, { r: 30 }],
    [120, 560, { r: 30 }],
  );
  const entities = [
    on('OUTLINE', path),
    rearward(150, 300),
    on('PAD-DRIVER', box(220, 180, 400, 380, 25)),
    on('HOLE-RIGHT', hole(450, 300, 12)),
  ];
  return { name: 'MAT', entities: entities.flat() };
}

/** Beside the pedals: 200 x 140 with a corner off. */
function restBlock(): Block {
  const path = outline([420, 700], [620, 700], [620, 800], [580, 840], [420, 840]);
  const entities = [on('OUTLINE', path), rearward(500, 770), on('HOLE', hole(460, 740, 10))];
  return { name: 'REST', entities: entities.flat() };
}

/** Over the left wheel, whichever hand: 400 x 240 with round corners and one chamfer. */
function coverBlock(): Block {
  const path = outline(
    [-700, 0, { r: 30 }],
    [-300, 0, { r: 30 }],
    [-300, 240, { r: 30 }],
    [-600, 240],
    [-700, 140],
  );
  const entities = [
    on('OUTLINE', path),
    rearward(-500, 120),
    on('CUTOUT', box(-480, 80, -400, 140, 15)),
    on('HOLE-DRIVER', hole(-640, 60, 16)),
  ];
  return { name: 'COVER', entities: entities.flat() };
}

export function wrenBlocks(): Block[] {
  return [floorBlock(), dashBlock(), matBlock(), restBlock(), coverBlock()];
}

/** The drawing with its blocks as they are, none of them placed. */
export function drawingText(blocks: readonly Block[]): string {
  const names = new Set(blocks.flatMap(({ entities }) => entities.map(({ layer }) => layer)));
  return writeR12({
    layers: [...names].sort().map((name) => ({ name, colour: 7 })),
    blocks,
    entities: [],
  });
}

/** All that a run of the Wren reads, sound; the cutters are the project's own. */
export const wren: Files = {
  [runFile]: runText,
  [setFile]: setText,
  [drawingFile]: drawingText(wrenBlocks()),
  'shared/materials/loop.yaml': materialText('carpet', 'one-way', 1500, 10, 30),
  'shared/materials/rubber.yaml': materialText('rubber', 'any', 600, 0, 0),
  'shared/materials/board.yaml': materialText('board', 'any', 800, 0, 0),
  'shared/bindings/tape.yaml': bindingText,
};

/** The Wren with two options: a second lock, and a wheelbase that is short or long. */
export const wrenOptions: Files = {
  [setFile]: setText.replace(
    'pieces:',
    `options:
  lock: { words: second lock, default: false }
  size: { words: wheelbase, values: [short, long], default: short }
pieces:`,
  ),
  [drawingFile]: drawingText(
    wrenBlocks().map(({ name, entities }) => ({
      name,
      entities:
        name === 'COVER'
          ? [
              ...entities,
              ...on('HOLE-WITH-LOCK', hole(-360, 60, 12)),
              ...on('HOLE-WITH-SIZE-LONG', hole(-360, 180, 12)),
            ]
          : entities,
    })),
  ),
};

/** The Wren for a shop that keeps its carpets in colours: six orders that choose, and two carpets. */
export const colouredWren: Files = {
  ...wren,
  ...wrenOptions,
  [runFile]: `title: Wren in colours
cutter: long-bay
effort: 2
orders:
  - { order: C1, set: wren, hand: RHD, carpet: { colour: claret }, due: 2026-12-11, customer: Hill }
  - { order: C2, set: wren, hand: LHD, carpet: { colour: claret }, alone: [feet], due: 2026-12-04 }
  - { order: C3, set: wren, hand: LHD, carpet: { colour: claret }, due: 2026-12-04, binding: sand }
  - { order: N1, set: wren, hand: RHD, carpet: { colour: navy }, without: [dash] }
  - { order: V1, set: wren, hand: RHD, carpet: { material: velour, colour: stone }, thread: grey }
rolls:
  loop:
    - { colour: claret, length: 9000, dyeLot: "7" }
    - { colour: navy, length: 4000 }
`,
  [setFile]: String(wrenOptions[setFile])
    .replaceAll('material: loop', 'material: carpet')
    .replace('pad: rubber', 'pad: pad')
    .replace(
      'options:',
      'uses: { carpet: loop, pad: rubber }\ngroups: { cab: [floor, dash], feet: [mat, rest] }\noptions:',
    ),
  'shared/materials/loop.yaml': `${materialText('carpet', 'one-way', 1500, 10, 30)}colours:
  claret: { sample: '#6b1f2a' }
  navy: { sample: '#1d2b4f' }
  sand: { sample: '#c8b48a' }
`,
  'shared/materials/velour.yaml': `${materialText('carpet', 'one-way', 1500, 10, 30).replace('title: carpet', 'title: velour')}colours:
  claret: { sample: '#701822' }
  stone: { sample: '#8a8580' }
`,
  'shared/bindings/leather.yaml': bindingText
    .replace('title: tape', 'title: leather strip')
    .replace('width', 'colours: [black, tan]\nwidth'),
  'shared/rolls.yaml': `rolls:
  loop:
    - { name: R1, colour: claret, length: 2500 }
    - { name: R1, colour: navy, length: 3100 }
    - { name: R2, colour: navy, length: 1200 }
`,
};

/** The files with a piece of text in one of them replaced. */
export function replaced(files: Files, name: string, from: string | RegExp, to: string): Files {
  const before = String(files[name]);
  const after = before.replace(from, to);
  if (after === before) throw new Error(`${name} has no ${String(from)}`);
  return { ...files, [name]: after };
}

export function without(files: Files, name: string): Files {
  if (!(name in files)) throw new Error(`there is no ${name}`);
  return Object.fromEntries(Object.entries(files).filter(([other]) => other !== name));
}

/** The Wren with what is drawn of one piece changed. */
export function redrawn(name: string, change: (entities: readonly Entity[]) => Entity[]): Files {
  const blocks = wrenBlocks().map((block) =>
    block.name === name ? { name, entities: change(block.entities) } : block,
  );
  return { ...wren, [drawingFile]: drawingText(blocks) };
}

/** A workshop of its own with these files in it, until it is closed. */
export function openWorkshop(files: Files): { readonly root: string; readonly close: () => void } {
  const root = mkdtempSync(join(tmpdir(), 'wren-'));
  writeInputs(files, root);
  return { root, close: () => rmSync(root, { recursive: true, force: true }) };
}

/** Lays the files out in a folder of their own, which is gone afterwards. */
export async function inFolder<T>(files: Files, use: (root: string) => T | Promise<T>): Promise<T> {
  const { root, close } = openWorkshop(files);
  try {
    return await use(root);
  } finally {
    close();
  }
}

function writeInputs(files: Files, root: string): void {
  cpSync(join(import.meta.dirname, '../../shared/cutters'), join(root, 'shared/cutters'), {
    recursive: true,
  });
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(root, name)), { recursive: true });
    writeFileSync(join(root, name), content);
  }
}
