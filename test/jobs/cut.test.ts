import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import GcodeToolpath from 'gcode-toolpath';
import { beforeAll, describe, expect, it } from 'vitest';
import { cut } from '../../src/jobs/cut.ts';
import { prove } from '../../src/program/proof/prove.ts';
import type { LayRecord, PartRecord, RunRecord } from '../../src/program/record/run-record.ts';
import {
  contourArea,
  contourLength,
  holds,
  notchLengths,
  outlinesOf,
  pointsOn,
} from '../support/contours.ts';
import { line, on } from '../../patterns/fenlark/pen.ts';
import { refereeVerdict, shapely } from '../lay/shapely.ts';
import type { Files } from '../support/wren.ts';
import { inFolder, redrawn, replaced, runFile, setFile, wren } from '../support/wren.ts';

/** The files of a run folder by name. */
type Written = ReadonlyMap<string, string>;

async function cutWren(cutter: string, files: Files = wren): Promise<Written> {
  return inFolder(files, async (root) => {
    const out = join(root, 'out/wren-week');
    await cut({
      runFile: join(root, runFile),
      sharedFolder: join(root, 'shared'),
      out,
      cutter,
      force: false,
    });
    expect(readdirSync(join(root, 'out'))).toEqual(['wren-week']);
    return new Map(readdirSync(out).map((name) => [name, readFileSync(join(out, name), 'utf8')]));
  });
}

function recordOf(written: Written): RunRecord {
  return JSON.parse(written.get('run.json')!) as RunRecord;
}

/** What a run folder holds: of each lay its files, and a program of each bite where there are several. */
function namesOf({ lays, orders }: RunRecord): string[] {
  const each = lays.flatMap(({ material, roll, bites }) => {
    const name = roll === null ? material : `${material}-${roll}`;
    const single =
      bites.length < 2
        ? []
        : bites.map(
            (_, i, { length }) => `bite-${String(i + 1).padStart(`${length}`.length, '0')}.nc`,
          );
    return ['dry.nc', 'dxf', 'nc', 'svg', ...single].map((ending) => `${name}.${ending}`);
  });
  const papers = ['sheet.html', 'sheet.pdf', 'cost.html', 'cost.pdf', 'labels.pdf'];
  const ofOrders = orders.flatMap(({ order }) =>
    [
      'fitting-X.svg',
      'fitting-X.pdf',
      'packing-X.html',
      'packing-X.pdf',
      'sewing-X.html',
      'sewing-X.pdf',
    ].map((file) => file.replace('X', order)),
  );
  const tables = ['parts.csv', 'binding.csv'];
  return [...each, ...papers, ...ofOrders, ...tables, 'run.json', 'SHA256SUMS'].sort();
}

const materials = ['loop', 'board', 'rubber'];
const cutters = ['long-bay', 'small-table', 'conveyor-bed'];
const runs = new Map<string, Written>();

beforeAll(async () => {
  for (const name of cutters) runs.set(name, await cutWren(name));
});

describe('the run sheet', () => {
  it('has no note about which nothing needs to be done', async () => {
    const beside = redrawn('MAT', (entities) => [
      ...entities,
      // The rear edge of the mat is at y = 100.
      ...on('NOTCH', line([300, 100.4], [300, 106])),
    ]);
    const sheet = (await cutWren('long-bay', beside)).get('sheet.html')!;
    expect(sheet).not.toContain('moved onto it');
  });
});

