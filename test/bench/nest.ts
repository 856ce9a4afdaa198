/**
 * The nesting engine on the published instances of the literature, two threads, against the published
 * densities and against a reference program where one lies beside the data:
 * `npm run bench:nest -- DATA SECONDS SEEDS [INSTANCE...]`, DATA the folder with the instances as JSON.
 * Every layout is judged by check_layout.py of that folder, where it and python3-shapely are there.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { densityOf, readInstance } from '../../src/jobs/nest.ts';

/** Mean densities, %, of 100 runs of 20 minutes on three threads: Gardeyn, Vanden Berghe and Wauters 2025, arXiv:2509.13329, tables 2 and 3. */
const published: Readonly<Record<string, number>> = {
  albano: 89.47,
  dagli: 89.26,
  fu: 92.24,
  jakobs1: 89.09,
  marques: 90.93,
  shapes1: 75.69,
  shirts: 89.66,
  swim: 78.26,
};

const [data, seconds = '60', seeds = '5', ...chosen] = process.argv.slice(2);
if (data === undefined) throw new Error('which folder are the instances in?');
const main = join(import.meta.dirname, '../../dist/cli/pileway.js');
const folder = mkdtempSync(join(tmpdir(), 'pileway-nest-'));
console.log(`${seconds} s, two threads, ${seeds} seeds`);
console.log('instance    mean    best    published mean  difference  verdicts');
try {
  for (const name of chosen.length > 0 ? chosen : Object.keys(published)) benchInstance(name);
} finally {
  rmSync(folder, { recursive: true });
}

function benchInstance(name: string): void {
  const instance = join(data!, `${name}.json`);
  const densities: number[] = [];
  const verdicts: string[] = [];
  for (let seed = 1; seed <= Number(seeds); seed++) {
    const out = join(folder, 'placements.json');
    const args = [main, 'nest', instance, '--out', out, '--force', '--seconds', seconds];
    const run = spawnSync(process.execPath, [...args, '--seed', String(seed)], {
      encoding: 'utf8',
    });
    if (run.status !== 0) throw new Error(run.stderr);
    const { length } = JSON.parse(readFileSync(out, 'utf8')) as { length: number };
    densities.push(100 * densityOf(readInstance(instance), length));
    verdicts.push(verdictOf(instance, out));
  }
  const mean = densities.reduce((sum, one) => sum + one, 0) / densities.length;
  const known = published[name];
  console.log(
    [
      name.padEnd(10),
      mean.toFixed(2).padStart(6),
      Math.max(...densities)
        .toFixed(2)
        .padStart(7),
      (known?.toFixed(2) ?? '-').padStart(15),
      (known === undefined ? '-' : (mean - known).toFixed(2)).padStart(11),
      ` ${verdicts.join(' ')}`,
    ].join(' '),
  );
}

function verdictOf(instance: string, placements: string): string {
  const judge = join(data!, 'check_layout.py');
  if (!existsSync(judge)) return 'not judged';
  const { status, stdout } = spawnSync('/usr/bin/python3', [judge, instance, placements], {
    encoding: 'utf8',
  });
  return status === 0 ? 'valid' : stdout.slice(0, 80);
}
