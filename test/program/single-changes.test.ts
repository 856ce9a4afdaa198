import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import type { Cutter } from '../../src/knife/cutter.ts';
import { variedCutters } from '../knife/sample-cutters.ts';
import { conveyorBed, longBay } from '../knife/sample-parts.ts';
import { madeRun } from '../support/made-run.ts';
import { randomFrom } from '../support/random.ts';
import { tries } from '../support/thorough.ts';
import { colouredWren } from '../support/coloured-wren.ts';
import type { Files } from '../support/wren.ts';
import { openWorkshop, runFile, wren } from '../support/wren.ts';
import { goodRun, rulesFound } from './good-run.ts';
import type { RunFiles } from './run-folder.ts';
import type { SingleChange } from './single-changes.ts';
import { drawChange, harmless } from './single-changes.ts';

interface MadeFolder {
  readonly name: string;
  readonly cutter: Cutter;
  readonly files: RunFiles;
  /** Changes that are drawn for each program and drawing, and for the record. */
  readonly each: number;
  readonly ofRecord: number;
}

/** A trailing knife that is led in, with the material face down and arcs in short lines. */
const led = variedCutters.find(({ name }) => name.includes('led in'))!;

/** Punched, face down, in bites, by a knife that is turned; and by one that trails. */
const folders: MadeFolder[] = [conveyorBed, led].map((cutter) => ({
  name: cutter.name,
  cutter,
  files: goodRun(cutter),
  each: tries(2, 5),
  ofRecord: tries(10, 30),
}));

/** A run of the Wren on the long bay: pairs, both hands, several sets, allowances, three materials. */
async function wrenFolder(
  inputs: Files,
  more: Pick<MadeFolder, 'name' | 'each'>,
): Promise<MadeFolder> {
  const { root, close } = openWorkshop(inputs);
  try {
    const request = { runFile: join(root, runFile), sharedFolder: join(root, 'shared') };
    const { files } = await madeRun({ ...request, limit: { rounds: 1 } }, 'wren-week');
    const read = [...files].filter(([name]) => /\.(?:json|nc|dxf)$/.test(name));
    return {
      cutter: longBay,
      files: Object.fromEntries(read),
      ofRecord: tries(15, 30),
      ...more,
    };
  } finally {
    close();
  }
}

/** The rules of what is found in changed files. What cannot even be read is found out, too. */
function found({ files }: SingleChange): string[] {
  try {
    return rulesFound(files);
  } catch (error) {
    if (error instanceof Refusal) return error.findings.map(({ rule }) => rule);
    throw error;
  }
}

/** How many changes there were of each kind: named, or harmless for a reason. */
const counts = new Map<string, number>();

function count(what: string): void {
  counts.set(what, (counts.get(what) ?? 0) + 1);
}

/** The changes that are neither named nor harmless, in words. */
function unseenIn(folder: MadeFolder, file: string, seed: number): string[] {
  const random = randomFrom(seed);
  const tried = file === 'run.json' ? folder.ofRecord : folder.each;
  return Array.from({ length: tried }, () => drawChange(folder.files, file, random)).flatMap(
    (change): string[] => {
      if (change === undefined) return [];
      count('tried');
      if (found(change).length > 0) {
        count('named');
        return [];
      }
      const why = harmless.find(({ holds }) => holds(change, folder.files, folder.cutter));
      if (why !== undefined) {
        count(`harmless: ${why.reason}`);
        return [];
      }
      const { kind, place, before, after } = change;
      return [`${file}, ${place}: ${kind}: ${before} -> ${after}`];
    },
  );
}

beforeAll(async () => {
  folders.push(
    await wrenFolder(wren, { name: 'the Wren on the long bay', each: tries(1, 2) }),
    // Orders that choose: what is new in it is in the record.
    await wrenFolder(colouredWren, { name: 'the Wren in colours', each: 0 }),
  );
});

// Whoever or whatever changes one thing in a proven folder is found out, or has done no harm.
describe('a single change', () => {
  it('is of folders that are proven', () => {
    expect(folders).toHaveLength(4);
    for (const { name, files } of folders) expect(rulesFound(files), name).toEqual([]);
  });

  it.each([0, 1, 2, 3])(
    'is named or harmless in every file of folder %d',
    { timeout: 1_800_000 },
    (n) => {
      const folder = folders[n]!;
      const unseen = Object.keys(folder.files).flatMap((file, i) =>
        unseenIn(folder, file, 100 * n + i),
      );
      expect(unseen).toEqual([]);
    },
  );

  it('is counted', () => {
    const lines = [...counts].toSorted(([, a], [, b]) => b - a);
    process.stdout.write(`${lines.map(([what, many]) => `${many} ${what}`).join('\n')}\n`);
    // Most changes are named: a list of the harmless that swallows them all would prove nothing.
    expect(counts.get('named')!).toBeGreaterThan(0.6 * counts.get('tried')!);
  });
});
