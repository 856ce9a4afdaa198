import { describe, expect, it } from 'vitest';
import type { Instance } from '../../../src/lay/engine/instance.ts';
import type { Layout } from '../../../src/lay/engine/layout.ts';
import type { Nest } from '../../../src/lay/engine/nest.ts';
import { ending, nestInStreams, openEngine, openStreams } from '../../../src/lay/engine/streams.ts';
import { scaledInstance, scaledNest } from '../../../src/lay/engine/scale.ts';
import { faults } from './judge.ts';

const instance: Instance = {
  width: 700,
  kinds: [
    { outline: [0, 0, 300, 0, 300, 200], rotations: [0, 180], demand: 5 },
    { outline: [0, 0, 200, 0, 240, 150, 100, 260, 0, 150], rotations: [0, 180], demand: 4 },
  ],
};

function run(threads: number, rounds: number, stop = new SharedArrayBuffer(1)): Promise<Nest> {
  return nestInStreams(instance, { seed: 3, limit: { rounds }, threads, stop });
}

function stopped(): SharedArrayBuffer {
  const stop = new SharedArrayBuffer(1);
  new Uint8Array(stop)[0] = 1;
  return stop;
}

describe('nestInStreams', () => {
  it('counted in rounds is the same again, in one thread or more', async () => {
    const once = await run(1, 80);
    expect(await run(1, 80)).toEqual(once);
    expect(await run(2, 80)).toEqual(once);
    expect(await run(5, 80)).toEqual(once);
  });

  it.each([1, 3, 5])(
    'has as many streams as asked for, %i, spread over any number of threads',
    async (streams) => {
      const job = { seed: 3, limit: { rounds: 80, streams }, stop: new SharedArrayBuffer(1) };
      const once = await nestInStreams(instance, { ...job, threads: 1 });
      expect(faults(instance, once)).toEqual([]);
      expect(await nestInStreams(instance, { ...job, threads: 2 })).toEqual(once);
      expect(await nestInStreams(instance, { ...job, threads: 5 })).toEqual(once);
    },
  );

  it('finds more in more streams', async () => {
    const lengths = async (streams: number): Promise<number[]> => {
      const found: number[] = [];
      for (const seed of [1, 2, 3, 4]) {
        const limit = { rounds: 80, streams };
        const stop = new SharedArrayBuffer(1);
        found.push((await nestInStreams(instance, { seed, limit, threads: 2, stop })).length);
      }
      return found;
    };
    const [one, four] = [await lengths(1), await lengths(4)];
    const better = one.filter((length, i) => four[i]! < length);
    expect(better.length).toBeGreaterThan(1);
  });

  it('gives the shortest layout of which it has told', async () => {
    const told: number[] = [];
    const job = { seed: 1, limit: { rounds: 200 }, threads: 1, stop: new SharedArrayBuffer(1) };
    const { length } = await nestInStreams(instance, job, {
      found: (nest) => told.push(nest.length),
    });
    expect(length).toBe(Math.min(...told));
  });

  it('stopped before it began still lays all items, without faults', async () => {
    const nest = await run(1, 1e9, stopped());
    expect(faults(instance, nest)).toEqual([]);
  });

  it('searches one instance after another in one engine as it would in engines of their own', async () => {
    const engine = openEngine();
    const job = { seed: 3, limit: { rounds: 40 }, threads: 1, stop: new SharedArrayBuffer(1) };
    const other = { ...instance, width: 500 };
    const together = [];
    for (const one of [instance, other, instance]) {
      together.push(await nestInStreams(one, { ...job, engine }));
    }
    const [first, second] = [await nestInStreams(instance, job), await nestInStreams(other, job)];
    expect(together).toEqual([first, second, first]);
    engine.close();
  });

  it('ended with its first layout makes that one with care', async () => {
    const kinds = Array.from({ length: 120 }, (_, i) => ({
      outline: [0, 0, 100 + i, 0, 90, 60 + (i % 7)],
      rotations: [0, 180],
      demand: 1,
    }));
    const lengthAt = async (how: number): Promise<number> => {
      const stop = new SharedArrayBuffer(1);
      new Uint8Array(stop)[0] = how;
      const job = { seed: 1, limit: { rounds: 1e9 }, threads: 1, stop };
      return (await nestInStreams({ width: 500, kinds }, job)).length;
    };
    expect(await lengthAt(ending.withFirst)).toBeLessThan(await lengthAt(ending.atOnce));
  });

  it.each([
    ['whole layouts', [5, 4], 3, false],
    // Forty items and more in five shares or more are laid in blocks: see pattern.ts.
    ['the blocks of what repeats', [30, 20], 2, true],
  ])(
    'shows what it tries, %s, and finds the same with and without',
    async (_, demands, seed, inBlocks) => {
      const kinds = instance.kinds.map((kind, i) => ({ ...kind, demand: demands[i]! }));
      const shown: Nest[] = [];
      const job = { seed, limit: { rounds: 1500 }, threads: 1, stop: new SharedArrayBuffer(1) };
      const watched = await nestInStreams({ ...instance, kinds }, job, {
        trying: (nest) => shown.push(nest),
      });
      expect(shown.length).toBeGreaterThan(0);
      const all = demands[0]! + demands[1]!;
      expect(shown.some(({ placements }) => placements.length < all)).toBe(inBlocks);
      for (const { placements } of shown) {
        for (const [kind, demand] of demands.entries()) {
          const own = placements.filter((one) => one.kind === kind);
          expect(own.length).toBeGreaterThan(0);
          expect(own.length).toBeLessThanOrEqual(demand);
        }
        expect(
          placements.every(({ x, y, rotation }) => [x, y, rotation].every(Number.isFinite)),
        ).toBe(true);
      }
      expect(await nestInStreams({ ...instance, kinds }, job)).toEqual(watched);
    },
  );

  it('of nothing is nothing', async () => {
    const kinds = [{ outline: [0, 0, 9, 0, 9, 9], rotations: [0], demand: 0 }];
    const job = { seed: 1, limit: { rounds: 9 }, threads: 2, stop: new SharedArrayBuffer(1) };
    const nest = await nestInStreams({ width: 10, kinds }, job);
    expect(nest).toEqual({ length: 0, placements: [] });
  });

  it('refuses an instance that makes no sense before a stream begins', async () => {
    const job = { seed: 1, limit: { rounds: 9 }, threads: 2, stop: new SharedArrayBuffer(1) };
    await expect(nestInStreams({ ...instance, width: 0 }, job)).rejects.toThrow(RangeError);
  });
});

