import { cpSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cut } from '../../src/jobs/cut.ts';
import { Refusal } from '../../src/base/findings.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { prove } from '../../src/program/proof/prove.ts';
import { runRecord, readRunRecord } from '../../src/program/record/record.ts';
import { recordedPart } from '../../src/program/record/part-record.ts';
import type { PartRecord, RunRecord } from '../../src/program/record/run-record.ts';
import type { RecutRequest } from '../../src/jobs/recut.ts';
import { recut } from '../../src/jobs/recut.ts';
import { sha256 } from '../../src/base/sha256.ts';
import { laidInARow, longBay, somePartsArbitrary } from '../knife/sample-parts.ts';
import { readMarkup, textOf } from '../papers/markup.ts';
import { pagesOf, poppler } from '../papers/pdf-tools.ts';
import { emptyRun } from '../program/run-folder.ts';
import { openWorkshop, replaced, runFile, setFile, wren } from '../support/wren.ts';

const stock = `rolls:
  loop:
    - { name: offcut, width: 1200, length: 900, dyeLot: "9", outline: [[0, 0], [900, 0], [800, 1200], [0, 1200]] }
    - { name: same-lot, length: 2000, dyeLot: "7" }
  board: { name: panel, length: 900 }
`;

/** A workshop with a run that is cut, whose masters are gone since: what was cut once is cut again all the same. */
const { root, close } = openWorkshop(wren);
const folder = join(root, 'out/week');
let first: RunRecord;

beforeAll(async () => {
  const sharedFolder = join(root, 'shared');
  await cut({ runFile: join(root, runFile), sharedFolder, out: folder, force: false });
  first = readRunRecord(join(folder, 'run.json'));
  writeFileSync(join(root, 'shared/rolls.yaml'), stock);
  writeFileSync(join(root, setFile), 'gone');
});

afterAll(close);

async function again(
  labels: string[],
  more: Partial<RecutRequest> = {},
): Promise<{ out: string; record: RunRecord; words: string[] }> {
  const out = join(root, 'out/recut');
  const request = {
    folder,
    labels,
    out,
    force: true,
    search: { seed: 1, limit: { rounds: 20 } },
    ...more,
  };
  const { findings } = await recut(request);
  return {
    out,
    record: readRunRecord(join(out, 'run.json')),
    words: findings.map(({ rule }) => rule),
  };
}

const onRemnant = (name: string): Partial<RecutRequest> => ({
  remnant: { name, file: join(root, 'shared/rolls.yaml') },
});

async function refused(step: Promise<unknown>): Promise<string> {
  const error = await step.then(
    () => null,
    (thrown: unknown) => thrown,
  );
  expect(error).toBeInstanceOf(Refusal);
  return (error as Refusal).message;
}

/** A part without what is worked out from its contours: that differs in the last decimal, for they are rounded. */
function drawn(part: PartRecord): Partial<PartRecord> {
  const { netArea: _net, cutArea: _cut, edges: _edges, ...rest } = part;
  return rest;
}

