/** Numbers from a seed, the same on every machine: mulberry32 (T. Ettinger, public domain; from memory). */
export interface Random {
  /** 0 up to, not with, n. */
  readonly below: (n: number) => number;
  readonly pick: <T>(items: readonly T[]) => T;
}

export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const below = (n: number): number => Math.floor(next() * n);
  return { below, pick: (items) => items[below(items.length)]! };
}
