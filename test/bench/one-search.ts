/**
 * One search of the nesting engine on one thread, for `builds.ts`: `tsx one-search.ts DIST INSTANCE SEED SECONDS`. DIST is
 * the folder of a build, which may be an older one; INSTANCE holds an instance as the engine takes it. Prints
 * when each shorter layout was found, in seconds, and its length.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Instance, prepared } from '../../src/lay/engine/instance.ts';
import type { beginSearch } from '../../src/lay/engine/nest.ts';

const [dist, file, seedText, secondsText] = process.argv.slice(2) as [
  string,
  string,
  string,
  string,
];
const [seed, seconds] = [Number(seedText), Number(secondsText)];
const engine = async (name: string): Promise<unknown> =>
  import(pathToFileURL(join(dist, 'lay/engine', name)).href);
const instances = (await engine('instance.js')) as { prepared: typeof prepared };
const searches = (await engine('nest.js')) as { beginSearch: typeof beginSearch };

const ready = instances.prepared(JSON.parse(readFileSync(file, 'utf8')) as Instance);
const began = performance.now();
const spent = (): number => (performance.now() - began) / 1000;
const found: [seconds: number, length: number][] = [];
const search = searches.beginSearch(
  ready,
  seed,
  {
    used: () => spent() / seconds,
    over: () => spent() >= seconds,
    found: ({ length }) => found.push([spent(), length]),
  },
  // As with two streams: every other one looks for blocks that repeat.
  seed % 2 === 0,
);
search.until(1);
console.log(JSON.stringify(found));