describe('a recut', () => {
  it('is of the same geometry and label, number for number, and proven', async () => {
    const labels = ['rest-left.1.A2', 'floor.2.A1', 'rest-board-left.1.A2'];
    const { out, record } = await again(labels);
    const meant = first.parts.filter(({ label }) => labels.includes(label));
    expect(record.parts.map(drawn)).toEqual(meant.map(drawn));
    expect(prove(out)).toEqual([]);
    expect(record.recutOf!.run).toBe('week');
  });

  it('is found false where another part lies in its drawing', async () => {
    const { out } = await again(['mat-left.1.A1']);
    const right = join(root, 'out/right');
    await recut({
      folder,
      labels: ['mat-right.1.A1'],
      out: right,
      force: true,
      search: { seed: 1, limit: { rounds: 1 } },
    });
    writeFileSync(join(out, 'loop.dxf'), readFileSync(join(right, 'loop.dxf')));
    expect(prove(out).length).toBeGreaterThan(0);
    for (const one of [out, right]) rmSync(one, { recursive: true });
  });

  it('says that it is one: on sheet, labels and program', async () => {
    const { out } = await again(['mat-left.1.A1']);
    const sheet = textOf(readMarkup(readFileSync(join(out, 'sheet.html'), 'utf8')));
    expect(sheet).toContain('RECUT: week');
    expect(sheet).toContain('mat-left.1.A1');
    expect(readFileSync(join(out, 'loop.nc'), 'utf8')).toMatch(/recut of week/i);
    expect(readdirSync(out).sort()).toEqual([
      'SHA256SUMS',
      'labels.pdf',
      'loop.dry.nc',
      'loop.dxf',
      'loop.nc',
      'loop.svg',
      'run.json',
      'sheet.html',
      'sheet.pdf',
    ]);
    expect(
      readDrawing(join(out, 'loop.dxf'), { setUnits: 'mm' }).entities.some(
        (one) => one.kind === 'text' && one.text === 'mat-left.1.A1',
      ),
    ).toBe(true);
    if (!poppler.missing)
      expect(pagesOf(readFileSync(join(out, 'labels.pdf'))).join('')).toContain('RECUT');
  });

  it('lies on what the run left of its roll, of the same dye lot', async () => {
    const { record, words } = await again(['mat-left.1.A1']);
    const [lay] = record.lays;
    const before = first.lays.find(({ material }) => material === 'loop')!;
    expect(lay!.rollLength).toBe(Math.floor(before.rollLength! - before.length));
    expect([lay!.rollWidth, lay!.dyeLot]).toEqual([before.rollWidth, '7']);
    expect(words).toEqual([]);
  });

  it('lies on a remnant of another lot with a warning, of the same lot without', async () => {
    const other = await again(['rest-left.1.A2'], onRemnant('offcut'));
    expect(other.record.lays[0]).toMatchObject({ roll: 'offcut', dyeLot: '9', rollWidth: 1200 });
    expect(other.words).toEqual(['dye-lot']);
    const same = await again(['rest-left.1.A2'], onRemnant('same-lot'));
    expect(same.record.lays[0]).toMatchObject({ roll: 'same-lot', dyeLot: '7' });
    expect(same.words).toEqual([]);
  });

  it('takes a remnant for the parts of its material, and the rest of their rolls for the others', async () => {
    const { record } = await again(['rest-left.1.A2', 'rest-board-left.1.A2'], onRemnant('panel'));
    expect(record.lays.map(({ material, roll }) => [material, roll])).toEqual([
      ['loop', null],
      ['board', 'panel'],
    ]);
  });

  it('takes the remnant of its own cloth where several have that name', async () => {
    const file = join(root, 'shared/twins.yaml');
    writeFileSync(
      file,
      'rolls: { loop: { name: end, length: 2000 }, board: { name: end, length: 900 } }',
    );
    const { record } = await again(['rest-board-left.1.A2'], { remnant: { name: 'end', file } });
    expect(record.lays.map(({ material, roll }) => [material, roll])).toEqual([['board', 'end']]);
  });

  it('is the same bytes again', async () => {
    const one = await again(['floor.1.A1']);
    const files = readdirSync(one.out).map((name) => readFileSync(join(one.out, name)));
    const two = await again(['floor.1.A1']);
    expect(readdirSync(two.out).map((name) => readFileSync(join(two.out, name)))).toEqual(files);
  });

  it('can be recut in its turn', async () => {
    const { out, record } = await again(['mat-left.1.A1']);
    const third = join(root, 'out/third');
    await recut({
      folder: out,
      labels: ['mat-left.1.A1'],
      out: third,
      force: true,
      search: { seed: 1, limit: { rounds: 1 } },
    });
    expect(readRunRecord(join(third, 'run.json')).parts.map(drawn)).toEqual(
      record.parts.map(drawn),
    );
  });

  it('refuses what it cannot do, in words', async () => {
    expect(await refused(again(['rest']))).toMatch(
      /no part "rest"\. Did you mean: rest-.*rest-left\.1\.A2/,
    );
    expect(await refused(again(['nothing.1.A1']))).toMatch(
      /no part "nothing\.1\.A1"\. Parts: .* more\./,
    );
    expect(await refused(again(['floor.1.A1'], onRemnant('offcut')))).toMatch(
      /floor\.1\.A1.*(across|along|wide|roll)/s,
    );
    expect(await refused(again(['floor.1.A1'], onRemnant('panel')))).toContain(
      'is of board, and none of these parts is',
    );
    expect(await refused(again(['floor.1.A1'], onRemnant('nobody')))).toMatch(
      /no roll or remnant "nobody".*offcut \(loop\), same-lot \(loop\), panel \(board\)/s,
    );
    expect(await refused(again(['floor.1.A1'], { folder: join(root, 'patterns') }))).toContain(
      'run.json',
    );
    expect(await refused(again(['floor.1.A1'], { force: false }))).toContain('exists already');
    expect(
      await refused(
        again(['floor.1.A1'], { remnant: { name: 'x', file: join(root, 'none.yaml') } }),
      ),
    ).toContain('none.yaml');
  });

  it('refuses where the run used its roll up', async () => {
    const lay = first.lays.find(({ material }) => material === 'loop')!;
    const length = `length: ${Math.ceil(lay.length) + 5}`;
    const shop = openWorkshop(replaced(wren, runFile, 'length: 9000', length));
    try {
      const out = join(shop.root, 'out/week');
      const sharedFolder = join(shop.root, 'shared');
      await cut({ runFile: join(shop.root, runFile), sharedFolder, out, force: false });
      const search = { seed: 1, limit: { rounds: 1 } };
      const labels = ['floor.1.A1'];
      const words = await refused(
        recut({ folder: out, labels, out: join(shop.root, 'out/used'), force: false, search }),
      );
      expect(words).toMatch(/left [56] mm on the roll of loop/);
    } finally {
      shop.close();
    }
  });

  it('refuses a record that was changed since, also where the list of files was made anew', async () => {
    const copy = join(root, 'copy/week');
    const record = join(copy, 'run.json');
    rmSync(copy, { recursive: true, force: true });
    cpSync(folder, copy, { recursive: true });
    writeFileSync(record, readFileSync(record, 'utf8').replace('"hand": "RHD"', '"hand": "LHD"'));
    expect(await refused(again(['floor.1.A1'], { folder: copy }))).toContain('no longer as it was');
    const list = join(copy, 'SHA256SUMS');
    const hash = sha256(readFileSync(record));
    writeFileSync(list, readFileSync(list, 'utf8').replace(/^.{64}(?= {2}run\.json)/m, hash));
    expect(await refused(again(['floor.1.A1'], { folder: copy }))).toContain('order A1 is for LHD');
    rmSync(join(root, 'copy'), { recursive: true });
  });

  it('never writes over the run whose parts it cuts again, nor over another', async () => {
    const before = readFileSync(join(folder, 'run.json'), 'utf8');
    expect(await refused(again(['floor.1.A1'], { out: folder }))).toContain('of the run itself');
    const other = join(root, 'out/other');
    cpSync(folder, other, { recursive: true });
    expect(await refused(again(['floor.1.A1'], { out: other }))).toContain('holds another run');
    expect(readFileSync(join(folder, 'run.json'), 'utf8')).toBe(before);
    expect(readFileSync(join(other, 'run.json'), 'utf8')).toBe(before);
  });
});

