import type { Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';

/** Where the cutting of a run is gone on with: at its run, or, where it has no run file, at its folder. */
export function folderAddress(name: string, shop: Shop | null): string {
  const isRun = shop?.runs.some((run) => run.name === name && run.orders !== null) === true;
  return isRun ? addressOf('run', name, 'cutting') : addressOf('out', name);
}
