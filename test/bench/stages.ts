/**
 * How long each stage takes for 1, 10 and 100 sets of the demo, and the memory at its end:
 * `npm run bench`, or `npm run bench -- 1 10` for fewer; CUTTER=small-table for another cutter. Times are of one run on this machine; the
 * last column is the stage's time per set against that of one set, which says how it grows.
 */
import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { materialOf } from '../../src/pattern/shop/material.ts';
import { planCutting } from '../../src/knife/plan.ts';
import { layMaterials } from '../../src/jobs/lay-materials.ts';
import { layName } from '../../src/lay/lay.ts';
import { layPicture } from '../../src/papers/pictures/lay/lay-picture.ts';
import { cutterFiles } from '../../src/program/writing/cutter-files.ts';
import { prove } from '../../src/program/proof/prove.ts';
import { fingerprintOf } from '../../src/program/record/fingerprint.ts';
import { runRecord, writeRunRecord } from '../../src/program/record/record.ts';
import { readJob } from '../../src/run/job.ts';

const root = join(import.meta.dirname, '../..');
const counts = process.argv.slice(2).map(Number);
const perSet = new Map<string, number>();

for (const sets of counts.length > 0 ? counts : [1, 10, 100]) await benchSets(sets);

async function benchSets(sets: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'pileway-bench-'));
  try {
    cpSync(join(root, 'patterns/fenlark'), join(folder, 'fenlark'), { recursive: true });
    const runFile = join(folder, 'bench.yaml');
    writeFileSync(
      runFile,
      `title: bench\ncutter: ${process.env['CUTTER'] ?? 'long-bay'}\norders:\n  - { order: A, set: fenlark, hand: LHD, carpet: { colour: sand }, quantity: ${sets} }\n`,
    );
    await benchRun(sets, runFile, folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function benchRun(sets: number, runFile: string, folder: string): Promise<void> {
  const { run, cutter, parts, inputs, ...job } = await timed(sets, 'drawings to parts', () =>
    readJob(runFile, join(root, 'shared')),
  );
  const whole = { run, cutter, parts, inputs, ...job };
  // One round: what the search adds is bought with --effort and is the same for every round.
  const lays = await timed(sets, 'lay, first round', () =>
    layMaterials(whole, { limit: { rounds: 1 } }),
  );
  const own = new Map(
    lays.map((lay) => [lay, parts.filter(({ material }) => material === lay.material)]),
  );
  const knives = await timed(sets, 'knife path', () =>
    lays.map((lay) => {
      const { thickness } = materialOf(job.materials, lay.material);
      return { lay, thickness, plan: planCutting(lay, own.get(lay)!, cutter, thickness) };
    }),
  );
  await timed(sets, 'drawings and programs', () => {
    const record = writeRunRecord(
      runRecord({
        run: 'bench',
        title: 'bench',
        recutOf: null,
        materials: [...job.materials.values()],
        orders: run.orders.map((order) => ({ ...order, binding: null, title: 'bench' })),
        inches: false,
        labelStock: job.labelStock,
        said: new Map(),
        inputs,
        cutter,
        parts,
        lays: knives.map(({ lay, thickness, plan: { bites } }) => ({
          lay,
          thickness,
          bites,
          seed: 1,
        })),
      }),
    );
    writeFileSync(join(folder, 'run.json'), record);
    for (const { lay, plan, thickness } of knives) {
      const header = {
        run: `bench ${fingerprintOf(record)}`,
        material: layName(lay),
        thickness,
        of: materialOf(job.materials, lay.material),
      };
      for (const [file, text] of cutterFiles(plan, cutter, header)) {
        writeFileSync(join(folder, file), typeof text === 'string' ? text : [...text].join(''));
      }
    }
  });
  await timed(sets, 'pictures', () => lays.map((lay) => layPicture(lay, own.get(lay)!).length));
  const findings = await timed(sets, 'proof', () => prove(folder));
  const lengths = lays.map(
    ({ material, length, density }) =>
      `${material} ${(length / 1000).toFixed(2)} m ${(density * 100).toFixed(1)} %`,
  );
  console.log(
    `${sets} sets, ${parts.length} parts: ${lengths.join(', ')}; ${findings.length} findings of the proof\n`,
  );
}

async function timed<T>(sets: number, stage: string, work: () => T | Promise<T>): Promise<T> {
  const start = performance.now();
  const result = await work();
  const ms = performance.now() - start;
  const one = perSet.get(stage) ?? ms / sets;
  perSet.set(stage, one);
  const memory = process.memoryUsage().rss / 2 ** 20;
  console.log(
    `${String(sets).padStart(4)} sets  ${stage.padEnd(22)} ${ms.toFixed(0).padStart(8)} ms  ${memory.toFixed(0).padStart(5)} MB  x ${(ms / sets / one).toFixed(2)} a set`,
  );
  return result;
}
