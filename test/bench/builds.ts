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
import { meanOf, withError } from './means.ts';
import { taskOf } from './nest-tasks.ts';

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
  const task = taskOf(data!, name);
  const file = join(folder, `${name}.json`);
  writeFileSync(file, JSON.stringify(task.instance));
  for (const seconds of secondsText.split(',').map(Number)) {
    const pairs: (readonly [Found, Found])[] = [];
    for (const seed of seeds) {
      const [one, other] = await Promise.all(
        builds.map((dist) => search(dist, file, seed, seconds)),
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