describe('a part of run.json', () => {
  it('comes back as the part that was recorded, marks and edges too', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const lay = laidInARow(parts, longBay);
        const record = runRecord({
          ...emptyRun,
          parts,
          lays: [{ lay, seed: 1, thickness: 8, bites: [] }],
        });
        expect(record.parts).toHaveLength(parts.length);
        for (const [i, one] of record.parts.entries()) {
          const back = recordedPart(one);
          // Once rounded to six decimals a part is recorded as it was.
          const twice = runRecord({ ...emptyRun, parts: [back] }).parts[0]!;
          expect(drawn(twice)).toEqual(drawn(one));
          // Half a millionth of a mm all round an outline of some metres.
          expect(twice.cutArea).toBeCloseTo(one.cutArea, 2);
          const part = parts[i]!;
          expect(
            back.marks.map(({ role, path }) => [role, path.closed, path.vertices.length]),
          ).toEqual(part.marks.map(({ role, path }) => [role, path.closed, path.vertices.length]));
          expect(back.edges.map(({ kind, name, onShow }) => [kind, name, onShow])).toEqual(
            part.edges.map(({ kind, name, onShow }) => [kind, name, onShow]),
          );
        }
      }),
      { numRuns: 30 },
    );
  });
});

describe('what the knife leaves to be done by hand', () => {
  it('is told again with a part that is cut again: in its steps, on its sheet and in its picture', async () => {
    const cutter = 'shared/cutters/long-bay.yaml';
    const text = readFileSync(join(import.meta.dirname, '../..', cutter), 'utf8');
    const blunt = text.replace(/smallestRadius: \d+/, 'smallestRadius: 13');
    expect(blunt).not.toBe(text);
    const shop = openWorkshop({ ...wren, [cutter]: blunt });
    try {
      const out = join(shop.root, 'out/week');
      const sharedFolder = join(shop.root, 'shared');
      await cut({ runFile: join(shop.root, runFile), sharedFolder, out, force: false });
      // It has a hole of radius 10 and no other.
      const label = 'rest-right.1.A1';
      const then = join(shop.root, 'out/again');
      const search = { seed: 1, limit: { rounds: 1 } };
      const facts = await recut({ folder: out, labels: [label], out: then, force: false, search });
      expect(facts.findings.map(({ rule }) => rule)).toContain('left-to-bench');
      expect(facts.parts[0]!.left).toMatchObject([{ kind: 'holes', places: [{}] }]);
      const sheet = textOf(readMarkup(readFileSync(join(then, 'sheet.html'), 'utf8')));
      expect(sheet).toContain('Punch: 1 hole, where ringed');
      expect(sheet).toMatch(/too wide for rest-right/);
      const bench = textOf(readMarkup(readFileSync(join(out, 'sewing-A1.html'), 'utf8')));
      expect(bench).toContain('Punch: 1 hole, where ringed');
    } finally {
      shop.close();
    }
  });
});
