/**
 * What more searches side by side give: 1, 2, 4 and 8 streams of so many rounds each, so that the figures do not depend
 * on how many cores there are. `npm run bench:streams -- DATA ROUNDS SEEDS [INSTANCE...]`, after `npm run build`: DATA
 * the folder with the published instances as JSON. Printed are the mean density of one stream, and what each number
 * of streams gives beyond it with the same seeds, with its standard error.
 */
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { nestInStreams } from '../../src/lay/engine/engine.ts';
import { meanOf, withError } from './means.ts';
import { taskOf } from './nest-tasks.ts';

const counts = [1, 2, 4, 8];
const usual = ['fu', 'shapes1', 'shirts', 'swim', 'carpet'];

const [data, rounds = '4000', seeds = '3', ...chosen] = process.argv.slice(2);
if (data === undefined) throw new Error('which folder are the instances in?');
const built = join(import.meta.dirname, '../../dist/lay/engine/engine.js');
const engine = (await import(pathToFileURL(built).href)) as {
  nestInStreams: typeof nestInStreams;
};

console.log(`${rounds} rounds, ${seeds} seeds`);
console.log('instance     1 stream  2 streams       4 streams       8 streams');
const gains = counts.slice(1).map((): number[] => []);
for (const name of chosen.length > 0 ? chosen : usual) {
  const { instance, density } = taskOf(data, name);
  const found: number[][] = [];
  for (let seed = 1; seed <= Number(seeds); seed++) {
    const row: number[] = [];
    for (const streams of counts) {
      const { length } = await engine.nestInStreams(instance, {
        seed,
        limit: { rounds: Number(rounds), streams },
        threads: availableParallelism(),
        stop: new SharedArrayBuffer(1),
      });
      row.push(density(length));
    }
    found.push(row);
  }
  const beyond = counts.slice(1).map((_, k) => found.map((row) => row[k + 1]! - row[0]!));
  for (const [k, own] of beyond.entries()) gains[k]!.push(...own);
  const one = meanOf(found.map((row) => row[0]!)).toFixed(2);
  console.log(`${name.padEnd(12)} ${one.padStart(8)}  ${beyond.map(withError).join('  ')}`);
}
console.log(`${'all'.padEnd(21)}  ${gains.map(withError).join('  ')}`);