describe.each(cutters)('a run cut on %s', (cutter) => {
  const files = (): Written => runs.get(cutter)!;
  const record = (): RunRecord => recordOf(files());

  it('has every file', () => {
    expect([...files().keys()].sort()).toEqual(namesOf(record()));
  });

  it('is the same bytes again, from a copy of its inputs elsewhere', async () => {
    expect([...(await cutWren(cutter))]).toEqual([...files()]);
  });

  it.each(materials)('has each part’s contour once in the drawing of %s', (material) => {
    const found = outlinesOf(files().get(`${material}.dxf`)!).map((o) => contourArea(o.contour));
    const meant = partsOf(record(), material).map(({ cutArea }) => cutArea);
    expect(found).toHaveLength(meant.length);
    const inOrder = meant.sort(ascending);
    for (const [i, area] of found.sort(ascending).entries()) {
      expect(area / inOrder[i]!).toBeCloseTo(1, 6);
    }
  });

  it.each(materials)('has programs of %s that another reader reads', (material) => {
    const { heights } = record().cutter;
    const cutting = motionsOf(files().get(`${material}.nc`)!);
    const dry = motionsOf(files().get(`${material}.dry.nc`)!);
    expect(Math.min(...cutting.map(({ z }) => z))).toBe(heights.cut);
    expect(Math.min(...dry.slice(1).map(({ z }) => z))).toBe(heights.travel);
  });

  it.skipIf(shapely.missing).each(materials)(
    `overlaps nowhere on %s, as shapely sees it${shapely.note}`,
    (material) => {
      const lay = layOf(record(), material);
      const parts = outlinesOf(files().get(`${material}.dxf`)!).map(({ contour, inner }) => ({
        rings: [contour, ...inner].map(pointsOn),
        x: 0,
        y: 0,
        rotation: 0,
      }));
      const { leastDistance, bounds } = refereeVerdict(parts);
      // Chords of an inward curve reach out by less than this.
      const chords = 0.05;
      expect(leastDistance).toBeGreaterThan(lay.gap - chords);
      expect(bounds[0]).toBeGreaterThan(lay.startMargin - chords);
      expect(bounds[1]).toBeGreaterThan(lay.selvedge - chords);
      expect(bounds[2]).toBeLessThan(lay.length + chords);
      expect(bounds[3]).toBeLessThan(lay.rollWidth - lay.selvedge + chords);
    },
  );

  it('lays the pile of every carpet part along the roll', () => {
    const pile = new Map(partsOf(record(), 'loop').map(({ label, pileDeg }) => [label, pileDeg!]));
    const { placements } = layOf(record(), 'loop');
    expect(placements).toHaveLength(pile.size);
    for (const { label, rotation } of placements) {
      expect((rotation + pile.get(label)!) % 360, label).toBe(0);
    }
  });
});

// The axis of a trailing knife goes another way than its tip.
describe('an upright turned knife', () => {
  let files: Written = new Map();

  beforeAll(async () => {
    files = await cutWren('upright', {
      ...wren,
      'shared/cutters/upright.yaml': readFileSync('shared/cutters/long-bay.yaml', 'utf8').replace(
        'leanFrontDeg: 8',
        'leanFrontDeg: 0',
      ),
    });
  });

  it.each(materials)('is down as far on %s as there is to cut', (material) => {
    const dxf = files.get(`${material}.dxf`)!;
    const { heights, closingOverlap } = recordOf(files).cutter;
    const outlines = outlinesOf(dxf);
    const closed = [...outlines.map(({ contour }) => contour), ...outlines.flatMap((o) => o.inner)];
    const drawn = [...closed.map(contourLength), ...notchLengths(dxf)];
    // Each registration mark has two arms of 10 mm.
    const marks = layOf(recordOf(files), material).bites.filter(({ mark }) => mark !== null);
    const meant = sum(drawn) + closed.length * closingOverlap + 20 * marks.length;
    const down = motionsOf(files.get(`${material}.nc`)!).filter(({ z }) => z === heights.cut);
    // Three decimals in the program.
    expect(sum(down.map(({ length }) => length))).toBeCloseTo(meant, 1);
  });
});

