import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setImmediate as turn } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import type { RunOptions } from '../../../src/base/threads/host.ts';
import type { RunEvent } from '../../../src/web/api/events.ts';
import type { PicturedLay } from '../../../src/web/api/pictured.ts';
import type { LaidAnew } from '../../../src/web/tasks/lay.ts';
import type { ServerThreads } from '../../../src/web/tasks/threads.ts';
import type { Channel } from '../../../src/web/under-way/events.ts';
import type { Searches } from '../../../src/web/under-way/searches.ts';
import { openSearches } from '../../../src/web/under-way/searches.ts';
import { openRunFile, saveRunFile } from '../../../src/web/workshop/run-file.ts';
import type { Workshop } from '../../../src/web/workshop/workshop.ts';
import { workshopIn } from '../../../src/web/workshop/workshop.ts';
import { openWorkshop, runFile, wren } from '../../support/wren.ts';

/** A disk that can be full: as a real one, it takes the beginning of a file. */
const disk = vi.hoisted(() => ({ isFull: false }));
vi.mock('node:fs', async (importOriginal) => {
  const fs = await importOriginal<typeof import('node:fs')>();
  const writeFile = (file: string, text: string): void => {
    if (!disk.isFull) return fs.writeFileSync(file, text);
    fs.writeFileSync(file, text.slice(0, 20));
    throw Object.assign(new Error('no space left on device'), { code: 'ENOSPC' });
  };
  return { ...fs, writeFileSync: writeFile };
});

/** A search in a thread that ends when the test says so, or when it is stopped. */
interface Asked {
  readonly task: string;
  readonly args: unknown;
  readonly options: RunOptions;
  readonly end: (laid: LaidAnew) => void;
  readonly fail: (error: Error) => void;
}

const run = 'wren-week';
let shop: Workshop;
let closeShop = (): void => {};
let asked: Asked[] = [];
let told: RunEvent[] = [];
let searches: Searches;

beforeEach(() => {
  const opened = openWorkshop(wren);
  closeShop = opened.close;
  shop = workshopIn(opened.root);
  asked = [];
  told = [];
  const threads = {
    run: (task: string, args: unknown, options: RunOptions = {}) =>
      new Promise<LaidAnew>((end, fail) => {
        asked.push({ task, args, options, end, fail });
        options.signal?.addEventListener('abort', () => end(laidOf('stopped')));
      }),
    close: async () => {},
  } as ServerThreads;
  const channel = {
    tell: (name: string, event: RunEvent) => {
      expect(name).toBe(run);
      told.push(event);
    },
  } as unknown as Channel<RunEvent>;
  searches = openSearches(shop, threads, channel);
});

afterEach(() => {
  disk.isFull = false;
  closeShop();
});

function layOf(label: string): PicturedLay {
  const placements = [{ label, x: 100, y: 50, rotation: 90 }];
  return {
    material: 'loop',
    colour: null,
    roll: null,
    placements,
    pinned: [],
    length: 1000,
    density: 0.5,
    bites: [],
  };
}

function laidOf(label: string): LaidAnew {
  return { lays: [layOf(label)], findings: [] };
}

/** Labels that the run file has laid. */
function saved(): string[] {
  const { rolls } = openRunFile(shop, run).content;
  return Object.values(rolls)
    .flat()
    .flatMap(({ laid }) => laid.map(({ part }) => part));
}

function ruleOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error.findings[0]!.rule;
    throw error;
  }
  return 'none';
}

const wish = { seconds: 5 };

