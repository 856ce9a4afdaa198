import { nameIn } from './content.ts';
import type { DxfRecord } from './records.ts';
import { numberIn } from './records.ts';

export type LayerState = 'shown' | 'off' | 'frozen';

/** Tells how a layer stands in the LAYER table; one that is not in it is shown. Case does not count. */
export function layerStates(table: readonly DxfRecord[]): (layer: string) => LayerState {
  const states = new Map(table.map((entry) => [nameIn(entry, 2).toUpperCase(), stateOf(entry)]));
  return (layer) => states.get(layer.toUpperCase()) ?? 'shown';
}

/** Flag 1 of 70 freezes a layer; a negative colour switches it off. */
function stateOf(entry: DxfRecord): LayerState {
  if ((numberIn(entry, 70, 0) & 1) === 1) return 'frozen';
  return numberIn(entry, 62, 7) < 0 ? 'off' : 'shown';
}
