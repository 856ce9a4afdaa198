import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { cut } from '../../../src/jobs/cut.ts';
import type { RehearsedPoint } from '../../../src/program/reading/rehearse.ts';
import type { RunRecord } from '../../../src/program/record/run-record.ts';
import type { Rehearsal } from '../../../src/web/api/rehearsal.ts';
import { rehearsalOf } from '../../../src/web/page/rehearsal/rehearsal-body.ts';
import { rehearsalBody, rehearseProgram } from '../../../src/web/tasks/rehearse.ts';
import type { Workshop } from '../../../src/web/workshop/workshop.ts';
import { workshopIn } from '../../../src/web/workshop/workshop.ts';
import { openWorkshop, runFile, wren } from '../../support/wren.ts';

const float = fc.float({ noNaN: true, min: -1e6, max: 1e6 });
const point: fc.Arbitrary<RehearsedPoint> = fc.record({
  x: float,
  y: float,
  at: float,
  tip: fc.constantFrom(0 as const, 1 as const, 2 as const),
  line: fc.nat({ max: 4e9 }),
});

function headOf(count: number, file: string): Rehearsal {
  const part = {
    label: 'a',
    d: 'M0 0',
    ring: [0, 1],
    box: [0, 0, 1, 1],
    marks: '',
    at: [0, 0],
    edges: [],
  };
  const other = { ...part, label: 'c', d: 'M1 1' };
  const bed = { parts: [part, { ...part, label: 'b' }, other], placements: [] };
  const bites = [{ fed: 0.1, firstMove: 0, seconds: 0 }];
  return { file, count, bites, bed } as unknown as Rehearsal;
}

describe('the block that a rehearsal is sent as', () => {
  it('is read by the page as it was made, whatever the length of its head', () => {
    const file = fc.string({ unit: 'grapheme', maxLength: 40 });
    fc.assert(
      fc.property(fc.array(point, { maxLength: 30 }), file, (points, name) => {
        const head = headOf(points.length, name);
        const { rehearsal, moves } = rehearsalOf(rehearsalBody(head, { points }));
        expect(rehearsal).toEqual(head);
        const read = points.map((_, i) => ({
          x: moves.x[i]!,
          y: moves.y[i]!,
          at: moves.at[i]!,
          tip: moves.down[i]!,
          line: moves.line[i]!,
        }));
        expect(read).toEqual(points);
        for (const one of Object.values(moves)) expect(one).toHaveLength(points.length);
      }),
      { numRuns: 300 },
    );
  });

  it('cut short is not read', () => {
    const points = [{ x: 1, y: 2, at: 3, tip: 0 as const, line: 4 }];
    const body = rehearsalBody(headOf(1, 'a.nc'), { points });
    expect(() => rehearsalOf(body.slice(0, body.byteLength - 1))).toThrow(RangeError);
  });
});

