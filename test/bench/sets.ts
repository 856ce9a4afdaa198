/**
 * The lay of the demo's carpet for 1, 3, 10 and 30 sets of one hand, cut on the
 * demo's cutter: `npm run bench:sets -- SECONDS [SETS...]`, two threads, seed 1. Needs
 * `npm run build`. "of one set" is the density against that of one set.
 */
import { mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { cuttingOrder } from '../../src/knife/order/order.ts';
import type { Lay } from '../../src/lay/lay.ts';
import { verifyLay } from '../lay/verify.ts';

const root = join(import.meta.dirname, '../..');
const [seconds = '60', ...chosen] = process.argv.slice(2);
const counts = chosen.length > 0 ? chosen.map(Number) : [1, 3, 10, 30];
// Threads need what has been built.
const built = (file: string): string => join(root, 'dist', file);
const { readJob } = (await import(built('run/job.js'))) as typeof import('../../src/run/job.ts');
const { rollsOf } = (await import(
  built('run/run-file.js')
)) as typeof import('../../src/run/run-file.ts');
const { layParts } = (await import(
  built('lay/lay-parts.js')
)) as typeof import('../../src/lay/lay-parts.ts');

console.log(`carpet, ${seconds} s, two threads, seed 1`);
console.log('sets  parts  length, m  density, %  bites  first, s  of one set  verdict');
let ofOne = 0;
for (const sets of counts) {
  const { lay, parts, bites, first, faults } = await layOf(sets);
  ofOne ||= lay.density;
  console.log(
    [
      String(sets).padStart(4),
      String(parts).padStart(6),
      (lay.length / 1000).toFixed(2).padStart(10),
      (100 * lay.density).toFixed(2).padStart(11),
      String(bites).padStart(6),
      first.toFixed(1).padStart(9),
      (lay.density / ofOne).toFixed(3).padStart(11),
      `  ${faults === 0 ? 'valid' : `${faults} faults`}`,
    ].join(' '),
  );
}

async function layOf(
  sets: number,
): Promise<{ lay: Lay; parts: number; bites: number; first: number; faults: number }> {
  const folder = mkdtempSync(join(tmpdir(), 'pileway-sets-'));
  try {
    symlinkSync(join(root, 'patterns/fenlark'), join(folder, 'fenlark'));
    const file = join(folder, 'bench.yaml');
    const order = `{ order: A, set: fenlark, hand: RHD, carpet: { colour: sand }, quantity: ${sets} }`;
    writeFileSync(file, `title: bench\ncutter: long-bay\norders:\n  - ${order}\n`);
    const { run, cutter, materials, parts } = readJob(file, join(root, 'shared'));
    const carpet = materials.get('carpet-loop')!;
    const own = parts.filter(({ material }) => material === carpet.name);
    const { pins: _, ...roll } = rollsOf(run, { material: carpet, colour: 'sand' })[0]!;
    const start = performance.now();
    let first = 0;
    const lay = await layParts(
      own,
      carpet.name,
      roll,
      { turns: carpet.turns, gap: carpet.gap, biteLength: cutter.bed.length },
      {
        seed: 1,
        limit: { seconds: Number(seconds) },
        threads: 2,
        found: () => (first ||= (performance.now() - start) / 1000),
      },
    );
    const bites = cuttingOrder(lay, own, cutter).length;
    return { lay, parts: own.length, bites, first, faults: verifyLay(lay, own).length };
  } finally {
    rmSync(folder, { recursive: true });
  }
}