describe('a run with two rolls of carpet, a remnant and one with a defect', () => {
  const outline = [
    [0, 0],
    [3400, 60],
    [3000, 1480],
    [0, 1500],
  ] as const;
  const defect = [
    [600, 500],
    [760, 520],
    [700, 640],
  ] as const;
  const pin = { part: 'mat-left.1.A2', at: [700, 600], rotation: 90 };
  const rolls = `loop:
    - { name: long, length: 9000, dyeLot: "7", defects: [${JSON.stringify(defect)}] }
    - { name: rest, outline: ${JSON.stringify(outline)} }`;
  const files = replaced(
    replaced(wren, runFile, 'loop: { length: 9000, dyeLot: "7" }', rolls),
    setFile,
    'decided: a bolt of the seat',
    'decided: a bolt of the seat, turns: two-way, tilt: 5',
  );
  let written: Written = new Map();

  beforeAll(async () => {
    written = await cutWren('long-bay', files);
  });

  it('has the files of each roll and of the other materials, and no more', () => {
    const record = recordOf(written);
    const lays = record.lays.map(({ material, roll }) => `${material} ${roll ?? 'alone'}`);
    expect(lays.sort()).toEqual(['board alone', 'loop long', 'loop rest', 'rubber alone']);
    expect([...written.keys()].sort()).toEqual(namesOf(record));
  });

  it('is the same bytes again', async () => {
    expect([...(await cutWren('long-bay', files))]).toEqual([...written]);
  });

  it('has its proof, and not with the drawing of another roll', async () => {
    const rulesOf = (changed: Written): Promise<string[]> =>
      inFolder({}, (root) => {
        for (const [name, text] of changed) writeFileSync(join(root, name), text);
        return prove(root).map(({ rule }) => rule);
      });
    expect(await rulesOf(written)).toEqual([]);
    const swapped = new Map([...written, ['loop-rest.dxf', written.get('loop-long.dxf')!]]);
    expect(await rulesOf(swapped)).toContain('unknown-part');
  });

  it('has each set on one roll, every part once, and uses the remnant', () => {
    const { lays, parts } = recordOf(written);
    const carpet = lays.filter(({ material }) => material === 'loop');
    expect(carpet.map(({ roll, dyeLot }) => [roll, dyeLot])).toEqual([
      ['rest', null],
      ['long', '7'],
    ]);
    const rollOfSet = new Map<string, string>();
    for (const { roll, placements } of carpet) {
      expect(placements.length).toBeGreaterThan(0);
      for (const { label } of placements) {
        const { set, order } = parts.find((one) => one.label === label)!;
        const known = rollOfSet.get(`${order}.${set}`) ?? roll!;
        expect(roll).toBe(known);
        rollOfSet.set(`${order}.${set}`, known);
      }
    }
    expect(rollOfSet.size).toBe(3);
    const laid = carpet.flatMap(({ placements }) => placements.map(({ label }) => label));
    const meant = parts.filter(({ material }) => material === 'loop').map(({ label }) => label);
    expect(laid.sort()).toEqual(meant.sort());
  });

  it('has every contour of the drawings inside the remnant and off the defect', () => {
    const contour = (corners: readonly (readonly [number, number])[]) =>
      corners.map(([x, y]) => ({ x, y, bulge: 0 }));
    const [onRest, onLong] = ['rest', 'long'].map((roll) =>
      outlinesOf(written.get(`loop-${roll}.dxf`)!),
    );
    for (const [outlines, name] of [
      [onRest!, 'rest'],
      [onLong!, 'long'],
    ] as const) {
      const { placements } = recordOf(written).lays.find(({ roll }) => roll === name)!;
      expect(outlines).toHaveLength(placements.length);
      expect(outlines.length).toBeGreaterThan(0);
    }
    for (const { contour: drawn } of onRest!) {
      for (const [x, y] of pointsOn(drawn)) expect(holds(contour(outline), x, y)).toBe(true);
    }
    for (const { contour: drawn } of onLong!) {
      for (const [x, y] of pointsOn(drawn)) expect(holds(contour(defect), x, y)).toBe(false);
      for (const [x, y] of defect) expect(holds(drawn, x, y)).toBe(false);
    }
  });

  it('has what the set says of turns and tilt, and keeps to it', () => {
    const { parts, lays } = recordOf(written);
    const turned = new Map(
      lays.flatMap(({ placements }) => placements.map((one) => [one.label, one.rotation])),
    );
    // One of each set.
    expect(parts.filter(({ piece, kind }) => piece === 'cover' && kind === 'piece')).toHaveLength(
      3,
    );
    for (const { label, piece, kind, material, turns, tilt, pileDeg } of parts) {
      const isCover = piece === 'cover' && kind === 'piece';
      expect([turns, tilt]).toEqual(isCover ? ['two-way', 5] : [null, 0]);
      if (material !== 'loop') continue;
      const leans = (turned.get(label)! + pileDeg!) % (isCover ? 180 : 360);
      expect(Math.min(leans, (isCover ? 180 : 360) - leans)).toBeLessThanOrEqual(tilt + 1e-6);
    }
  });

  it('has a pinned part where it is told', async () => {
    const pinned = replaced(
      files,
      runFile,
      'dyeLot: "7",',
      `dyeLot: "7", pins: [${JSON.stringify(pin)}],`,
    );
    const record = recordOf(await cutWren('long-bay', pinned));
    const long = record.lays.find(({ roll }) => roll === 'long')!;
    const [x, y] = pin.at;
    expect(long.placements).toContainEqual({ label: pin.part, x, y, rotation: pin.rotation });
  });
});

