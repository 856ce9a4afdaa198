import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Zippable } from 'fflate';
import { zipSync } from 'fflate';
import type { HandedOver } from '../../base/threads/task.ts';
import { listName, readList } from '../../publishing/file-list.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFolderIn } from '../workshop/workshop.ts';

/**
 * The time of every file in the zip, which is the earliest that a zip can say: the same folder gives
 * the same bytes.
 */
const noTime = new Date(1980, 0, 1);

/** Packs what a run wrote into one zip, with everything in a folder of its name. */
export function zipFolder({
  shop,
  run,
}: {
  shop: Workshop;
  run: string;
}): HandedOver<Uint8Array<ArrayBuffer>> {
  const folder = runFolderIn(shop, run);
  const files: Zippable = {};
  for (const name of [listName, ...readList(folder).keys()]) {
    const bytes = new Uint8Array(readFileSync(join(folder, name)));
    files[`${run}/${name}`] = [bytes, { mtime: noTime }];
  }
  const value = new Uint8Array(zipSync(files));
  return { transfer: [value.buffer], value };
}
