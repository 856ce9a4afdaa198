import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { proveRecord } from '../../../src/program/proof/prove-record.ts';
import type { LayRecord, PartRecord, RunRecord } from '../../../src/program/record/run-record.ts';
import { madeRun } from '../../support/made-run.ts';
import { openWorkshop, runFile, wren } from '../../support/wren.ts';

// The Wren: pairs, both hands, two sets of one order, allowances, a board and pads.
let good = '';
beforeAll(async () => {
  const { root, close } = openWorkshop(wren);
  const request = { runFile: join(root, runFile), sharedFolder: join(root, 'shared') };
  const { files } = await madeRun({ ...request, limit: { rounds: 1 } }, 'wren-week');
  good = files.get('run.json')!;
  close();
});

/** The rules of what is found in the record after a change. */
function found(change: (run: RunRecord) => RunRecord): string[] {
  const run = change(JSON.parse(good) as RunRecord);
  return [...new Set(proveRecord(run, 'run.json').map(({ rule }) => rule))];
}

function ofPart(label: string, change: (part: PartRecord) => Partial<PartRecord>): string[] {
  return found((run) => {
    const parts = run.parts.map((part) =>
      part.label === label ? { ...part, ...change(part) } : part,
    );
    expect(parts).not.toEqual(run.parts);
    return { ...run, parts };
  });
}

function ofLay(change: (lay: LayRecord) => Partial<LayRecord>): string[] {
  return found((run) => ({
    ...run,
    lays: run.lays.map((lay, i) => (i === 0 ? { ...lay, ...change(lay) } : lay)),
  }));
}

const floor = 'floor.1.A1';
const left = 'mat-left.1.A1';

it('is of a record that is sound', () => {
  expect(found((run) => run)).toEqual([]);
});

describe('a part', () => {
  it.each<[string, string, (part: PartRecord) => Partial<PartRecord>, string]>([
    ['of another hand', left, () => ({ hand: 'LHD' }), 'hand'],
    ['of the other side', left, () => ({ side: 'right' }), 'part-name'],
    ['of no side', left, () => ({ side: null }), 'part-name'],
    ['of another set', left, () => ({ set: 2 }), 'part-name'],
    ['of another order', left, () => ({ order: 'A2' }), 'part-name'],
    ['of no order', left, () => ({ order: 'A9' }), 'order'],
    ['of another piece', left, () => ({ piece: 'rest' }), 'part-name'],
    ['of another kind', left, () => ({ kind: 'pad' }), 'part-name'],
    ['of another name', left, () => ({ name: 'mat-l' }), 'part-name'],
    ['without a pile', floor, () => ({ pileDeg: null }), 'pile'],
    ['with another net area', floor, ({ netArea }) => ({ netArea: netArea + 2 }), 'area'],
    ['with another cut area', floor, ({ cutArea }) => ({ cutArea: cutArea + 2 }), 'area'],
    ['without a net outline of its own', floor, () => ({ netContour: null }), 'edges'],
    [
      'with a net outline that is larger than the cut contour',
      floor,
      ({ netContour }) => ({
        netContour: netContour!.map(([x, y, b]) => [x * 1.2, y, b] as const),
      }),
      'contour',
    ],
    [
      'that runs round the other way',
      floor,
      ({ cutContour }) => ({
        cutContour: cutContour.toReversed().map(([x, y]) => [x, y, 0] as const),
      }),
      'contour',
    ],
    [
      'with longer edges',
      floor,
      ({ edges }) => ({ edges: { ...edges, seam: edges.seam + 1 } }),
      'edges',
    ],
    [
      'with an edge of another kind',
      floor,
      ({ stretches }) => ({
        stretches: stretches.map((one, i) => (i === 0 ? { ...one, kind: 'turned' as const } : one)),
      }),
      'edges',
    ],
    ['with an edge less', floor, ({ stretches }) => ({ stretches: stretches.slice(1) }), 'edges'],
    [
      'with its edges in another order',
      floor,
      ({ stretches }) => ({ stretches: stretches.toReversed() }),
      'edges',
    ],
    [
      'with a bound edge that is not on show',
      left,
      ({ stretches }) => ({ stretches: stretches.map((one) => ({ ...one, onShow: false })) }),
      'edges',
    ],
    [
      'with a notch off its contour',
      floor,
      ({ notches }) => ({ notches: notches.map(([[x, y], to]) => [[x, y - 2], to] as const) }),
      'notch',
    ],
    [
      'with a hole outside',
      floor,
      ({ inner }) => ({
        inner: inner.map((one) => ({
          ...one,
          contour: one.contour.map(([x, y, b]) => [x + 3000, y, b] as const),
        })),
      }),
      'contour',
    ],
    ['bound in another length', left, () => ({ next: [['Bind', '9 mm in black, 1 run']] }), 'next'],
    [
      'bound in another colour',
      left,
      ({ next }) => ({
        next: next.map(([verb, words]) => [verb, words.replace('black', 'red')] as const),
      }),
      'next',
    ],
    ['with a mark that its twin in the next set has not', floor, () => ({ marks: [] }), 'alike'],
    ['that may be turned otherwise than its twin', floor, () => ({ turns: 'any' }), 'alike'],
  ])('%s', (_, label, change, rule) => {
    expect(ofPart(label, change)).toContain(rule);
  });

  // The net outline is a little wider all over the run but for one side of a pair: every contour still agrees
  // with its areas.
  it('that is no mirror image of the other side', () => {
    const moved = ({ cutContour, netContour, stretches }: PartRecord): Partial<PartRecord> => ({
      cutContour: cutContour.map(([x, y, b]) => [x + 3, y, b]),
      netContour: netContour?.map(([x, y, b]) => [x + 3, y, b]) ?? null,
      stretches: stretches.map((one) => ({
        ...one,
        path: one.path.map(([x, y, b]) => [x + 3, y, b] as const),
      })),
    });
    expect(ofPart(left, moved)).toContain('alike');
  });

  it('of a material with other allowances', () => {
    const change = (run: RunRecord): RunRecord => ({
      ...run,
      materials: run.materials.map((one) => ({
        ...one,
        allowances: { ...one.allowances, seam: one.allowances.seam + 2 },
      })),
    });
    expect(found(change)).toContain('allowance');
  });
});