// What follows is read off the table of handedness, not off a run. The Wren is drawn RHD: there the
// driver sits on the right, in LHD on the left.
const sidesByHand = {
  // Heel pads for the driver.
  RHD: {
    floor: null,
    dash: null,
    'mat-left': 'left',
    'mat-right': 'right',
    'mat-pad-right': 'right',
    'rest-right': 'right',
    'rest-board-right': 'right',
    'cover-left': 'left',
  },
  // Heel pads for both.
  LHD: {
    floor: null,
    dash: null,
    'mat-left': 'left',
    'mat-right': 'right',
    'mat-pad-left': 'left',
    'mat-pad-right': 'right',
    'rest-left': 'left',
    'rest-board-left': 'left',
    'cover-left': 'left',
  },
} as const;

/** Middles of what is cut inside a part: what follows a person changes side, what is the body's stays. */
const insideByHand: readonly [label: string, middles: readonly [number, number][]][] = [
  [
    'floor.1.A1',
    [
      [340, 640],
      [-400, 700],
      [-160, 260],
      [100, 100],
    ],
  ],
  [
    'floor.1.A2',
    [
      [-340, 640],
      [400, 700],
      [-160, 260],
      [100, 100],
    ],
  ],
  ['dash.1.A1', [[450, 1000]]],
  ['dash.1.A2', [[-450, 1000]]],
  ['mat-right.1.A1', [[450, 300]]],
  ['mat-left.1.A1', []],
  ['mat-right.1.A2', [[450, 300]]],
  ['mat-left.1.A2', []],
  ['rest-right.1.A1', [[460, 740]]],
  ['rest-left.1.A2', [[-460, 740]]],
  ['cover-left.1.A1', [[-440, 110]]],
  [
    'cover-left.1.A2',
    [
      [-440, 110],
      [-640, 60],
    ],
  ],
];

/** What rounding a square corner takes off, by the radius squared. */
const round = 1 - Math.PI / 4;
const restSides = 200 + 100 + Math.hypot(40, 40) + 160 + 140;
const restCorners = 3 * Math.tan(Math.PI / 4) + 2 * Math.tan(Math.PI / 8);

/** Areas in mm2 by the formulas of oblongs, round corners and chamfers [D]. */
const areas: readonly [label: string, what: 'netArea' | 'cutArea', area: number][] = [
  ['floor.1.A1', 'netArea', 1100 * 900],
  // 30 tucked at both sides, 10 sewn in front, 0 raw behind.
  ['floor.2.A1', 'cutArea', 1160 * 910],
  ['floor.1.A2', 'cutArea', 1160 * 910],
  ['cover-left.1.A1', 'cutArea', 400 * 240 - 5000 - 3 * 900 * round],
  ['mat-pad-right.1.A1', 'cutArea', 180 * 200 - 4 * 625 * round],
  ['rest-left.1.A2', 'cutArea', 200 * 140 - 800],
  // Drawn in by 2 mm.
  ['rest-board-right.1.A1', 'cutArea', 200 * 140 - 800 - 2 * restSides + 4 * restCorners],
];

function recordedParts(): readonly PartRecord[] {
  return recordOf(runs.get('long-bay')!).parts;
}

function recorded(label: string): PartRecord {
  return recordedParts().find((one) => one.label === label)!;
}

