import type { Entity } from '../../drawing/drawing.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import type { FirstOption } from './first-set.ts';

/**
 * The options that layers of entities name, or that `map` says they go with. If they name one value alone, there must be another: vehicles
 * without it.
 */
export function firstOptions(entities: readonly Entity[], map: LayerMap): FirstOption[] {
  const all = entities.flatMap(({ layer }) => meaningOf(layer, map)?.when ?? []);
  const names = [...new Set(all.map(({ option }) => option))].sort();
  return names.map((name) => {
    const own = all.filter(({ option }) => option === name);
    const values = new Set(own.flatMap(({ value }) => (value === null ? [] : [value])));
    const isAlone = values.size === 1;
    return { name, values: [...(isAlone ? [otherThan(values)] : []), ...[...values].sort()] };
  });
}

function otherThan(values: ReadonlySet<string>): string {
  return values.has('none') ? 'other' : 'none';
}
