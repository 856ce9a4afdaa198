import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Part } from '../../src/handing/part.ts';
import type { Cutter } from '../../src/knife/cutter.ts';
import { planCutting } from '../../src/knife/plan.ts';
import type { Lay } from '../../src/lay/lay.ts';
import { layName } from '../../src/lay/lay.ts';
import { fingerprintOf } from '../../src/program/record/fingerprint.ts';
import { cutterFiles } from '../../src/program/writing/cutter-files.ts';
import { defaultLabelStock } from '../../src/pattern/shop/label-stock.ts';
import type { Material } from '../../src/pattern/shop/material.ts';
import type { OrderRecord } from '../../src/program/record/run-record.ts';
import type { RunToRecord } from '../../src/program/record/record.ts';
import { longBay, thickness } from '../knife/sample-parts.ts';
import { runRecord, writeRunRecord } from '../../src/program/record/record.ts';

/** A run of nothing: what tests of records add to. */
export const emptyRun: RunToRecord = {
  run: 'demo',
  title: 'Demo',
  recutOf: null,
  inputs: [],
  cutter: longBay,
  materials: [],
  orders: [],
  inches: false,
  labelStock: defaultLabelStock,
  parts: [],
  lays: [],
  said: new Map(),
};

/** The files of a run by name. */
export type RunFiles = Readonly<Record<string, string>>;

export function runFiles(parts: readonly Part[], lay: Lay, cutter: Cutter): RunFiles {
  const plan = planCutting(lay, parts, cutter, thickness);
  const { length: biteLength, joinOverlap } = cutter.bed;
  const rules = { ...lay.rules, biteLength, ...(joinOverlap === undefined ? {} : { joinOverlap }) };
  const files = ['demo/set.yaml', `cutters/${cutter.name}.yaml`, `materials/${lay.material}.yaml`];
  const record = runRecord({
    ...emptyRun,
    inputs: files.map((file) => ({ file, sha256: '0'.repeat(64) })),
    cutter,
    materials: [materialOfLay(lay)],
    orders: ordersOfParts(parts),
    parts,
    lays: [{ lay: { ...lay, rules }, seed: 1, thickness, bites: plan.bites }],
  });
  const text = writeRunRecord(record);
  const header = {
    run: `demo ${fingerprintOf(text)}`,
    material: layName(lay),
    thickness,
    of: materialOfLay(lay),
  };
  return {
    'run.json': text,
    ...Object.fromEntries(
      [...cutterFiles(plan, cutter, header)].map(([name, pieces]) => [name, [...pieces].join('')]),
    ),
  };
}

/** A material such as the lay is of: with its rules, and no allowance for any edge. */
function materialOfLay({ material, roll, rules }: Lay): Material {
  return {
    name: material,
    title: 'loop-pile carpet',
    kind: 'carpet',
    thickness,
    turns: rules.turns,
    gap: rules.gap,
    roll: { width: roll.width, selvedge: roll.selvedge, startMargin: roll.startMargin },
    allowances: { bound: 0, seam: 0, tuck: 0, turned: 0, raw: 0 },
    bridge: 0,
    punch: 0,
    notchDepth: 6,
    mitreLimit: 2,
  };
}

/** The orders that the parts name. */
function ordersOfParts(parts: readonly Part[]): OrderRecord[] {
  return [...new Set(parts.map(({ order }) => order))].map((order) => {
    const own = parts.filter((part) => part.order === order);
    return {
      order,
      set: 'demo',
      hand: own[0]!.hand,
      quantity: Math.max(...own.map(({ set }) => set)),
      heelPads: 'driver',
      boards: true,
      underlay: true,
      title: 'Demo',
      binding: null,
    };
  });
}

/** Runs a check on the files in a folder of their own, which is gone afterwards. */
export function inFolder<T>(files: RunFiles, check: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'pileway-'));
  try {
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
    return check(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

export function readFile(folder: string, name: string): string {
  return readFileSync(join(folder, name), 'utf8');
}
