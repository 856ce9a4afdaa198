import type { BenchFacts } from './bench-facts.ts';
import { isFixedOn } from './fixing.ts';
import type { Part } from './part.ts';

/**
 * What leaves the bench: parts that are sewn together, with the pads and boards that are fixed to them, are one
 * thing. An underlay is one by itself unless somebody says how it is fixed. Things and their parts stand in the order
 * of `parts`, which are those of one set that an order wants; `bench` holds what the bench does with them, by
 * their names.
 */
export function assemblies(
  parts: readonly Part[],
  bench: ReadonlyMap<string, BenchFacts>,
): Part[][] {
  const things = new Map(parts.map((part): [string, Part[]] => [part.name, [part]]));
  const join = (name: string, other: string): void => {
    const [one, two] = [things.get(name)!, things.get(other)];
    // What the order does not want is no part of it.
    if (two === undefined || one === two) return;
    const both = [...one, ...two];
    for (const part of both) things.set(part.name, both);
  };
  for (const { name } of parts) {
    const { seams, pads, under } = bench.get(name)!;
    for (const { partner } of seams) join(name, partner);
    for (const { pad, fixed } of pads) {
      if (pad !== null && isFixedOn('pad', fixed)) join(name, pad);
    }
    for (const { kind, part, fixed } of under) {
      if (isFixedOn(kind, fixed)) join(name, part);
    }
  }
  const place = new Map(parts.map((part, i) => [part, i]));
  return [...new Set(things.values())].map((thing) =>
    thing.toSorted((a, b) => place.get(a)! - place.get(b)!),
  );
}
