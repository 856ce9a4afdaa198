import type { LayerMap } from '../pattern/layers.ts';
import { layersInTurn, ownLayers, readLayerMap } from '../pattern/layers.ts';
import { readCustomerLayers } from '../pattern/shop/customer.ts';
import type { SetSaid } from './content.ts';
import type { ReadDraft } from './read-draft.ts';

/** What edits and views must know besides the draft. */
export interface EditContext {
  readonly sharedFolder: string;
  /** What layers mean in a piece of the set; null: in the set as a whole. */
  readonly layersOf: (piece: string | null) => LayerMap;
}

/** What edits of edges must know, too: the set as it was read before them. */
export interface EdgeContext extends EditContext {
  /** Throws a Refusal where the set cannot be read. */
  readonly read: () => ReadDraft;
}

/** What layers mean in a set that says so. Throws a Refusal if the shop's layers cannot be read. */
export function contextOf(said: SetSaid, sharedFolder: string): EditContext {
  const customer = readCustomerLayers(sharedFolder, said.drawnBy);
  const ofSet = layersInTurn(readLayerMap(sharedFolder), customer, said.layers ?? {});
  return {
    sharedFolder,
    layersOf: (piece) =>
      piece === null ? ofSet : ownLayers(ofSet, said.pieces[piece]?.layers ?? {}),
  };
}