describe('the parts of a run', () => {
  it.each([
    { order: 'A1', set: 1, hand: 'RHD' },
    { order: 'A1', set: 2, hand: 'RHD' },
    { order: 'A2', set: 1, hand: 'LHD' },
  ] as const)('are those of order $order, set $set, $hand', ({ order, set, hand }) => {
    const own = recordedParts().filter((one) => one.order === order && one.set === set);
    expect(Object.fromEntries(own.map(({ name, side }) => [name, side]))).toEqual(
      sidesByHand[hand],
    );
    expect(own).toHaveLength(Object.keys(sidesByHand[hand]).length);
    for (const one of own) {
      expect(one.hand).toBe(hand);
      expect(one.label).toBe(`${one.name}.${set}.${order}`);
    }
  });

  it('are no more than these', () => {
    expect(recordedParts()).toHaveLength(8 + 8 + 9);
  });

  it.each(insideByHand)('%s has inside it what its hand puts there', (label, middles) => {
    const found = recorded(label).inner.map(({ contour }) => middleOf(contour));
    expect(found.map(String).sort()).toEqual(middles.map(String).sort());
  });

  it.each(areas)('%s has a %s of %f mm2', (label, what, area) => {
    expect(recorded(label)[what]).toBeCloseTo(area, 3);
  });

  it.each([
    ['the halves of a pair', 'mat-left.1.A1', 'mat-right.1.A1'],
    ['a piece of the driver’s in both hands', 'rest-left.1.A2', 'rest-right.1.A1'],
    ['a centre piece whose outline is the driver’s', 'dash.1.A2', 'dash.1.A1'],
  ])('%s are mirror images', (_, one, other) => {
    const mirrored = recorded(other).cutContour.map(([x, y]) => [-x, y]);
    expect(cornersOf(recorded(one).cutContour)).toEqual(cornersOf(mirrored));
    expect(cornersOf(recorded(one).cutContour)).not.toEqual(cornersOf(recorded(other).cutContour));
  });

  it.each([
    ['a centre piece', 'floor.1.A2', 'floor.1.A1'],
    ['a piece fixed to the body', 'cover-left.1.A2', 'cover-left.1.A1'],
    ['the right half of a pair', 'mat-right.1.A2', 'mat-right.1.A1'],
  ])('%s has one outline in both hands', (_, one, other) => {
    expect(recorded(one).cutContour).toEqual(recorded(other).cutContour);
  });

  it('have the lengths of their edges', () => {
    expect(recorded('floor.1.A2').edges).toEqual({
      bound: 0,
      seam: 1100,
      tuck: 1800,
      turned: 0,
      raw: 1100,
    });
    expect(recorded('mat-left.1.A2').edges).toEqual(recorded('mat-right.1.A1').edges);
  });

  it('are recorded with every file that was read', () => {
    expect(recordOf(runs.get('long-bay')!).inputs.map(({ file }) => file)).toEqual([
      '../shared/bindings/tape.yaml',
      '../shared/cutters/long-bay.yaml',
      '../shared/materials/board.yaml',
      '../shared/materials/loop.yaml',
      '../shared/materials/rubber.yaml',
      'wren-week.yaml',
      'wren/set.yaml',
      'wren/wren.dxf',
    ]);
  });
});

function partsOf(record: RunRecord, material: string): PartRecord[] {
  return record.parts.filter((part) => part.material === material);
}

function layOf({ lays }: RunRecord, material: string): LayRecord {
  return lays.find((lay) => lay.material === material)!;
}

/** Where each motion ends and how long it is over the bed, as gcode-toolpath has it. */
function motionsOf(program: string): { z: number; length: number }[] {
  const motions: { z: number; length: number }[] = [];
  const toolpath = new GcodeToolpath({
    addLine: (_, from, to) =>
      motions.push({ z: to.z, length: Math.hypot(to.x - from.x, to.y - from.y) }),
    addArcCurve: ({ motion }, from, to, centre) => {
      const radius = Math.hypot(from.x - centre.x, from.y - centre.y);
      const start = Math.atan2(from.y - centre.y, from.x - centre.x);
      const end = Math.atan2(to.y - centre.y, to.x - centre.x);
      const turn = motion === 'G3' ? end - start : start - end;
      const angle = turn <= 1e-9 ? turn + 2 * Math.PI : turn;
      motions.push({ z: to.z, length: radius * angle });
    },
  });
  toolpath.loadFromStringSync(program);
  return motions;
}

function middleOf(contour: PartRecord['cutContour']): [number, number] {
  return [middle(contour.map(([x]) => x)), middle(contour.map(([, y]) => y))];
}

function middle(values: readonly number[]): number {
  return Math.round((Math.min(...values) + Math.max(...values)) / 2);
}

/** To a hundredth of a mm, in an order that has nothing to do with where the contour begins. */
function cornersOf(contour: readonly (readonly number[])[]): string[] {
  return contour
    .map(([x, y]) => `${x!.toFixed(2)}, ${y!.toFixed(2)}`.replace('-0.00', '0.00'))
    .sort();
}

function ascending(a: number, b: number): number {
  return a - b;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

describe('a part that is turned under all round', () => {
  it('is cut with mitred corners, and proven', async () => {
    const turned = replaced(wren, setFile, 'loop, edge: bound, board', 'loop, edge: turned, board');
    const rest = recordOf(await cutWren('long-bay', turned)).parts.find(
      ({ piece, kind }) => piece === 'rest' && kind === 'piece',
    )!;
    // 200 x 140 less a corner of 40. Each flap is 25 mm deep, and at a corner of the angle a both flaps end
    // on the mirror image of its bisector: together they lose 25 x 25 / tan(a / 2).
    const net = 200 * 140 - (40 * 40) / 2;
    const lost = (deg: number): number => 625 / Math.tan((deg * Math.PI) / 360);
    expect(rest.netArea).toBeCloseTo(net, 1);
    expect(rest.cutArea).toBeCloseTo(net + 25 * restSides - 3 * lost(90) - 2 * lost(135), 1);
  });
});