describe('a search', () => {
  it('is begun with what is wished, shows how it stands, and is saved when it is over', async () => {
    const before = readFileSync(join(shop.patterns, `${run}.yaml`), 'utf8');
    searches.begin(run, { seconds: 5, cloth: 'loop' });
    await turn();
    expect(asked[0]).toMatchObject({
      task: 'lay',
      args: { shop, run, seconds: 5, cloth: 'loop' },
    });
    expect(searches.stateOf(run)).toMatchObject({ left: 5 });
    expect(searches.laysOf(run)).toEqual([]);

    const state = { cloth: 'loop', number: 1, of: 3, elapsed: 1, left: 4, unfit: [] };
    const { options, end } = asked[0]!;
    options.progress!({ kind: 'search', ...state });
    options.progress!({ kind: 'lay', ...layOf('first') });
    options.progress!({ kind: 'lay', ...layOf('second') });
    expect(searches.stateOf(run)).toEqual(state);
    expect(searches.laysOf(run).map(({ placements }) => placements[0]!.label)).toEqual(['second']);
    expect(readFileSync(join(shop.patterns, `${run}.yaml`), 'utf8')).toBe(before);

    const note = {
      severity: 'note' as const,
      rule: 'laid-anew',
      message: 'x',
      todo: 'y',
      where: {},
    };
    end({ lays: [layOf('third')], findings: [note] });
    await turn();
    expect(saved()).toEqual(['third']);
    expect(searches.stateOf(run)).toBeNull();
    expect(searches.laysOf(run)).toEqual([]);
    const { version } = openRunFile(shop, run);
    expect(told.map(({ kind }) => kind)).toEqual(['search', 'search', 'lay', 'lay', 'laid']);
    expect(told.at(-1)).toEqual({ kind: 'laid', findings: [note], version });
  });

  it('keeps what it has found so far, whatever becomes of it', async () => {
    searches.begin(run, wish);
    await turn();
    const { options, fail } = asked[0]!;
    options.progress!({ kind: 'keep', lays: [layOf('so far')] });
    expect(saved()).toEqual(['so far']);
    options.progress!({ kind: 'keep', lays: [layOf('better')] });
    expect(saved()).toEqual(['better']);
    // It is not told to those who look on: they see the lay itself.
    expect(told.map(({ kind }) => kind)).toEqual(['search']);
    fail(new Error('the thread is gone'));
    await turn();
    expect(saved()).toEqual(['better']);
    expect(told.map(({ kind }) => kind)).toEqual(['search', 'laid']);
  });

  it('keeps nothing in a run file that somebody else has written meanwhile', async () => {
    searches.begin(run, wish);
    await turn();
    const { content, version } = openRunFile(shop, run);
    saveRunFile(shop, run, { ...content, title: 'Written by hand' }, version);
    asked[0]!.options.progress!({ kind: 'keep', lays: [layOf('so far')] });
    expect(saved()).toEqual([]);
    expect(openRunFile(shop, run).content.title).toBe('Written by hand');
    asked[0]!.end(laidOf('found'));
    await turn();
    expect(saved()).toEqual([]);
    expect(told.at(-1)).toMatchObject({ kind: 'laid', version: null });
  });

  it('is refused while another of that run is under way, and so is changing it', async () => {
    searches.begin(run, wish);
    await turn();
    expect(ruleOf(() => searches.begin(run, wish))).toBe('busy');
    expect(ruleOf(() => searches.settle(run))).toBe('busy');
    expect(ruleOf(() => searches.settle('other'))).toBe('none');
    expect(asked).toHaveLength(1);
    asked[0]!.end(laidOf('a'));
    await turn();
    expect(ruleOf(() => searches.settle(run))).toBe('none');
    searches.begin(run, wish);
  });

  it('of a run that is not there is refused, and leaves nothing under way', () => {
    expect(ruleOf(() => searches.begin('nowhere', wish))).toBe('file');
    expect(searches.stateOf('nowhere')).toBeNull();
    expect(asked).toEqual([]);
  });

  it('that is stopped has its best lay saved before the answer', async () => {
    searches.begin(run, wish);
    await turn();
    await searches.stop(run);
    expect(saved()).toEqual(['stopped']);
    expect(searches.stateOf(run)).toBeNull();
  });

  it('that is not there can be stopped without harm', async () => {
    await searches.stop(run);
    expect(saved()).toEqual([]);
    expect(told).toEqual([]);
  });

  it('that fails is told in words, with nothing saved, and another can be begun', async () => {
    for (const error of [new Error('out of luck'), new Refusal([])]) {
      searches.begin(run, wish);
      await turn();
      asked.at(-1)!.fail(error);
      await turn();
      expect(searches.stateOf(run)).toBeNull();
      expect(told.at(-1)).toMatchObject({ kind: 'laid', version: null });
    }
    expect(JSON.stringify(told)).toContain('out of luck');
    expect(saved()).toEqual([]);
  });

  it('ends with the server, its lays saved', async () => {
    searches.begin(run, wish);
    await turn();
    await searches.close();
    expect(saved()).toEqual(['stopped']);
  });
});