describe('a lay', () => {
  it.each<[string, (lay: LayRecord) => Partial<LayRecord>, string]>([
    [
      'with another usable width',
      ({ usableWidth }) => ({ usableWidth: usableWidth - 1 }),
      'lay-width',
    ],
    ['with another selvedge', ({ selvedge }) => ({ selvedge: selvedge + 1 }), 'lay-width'],
    ['with another density', ({ density }) => ({ density: density + 0.001 }), 'density'],
    ['with another gap', ({ gap }) => ({ gap: gap + 1 }), 'lay-rules'],
    ['with other turns', () => ({ turns: 'two-way' }), 'lay-rules'],
    ['with another thickness', ({ thickness }) => ({ thickness: thickness + 1 }), 'lay-rules'],
    ['with another bed', () => ({ biteLength: 900 }), 'lay-rules'],
    ['with joins', () => ({ joinOverlap: 12 }), 'lay-rules'],
    ['of another seed', ({ seed }) => ({ seed: seed + 1 }), 'seed'],
    ['of a material that nobody knows', () => ({ material: 'felt' }), 'material'],
    ['with bites in another order', ({ bites }) => ({ bites: [...bites, bites[0]!] }), 'bites'],
    [
      'with a lead-in for a knife that needs none',
      ({ bites }) => ({
        bites: bites.map((one) => ({
          ...one,
          leadIn: [
            [0, 0],
            [9, 0],
          ],
        })),
      }),
      'lead-in',
    ],
  ])('%s', (_, change, rule) => {
    expect(ofLay(change)).toContain(rule);
  });
});

describe('a run', () => {
  it.each<[string, (run: RunRecord) => Partial<RunRecord>, string]>([
    ['with an order less', ({ orders }) => ({ orders: orders.slice(1) }), 'order'],
    ['with an order twice', ({ orders }) => ({ orders: [...orders, orders[0]!] }), 'order'],
    [
      'with more sets than there are',
      ({ orders }) => ({ orders: orders.map((one) => ({ ...one, quantity: 3 })) }),
      'order',
    ],
    [
      'with no heel pads where there are some',
      ({ orders }) => ({ orders: orders.map((one) => ({ ...one, heelPads: 'none' as const })) }),
      'order',
    ],
    [
      'with no boards where there are some',
      ({ orders }) => ({ orders: orders.map((one) => ({ ...one, boards: false })) }),
      'order',
    ],
    ['with a part less', ({ parts }) => ({ parts: parts.slice(1) }), 'order'],
    ['with a material less', ({ materials }) => ({ materials: materials.slice(1) }), 'material'],
    [
      'with a material twice',
      ({ materials }) => ({ materials: [...materials, materials[0]!] }),
      'material',
    ],
    ['with an input twice', ({ inputs }) => ({ inputs: [...inputs, inputs[0]!] }), 'input'],
    [
      'without the file of its set',
      ({ inputs }) => ({ inputs: inputs.filter(({ file }) => !file.endsWith('set.yaml')) }),
      'input',
    ],
    [
      'with an input by its place on a machine',
      ({ inputs }) => ({ inputs: inputs.map((one) => ({ ...one, file: `/${one.file}` })) }),
      'input',
    ],
    [
      'that is a recut of it knows not what',
      () => ({ recutOf: { run: 'a', fingerprint: 'b' } }),
      'fingerprint',
    ],
  ])('%s', (_, change, rule) => {
    expect(found((run) => ({ ...run, ...change(run) }))).toContain(rule);
  });
});
