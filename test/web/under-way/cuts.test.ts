import {
  appendFileSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { cut } from '../../../src/jobs/cut.ts';
import type { RunEvent } from '../../../src/web/api/events.ts';
import type { CutState } from '../../../src/web/api/files.ts';
import { openServerThreads } from '../../../src/web/tasks/threads.ts';
import type { Cuts } from '../../../src/web/under-way/cuts.ts';
import { openCuts } from '../../../src/web/under-way/cuts.ts';
import { drawingFile, runFile } from '../../support/wren.ts';
import { shopForEach } from '../in-shop.ts';

const inShop = shopForEach();
const threads = openServerThreads(1);
const run = 'wren-week';
const bench = 'price: 30 EUR\nminutes: { bind: 1, sew: 1, pad: 1, board: 1 }\n';
let heard: CutState[] = [];
let heed: (state: CutState) => void = () => {};

afterEach(() => {
  heard = [];
  heed = () => {};
});
afterAll(() => threads.close());

function open(): Cuts {
  const tell = (_: string, event: RunEvent): void => {
    if (event.kind !== 'cut') return;
    heard.push(event);
    heed(event);
  };
  return openCuts(inShop().shop, threads, { tell } as Parameters<typeof openCuts>[2]);
}

async function made(cuts: Cuts): Promise<CutState> {
  cuts.begin(run);
  await cuts.close();
  return cuts.stateOf(run);
}

/** All files of a folder as they are, and when they were written. */
function filesIn(folder: string) {
  return readdirSync(folder)
    .sort()
    .map((name) => {
      const file = join(folder, name);
      return { name, bytes: readFileSync(file, 'base64'), written: statSync(file).mtimeMs };
    });
}

const folder = (): string => join(inShop().root, 'out', run);

describe('the making of files', () => {
  it('says what is being done, and ever more of it, up to the end', async () => {
    const cuts = open();
    expect(cuts.stateOf(run)).toEqual({
      isUnderWay: false,
      progress: null,
      ended: null,
      findings: [],
    });
    expect((await made(cuts)).ended).toBe('made');
    const all = heard.flatMap(({ progress }) => (progress === null ? [] : [progress]));
    const shares = all.map(({ share }) => share);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    expect(Math.max(...shares)).toBeLessThanOrEqual(1);
    expect([...new Set(all.map(({ phase }) => phase))]).toEqual([
      'reading',
      'laying',
      'planning',
      'writing',
      'papers',
      'proving',
    ]);
    const doing = all.map((progress) => progress.doing);
    expect(doing).toContain('laying loop, 1 of 3');
    expect(doing.find((words) => /^papers: 2 of \d+$/.test(words))).toBeDefined();
    expect(heard.at(-1)).toMatchObject({ isUnderWay: false, progress: null, ended: 'made' });
  });

  it('makes nothing anew where nothing has changed: the files are those that a cut would write', async () => {
    const cuts = open();
    const { findings } = await made(cuts);
    const before = filesIn(folder());
    expect(await made(cuts)).toMatchObject({ ended: 'same', findings });
    expect(filesIn(folder())).toEqual(before);

    const { root, shop } = inShop();
    const out = join(root, 'elsewhere', run);
    await cut({ runFile: join(root, runFile), sharedFolder: shop.shared, out, force: false });
    const bytes = (files: typeof before) => files.map(({ name, bytes: own }) => [name, own]);
    expect(bytes(filesIn(out))).toEqual(bytes(before));
  });

  it('makes the files anew where anything is other than it was', async () => {
    const { root } = inShop();
    const changes: [string, () => void][] = [
      ['a comment in the run file', () => appendFileSync(join(root, runFile), '# seen\n')],
      ['the drawing', () => appendFileSync(join(root, drawingFile), '\n')],
      ['a file that is gone', () => rmSync(join(folder(), 'sheet.pdf'))],
      ['a file that is new', () => writeFileSync(join(root, 'shared/bench.yaml'), bench)],
    ];
    const cuts = open();
    await made(cuts);
    for (const [what, change] of changes) {
      change();
      expect([what, (await made(cuts)).ended]).toEqual([what, 'made']);
    }
    expect((await made(cuts)).ended).toBe('same');
  });

  it('makes anew what another server has made: it may have been another version', async () => {
    await made(open());
    expect((await made(open())).ended).toBe('made');
  });

  it.each(['laying', 'papers', 'proving'])(
    'is stopped at %s, and leaves the files before as they were, and nothing else',
    async (phase) => {
      const cuts = open();
      await made(cuts);
      const before = filesIn(folder());
      appendFileSync(join(inShop().root, runFile), '# seen\n');
      heed = ({ progress }) => progress?.phase === phase && void cuts.stop(run);
      expect(await made(cuts)).toEqual({
        isUnderWay: false,
        progress: null,
        ended: 'stopped',
        findings: [],
      });
      expect(filesIn(folder())).toEqual(before);
      expect(readdirSync(join(inShop().root, 'out'))).toEqual([run]);
      heed = () => {};
      expect((await made(cuts)).ended).toBe('made');
    },
  );
});