describe('lays that cannot be saved', () => {
  async function searchOnFullDisk(): Promise<void> {
    searches.begin(run, wish);
    await turn();
    disk.isFull = true;
    asked.at(-1)!.end(laidOf('found'));
    await turn();
  }

  it('for the disk is full are told, kept and shown, and saved once there is room', async () => {
    const before = readFileSync(join(shop.patterns, `${run}.yaml`), 'utf8');
    await searchOnFullDisk();
    const last = told.at(-1) as Extract<RunEvent, { kind: 'laid' }>;
    expect(last).toMatchObject({ kind: 'laid', version: null });
    expect(last.findings.map(({ message }) => message)).toEqual(['the disk is full.']);
    expect(readFileSync(join(shop.patterns, `${run}.yaml`), 'utf8')).toBe(before);
    expect(readdirSync(shop.patterns).sort()).toEqual(['wren', `${run}.history`, `${run}.yaml`]);
    expect(searches.stateOf(run)).toBeNull();
    expect(searches.laysOf(run)).toEqual([layOf('found')]);

    expect(() => searches.save(run)).toThrow('the disk is full.');
    expect(searches.laysOf(run)).toEqual([layOf('found')]);

    disk.isFull = false;
    const version = searches.save(run);
    expect(saved()).toEqual(['found']);
    expect(version).toBe(openRunFile(shop, run).version);
    expect(told.at(-1)).toEqual({ kind: 'saved', version });
    expect(searches.laysOf(run)).toEqual([]);
    expect(ruleOf(() => searches.save(run))).toBe('nothing-to-save');
  });

  it('are saved before anything else is done to the run: till then nothing is', async () => {
    await searchOnFullDisk();
    expect(() => searches.settle(run)).toThrow('the disk is full.');
    expect(() => searches.begin(run, wish)).toThrow('the disk is full.');
    expect(asked).toHaveLength(1);
    expect(searches.laysOf(run)).toEqual([layOf('found')]);
    disk.isFull = false;
    searches.settle(run);
    expect(saved()).toEqual(['found']);
  });

  it('for the run was changed meanwhile are told and forgotten: they belong to another run', async () => {
    searches.begin(run, wish);
    await turn();
    const file = join(shop.patterns, `${run}.yaml`);
    writeFileSync(file, String(wren[runFile]).replace('quantity: 2', 'quantity: 3'));
    const changed = readFileSync(file, 'utf8');
    asked[0]!.end(laidOf('found'));
    await turn();
    const last = told.at(-1) as Extract<RunEvent, { kind: 'laid' }>;
    expect(last.version).toBeNull();
    expect(last.findings.map(({ rule }) => rule)).toEqual(['changed-since']);
    expect(readFileSync(file, 'utf8')).toBe(changed);
    expect(searches.laysOf(run)).toEqual([]);
    expect(ruleOf(() => searches.save(run))).toBe('nothing-to-save');
  });

  it('are not saved into a run that was changed after they were found', async () => {
    await searchOnFullDisk();
    disk.isFull = false;
    const { content, version } = openRunFile(shop, run);
    saveRunFile(shop, run, { ...content, title: 'Another' }, version);
    expect(ruleOf(() => searches.save(run))).toBe('changed-since');
    expect(saved()).toEqual([]);
    expect(searches.laysOf(run)).toEqual([]);
  });
});
