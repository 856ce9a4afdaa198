import type { Prepared } from '../../../src/lay/engine/instance.ts';
import type { Budget, Nest } from '../../../src/lay/engine/nest.ts';
import { beginSearch, nestOf } from '../../../src/lay/engine/nest.ts';

/** Lays the items of an instance in one search until the budget is used. */
export function nest(instance: Prepared, seed: number, budget: Budget): Nest {
  const search = beginSearch(instance, seed, budget);
  search.until(1);
  return nestOf(instance, search.best);
}
