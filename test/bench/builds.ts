/**
 * Two builds of the nesting engine side by side, one thread each, with the same seeds: the noise of the machine is
 * shared, so that small gains are seen. `npm run bench:builds -- DATA BEFORE AFTER SEEDS [SECONDS [INSTANCE...]]`: DATA the
 * folder with the published instances as JSON, BEFORE and AFTER the `dist` folders of two builds, SECONDS like `20,60`.
 * `carpet` among the instances is that of the demo's order in graphite. Printed are mean densities, the mean of the
 * paired differences with its standard error, and how long the second build takes to a density that both have
 * reached, as a share of the first (geometric mean).
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { clothToLay } from '../../src/jobs/lay-materials.ts';
import { densityOf, engineInstance, readInstance } from '../../src/jobs/nest.ts';
import type { Instance } from '../../src/lay/engine/instance.ts';
import { kindsOf } from '../../src/lay/kinds.ts';
import { usableWidth } from '../../src/lay/lay.ts';
import { clothOf } from '../../src/pattern/shop/cloth.ts';
import { materialOf } from '../../src/pattern/shop/material.ts';
import { readJob } from '../../src/run/job.ts';

const usual = [
  'albano',
  'dagli',
  'fu',
  'jakobs1',
  'marques',
  'shapes1',
  'shirts',
  'swim',
  'carpet',
];

const [data, before, after, seedText = '5', secondsText = '20,60', ...chosen] =
  process.argv.slice(2);
if (data === undefined || before === undefined || after === undefined) {
  throw new Error('name the folder of the instances and the dist folders of two builds');
}
const builds = [before, after].map((dist) => resolve(dist));
const seeds = Array.from({ length: Number(seedText) }, (_, i) => i + 1);
const folder = mkdtempSync(join(tmpdir(), 'pileway-builds-'));

/** What is laid, and its density by the length of the layout, %. */
interface Task {
  readonly file: string;
  readonly density: (length: number) => number;
}

/** What a build found with one seed: after how many seconds which length. */
type Found = readonly (readonly [seconds: number, length: number])[];

/** The differences of all pairs, for the last line. */
const all = new Map<number, number[]>();

try {
  console.log('instance   seconds  before   after  difference  time to the same density');
  for (const name of chosen.length > 0 ? chosen : usual) await benchInstance(name);
  for (const [seconds, differences] of all) {
    console.log(
      `all        ${String(seconds).padStart(7)}${' '.repeat(16)}  ${withError(differences)}`,
    );
  }
} finally {
  rmSync(folder, { recursive: true });
}

async function benchInstance(name: string): Promise<void> {
  const task = taskOf(name);
  for (const seconds of secondsText.split(',').map(Number)) {
    const pairs: (readonly [Found, Found])[] = [];
    for (const seed of seeds) {
      const [one, other] = await Promise.all(
        builds.map((dist) => search(dist, task.file, seed, seconds)),
      );
      pairs.push([one!, other!]);
    }
    const last = (found: Found): number => task.density(found.at(-1)![1]);
    const differences = pairs.map(([one, other]) => last(other) - last(one));
    all.set(seconds, [...(all.get(seconds) ?? []), ...differences]);
    const mean = (of: 0 | 1): string => meanOf(pairs.map((pair) => last(pair[of]))).toFixed(2);
    const ratio = Math.exp(meanOf(pairs.map((pair) => Math.log(timeRatio(pair)))));
    console.log(
      `${name.padEnd(10)} ${String(seconds).padStart(7)} ${mean(0).padStart(7)} ${mean(1).padStart(7)}  ${withError(differences)}  x ${ratio.toFixed(2)}`,
    );
  }
}

function taskOf(name: string): Task {
  const file = join(folder, `${name}.json`);
  if (name === 'carpet') {
    const { instance, area } = demoCarpet();
    writeFileSync(file, JSON.stringify(instance));
    return { file, density: (length) => (100 * area) / (length * instance.width) };
  }
  const published = readInstance(join(data!, `${name}.json`));
  writeFileSync(file, JSON.stringify(engineInstance(published)));
  return { file, density: (length) => 100 * densityOf(published, length) };
}

/** The graphite carpet of the demo's week, as the engine takes it, and the area of its parts, mm2. */
function demoCarpet(): { instance: Instance; area: number } {
  const root = join(import.meta.dirname, '../..');
  const job = readJob(join(root, 'patterns/fenlark-week.yaml'), join(root, 'shared'));
  const cloth = clothOf({ colour: 'graphite' }, materialOf(job.materials, 'carpet-loop'));
  const { parts, rolls, rules } = clothToLay(job, cloth);
  const width = usableWidth(rolls[0]!.roll);
  const kinds = kindsOf(parts, rules, width).map(({ shape }) => shape);
  const area = parts.reduce(
    (sum, { cut, inner }) =>
      sum + areaOf(cut) - inner.reduce((own, { path }) => own + areaOf(path), 0),
    0,
  );
  return { instance: { width, kinds, slack: 2e-6 }, area };
}

function search(dist: string, file: string, seed: number, seconds: number): Promise<Found> {
  const script = join(import.meta.dirname, 'one-search.ts');
  const args = ['--import', 'tsx', script, dist, file, String(seed), String(seconds)];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  let text = '';
  child.stdout.on('data', (chunk: Buffer) => (text += chunk.toString()));
  return new Promise((done, failed) => {
    child.on('close', (code) =>
      code === 0
        ? done(JSON.parse(text) as Found)
        : failed(new Error(`a search of ${dist} failed`)),
    );
  });
}

/** How long the second build took to the longest length that both have reached, as a share of the first. */
function timeRatio([one, other]: readonly [Found, Found]): number {
  const both = Math.max(one.at(-1)![1], other.at(-1)![1]);
  const reached = (found: Found): number => found.find(([, length]) => length <= both)![0];
  return reached(other) / reached(one);
}

function meanOf(figures: readonly number[]): number {
  return figures.reduce((sum, one) => sum + one, 0) / figures.length;
}

/** The mean with its standard error. */
function withError(figures: readonly number[]): string {
  const mean = meanOf(figures);
  const squares = figures.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  const error = Math.sqrt(squares / Math.max(1, figures.length - 1) / figures.length);
  const sign = mean < 0 ? '-' : '+';
  return `${sign}${Math.abs(mean).toFixed(2)} +- ${error.toFixed(2)}`;
}