describe('nestInStreams with what a caller may say wrongly', () => {
  const order = { seed: 1, limit: { rounds: 30 }, threads: 1, stop: new SharedArrayBuffer(1) };
  it.each([
    ['threads', { threads: 0 }],
    ['streams', { limit: { rounds: 9, streams: 0 } }],
    ['streams', { limit: { rounds: 9, streams: 65 } }],
    ['rounds', { limit: { rounds: NaN } }],
    ['seconds', { limit: { seconds: -1 } }],
    ['stop', { stop: new SharedArrayBuffer(0) }],
  ])('refuses %s in words: %o', async (words, wrong) => {
    await expect(nestInStreams(instance, { ...order, ...wrong })).rejects.toThrow(
      expect.objectContaining({ name: 'RangeError', message: expect.stringContaining(words) }),
    );
  });

  it.each([{ slack: NaN }, { slack: -1 }, { taken: NaN }])('refuses %o', async (wrong) => {
    await expect(nestInStreams({ ...instance, ...wrong }, order)).rejects.toThrow(RangeError);
  });

  const [triangle] = instance.kinds;
  const place = { kind: 0, rotation: 0, x: 0, y: 0 };
  it.each([
    ['over another', { ...place, x: 10, y: 10 }],
    ['before the start', { ...place, x: -50, y: 300 }],
    ['past the side', { ...place, y: 600 }],
    ['that is none', { ...place, x: NaN }],
    ['of no kind', { ...place, kind: 9 }],
    ['in a turn that is not allowed', { ...place, rotation: 90, y: 300 }],
    ['one too many', { ...place, x: 400 }],
  ])('lays anew what the start has in a place %s', async (_, wrong) => {
    const few = { ...instance, kinds: [{ ...triangle!, demand: 2 }] };
    const start = [place, { ...place, y: 300 }, wrong].filter(
      (_one, i) => i !== 1 || wrong.x === 400,
    );
    const nest = await nestInStreams({ ...few, start }, order);
    expect(faults(few, nest)).toEqual([]);
    expect(nest.placements).toHaveLength(2);
  });

  it('tells of shorter layouts only, in whatever order streams find them', async () => {
    const told: number[] = [];
    const limit = { rounds: 80, streams: 5 };
    const found = ({ length }: Nest): void => {
      told.push(length);
    };
    const nest = await nestInStreams(instance, { ...order, limit }, { found });
    expect(told).toEqual([...new Set(told)].toSorted((a, b) => b - a));
    expect(told.at(-1)).toBe(nest.length);
  });

  it('lays a tiny strip as it does the same one in another unit', async () => {
    const large = scaledInstance(instance, 2);
    const nest = await nestInStreams(large, order);
    expect(faults(large, nest)).toEqual([]);
    const tiny = await nestInStreams(scaledInstance(instance, 2 ** -41), order);
    expect(scaledNest(tiny, 2 ** 42)).toEqual(nest);
  });
});

describe('a stream', () => {
  // Even ones begin largest first, odd ones from items strewn about.
  it.each([2, 3, 4, 5, 6, 7])('(%i) is told ever shorter layouts, all without faults', (seed) => {
    const told: Nest[] = [];
    const stop = new SharedArrayBuffer(1);
    const streams = [{ seed, blocks: seed % 2 === 0 }];
    const job = { instance, streams, limit: { rounds: 300 }, stop, began: 0 };
    const runStage = openStreams(job, { found: (nest) => told.push(nest) });
    let last: Layout | null = null;
    for (let stage = 0; stage < 10; stage++) last = runStage(stage, []).layouts[0]!;
    const lengths = told.map(({ length }) => length);
    expect(lengths).toEqual(lengths.toSorted((a, b) => b - a));
    for (const nest of told) expect(faults(instance, nest)).toEqual([]);
    expect(last!.length).toBe(lengths.at(-1));
  });

  it('goes on from a shorter layout that another has found', () => {
    const stop = new SharedArrayBuffer(1);
    const job = { instance, limit: { rounds: 100 }, stop, began: 0 };
    const [first, second] = [4, 6].map((seed) =>
      openStreams({ ...job, streams: [{ seed, blocks: true }] }),
    );
    let best: Layout | null = null;
    for (let stage = 0; stage < 10; stage++) best = first!(stage, []).layouts[0]!;
    expect(second!(5, [best!]).layouts[0]!.length).toBeLessThanOrEqual(best!.length);
  });
});
