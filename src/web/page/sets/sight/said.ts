import type { Units } from '../../../../drawing/drawing.ts';
import type { SightLayer, SightWish } from '../../../api/sight.ts';

/** What somebody has said of a drawing so far. */
export interface Said {
  readonly units: Units | null;
  /** What layers mean, by their names. */
  readonly layers: ReadonlyMap<string, string>;
  /** Layers of which each thing will be said in the set. */
  readonly each: ReadonlySet<string>;
  /** Layers that mean the same in all drawings of the customer. */
  readonly forCustomer: ReadonlySet<string>;
  /** The customer; empty: nobody said. */
  readonly drawnBy: string;
  readonly gap: number | null;
  readonly refit: number | null;
}

export const nothingSaid: Said = {
  units: null,
  layers: new Map(),
  each: new Set(),
  forCustomer: new Set(),
  drawnBy: '',
  gap: null,
  refit: null,
};

/** Whether nobody has said yet what is on a layer; texts are read in any case. */
export function isUnsaid({ means, texts, count }: SightLayer): boolean {
  return means === null && texts.length < count;
}

/** What is said of a layer: a meaning, `each` for different things, or null to take it back. */
export function withAnswer(said: Said, layer: string, answer: string | null): Said {
  const layers = new Map(said.layers);
  const each = new Set(said.each);
  const forCustomer = new Set(said.forCustomer);
  layers.delete(layer);
  each.delete(layer);
  if (answer === null || answer === 'each') forCustomer.delete(layer);
  if (answer === 'each') each.add(layer);
  else if (answer !== null) layers.set(layer, answer);
  return { ...said, layers, each, forCustomer };
}

/** What layers look like that nobody has said anything about, each with what it would mean. */
export function offeredOf(layers: readonly SightLayer[], said: Said): [string, string][] {
  return layers.flatMap((one): [string, string][] =>
    isUnsaid(one) && one.looksLike !== null && !said.layers.has(one.name)
      ? [[one.name, one.looksLike.means]]
      : [],
  );
}

/** All that is offered is right. */
export function withOffered(said: Said, offered: readonly (readonly [string, string])[]): Said {
  return { ...said, layers: new Map([...said.layers, ...offered]) };
}

export function withForCustomer(said: Said, layer: string, isSo: boolean): Said {
  const forCustomer = new Set(said.forCustomer);
  if (isSo) forCustomer.add(layer);
  else forCustomer.delete(layer);
  return { ...said, forCustomer };
}

/** What is sent along with the drawing. */
export function wishOf(name: string, said: Said): SightWish {
  const { units, layers, drawnBy, gap, refit } = said;
  return {
    name,
    layers: [...layers],
    ...(units === null ? {} : { units }),
    ...(drawnBy === '' ? {} : { drawnBy }),
    ...(gap === null ? {} : { gap }),
    ...(refit === null ? {} : { refit }),
  };
}