describe('a program of a run folder', () => {
  let opened: ReturnType<typeof openWorkshop>;
  let shop: Workshop;
  let record: RunRecord;
  const run = 'wren-week';

  /** Cuts the Wren with the face of its material up, and on a cutter that takes it face down. */
  beforeAll(async () => {
    opened = openWorkshop(wren);
    shop = workshopIn(opened.root);
    const profile = join(shop.shared, 'cutters/long-bay.yaml');
    const text = readFileSync(profile, 'utf8').replace(/^face: up/m, 'face: down');
    writeFileSync(join(shop.shared, 'cutters/turned-bay.yaml'), text);
    for (const [name, cutter] of [
      [run, 'long-bay'],
      ['turned', 'turned-bay'],
      ['trailed', 'small-table'],
    ] as const) {
      await cut({
        runFile: join(opened.root, runFile),
        sharedFolder: shop.shared,
        out: join(shop.out, name),
        cutter,
        force: false,
      });
    }
    record = JSON.parse(readFileSync(join(shop.out, run, 'run.json'), 'utf8')) as RunRecord;
  });

  afterAll(() => opened.close());

  const played = (lay: string, of = run) => {
    const { value, transfer } = rehearseProgram({ shop, run: of, lay });
    expect(transfer).toEqual([value]);
    return rehearsalOf(value);
  };

  it.each(['loop', 'rubber', 'board'])('of %s says what it is over, and when', (lay) => {
    const { rehearsal, moves } = played(lay);
    const of = record.lays.find(({ material }) => material === lay)!;
    expect(rehearsal).toMatchObject({ file: `${lay}.nc`, material: lay, roll: null });
    const labels = of.placements.map(({ label }) => label);
    expect(rehearsal.parts.map(({ label }) => label).sort()).toEqual(labels.toSorted());
    expect(rehearsal.bed.parts.map(({ label }) => label).sort()).toEqual(labels.toSorted());
    expect(rehearsal.bed.placements).toEqual(of.placements);
    expect(rehearsal.bites).toHaveLength(of.bites.length);
    expect(rehearsal.seconds).toBeGreaterThanOrEqual(moves.at.at(-1)! - 1e-3);
    const starts = rehearsal.parts.map(({ seconds }) => seconds);
    expect(starts).toEqual(starts.toSorted((a, b) => a - b));
  });

  it.each([run, 'turned', 'trailed'])('in %s begins each part over that part', (of) => {
    const { rehearsal, moves } = played('loop', of);
    const { parts, placements } = rehearsal.bed;
    for (const { label, move } of rehearsal.parts) {
      const { box } = parts.find((part) => part.label === label)!;
      const { x, y, rotation } = placements.find((one) => one.label === label)!;
      const angle = (rotation * Math.PI) / 180;
      const corners = [
        [box[0], box[1]],
        [box[2], box[1]],
        [box[2], box[3]],
        [box[0], box[3]],
      ].map(([px, py]) => [
        x + px! * Math.cos(angle) - py! * Math.sin(angle),
        y + px! * Math.sin(angle) + py! * Math.cos(angle),
      ]);
      const within = (value: number, values: readonly number[]): boolean =>
        value > Math.min(...values) - 2 && value < Math.max(...values) + 2;
      const xs = corners.map(([cx]) => cx!);
      const ys = corners.map(([, cy]) => cy!);
      expect([label, within(moves.x[move]!, xs), within(moves.y[move]!, ys)]).toEqual([
        label,
        true,
        true,
      ]);
      expect(moves.down[move]).not.toBe(0);
    }
  });

  it('goes as far with the knife down and up as its moves', () => {
    const { rehearsal, moves } = played('loop');
    const lengths = [0, 0];
    for (let i = 1; i < rehearsal.count; i++) {
      const way = Math.hypot(moves.x[i]! - moves.x[i - 1]!, moves.y[i]! - moves.y[i - 1]!);
      lengths[moves.down[i] === 0 ? 0 : 1]! += way;
    }
    expect(rehearsal.travelLength).toBeCloseTo(lengths[0]!, 0);
    expect(rehearsal.cutLength).toBeCloseTo(lengths[1]!, 0);
    // At least once round every part.
    const of = record.lays.find(({ material }) => material === 'loop')!;
    expect(lengths[1]).toBeGreaterThan(of.placements.length * 500);
  });

  // Face down the program cuts mirror images: the parts that are shown must be these, too.
  it.each([run, 'turned'])('in %s cuts along the outline of every part that is shown', (of) => {
    const { rehearsal, moves } = played('loop', of);
    const cuts: (readonly [number, number, number, number])[] = [];
    for (let i = 1; i < rehearsal.count; i++) {
      if (moves.down[i] === 1)
        cuts.push([moves.x[i - 1]!, moves.y[i - 1]!, moves.x[i]!, moves.y[i]!]);
    }
    const { parts, placements } = rehearsal.bed;
    for (const { label, x, y, rotation } of placements) {
      const { ring } = parts.find((part) => part.label === label)!;
      const angle = (rotation * Math.PI) / 180;
      for (let k = 0; k < ring.length; k += 2) {
        const [px, py] = [ring[k]!, ring[k + 1]!];
        const at = [
          x + px * Math.cos(angle) - py * Math.sin(angle),
          y + px * Math.sin(angle) + py * Math.cos(angle),
        ] as const;
        const nearest = Math.min(...cuts.map((one) => distanceTo(one, at)));
        expect([label, k, nearest < 1]).toEqual([label, k, true]);
      }
    }
    expect(placements.length).toBeGreaterThan(4);
  });

  it.each<[string, string, string]>([
    ['a lay that it has not', run, 'nylon'],
    ['a dry program', run, 'loop.dry'],
    ['a name that leads elsewhere', run, '../turned/loop'],
    ['a run that is not there', 'robin', 'loop'],
    ['no run', '..', 'loop'],
  ])('%s is refused', (_, of, lay) => {
    expect(() => rehearseProgram({ shop, run: of, lay })).toThrow(Refusal);
  });

  it('that is gone or no program is refused in words', () => {
    mkdirSync(join(shop.out, 'broken'));
    for (const name of ['run.json', 'board.nc']) {
      writeFileSync(join(shop.out, 'broken', name), readFileSync(join(shop.out, run, name)));
    }
    writeFileSync(join(shop.out, 'broken/board.nc'), 'G1 X1 Q7\n');
    for (const lay of ['loop', 'board']) {
      expect(() => rehearseProgram({ shop, run: 'broken', lay })).toThrow(Refusal);
    }
  });
});

/** From a point to a straight piece. */
function distanceTo(
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  [x, y]: readonly [number, number],
): number {
  const [dx, dy] = [x1 - x0, y1 - y0];
  const along = ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy || 1);
  const share = Math.max(0, Math.min(1, along));
  return Math.hypot(x - x0 - share * dx, y - y0 - share * dy);
}
