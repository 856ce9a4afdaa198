import { nameIn } from './content.ts';
import type { DxfRecord } from './records.ts';
import { numberIn } from './records.ts';

export type LayerState = 'shown' | 'off' | 'frozen';

/**
 * Returns a function that tells the state of a layer by its name, upper or lower case. A layer that is
 * not in the LAYER table is shown.
 */
export function layerStates(table: readonly DxfRecord[]): (layer: string) => LayerState {
  const states = new Map(table.map((entry) => [nameIn(entry, 2).toUpperCase(), stateOf(entry)]));
  return (layer) => states.get(layer.toUpperCase()) ?? 'shown';
}

/** The state of a layer: flag 1 of group 70 freezes it, a negative colour (group 62) switches it off. */
function stateOf(entry: DxfRecord): LayerState {
  if ((numberIn(entry, 70, 0) & 1) === 1) return 'frozen';
  return numberIn(entry, 62, 7) < 0 ? 'off' : 'shown';
}
