import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { recut } from '../../jobs/recut.ts';
import type { RecutMade, RecutWish } from '../api/files.ts';
import { marksFileIn } from '../workshop/cut-marks.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFolderIn } from '../workshop/workshop.ts';

/** Rounds of moves in the search for each material, as on the command line. */
const effort = 500;

/**
 * Cuts parts of a run once more, into a run folder of the next name that is free. Throws a Refusal
 * where they cannot be cut.
 */
export async function recutParts({
  shop,
  run,
  labels,
  remnant,
}: RecutWish & { readonly shop: Workshop; readonly run: string }): Promise<RecutMade> {
  const name = freeName(shop, `${run}-recut`);
  const file = join(shop.shared, 'rolls.yaml');
  const { findings } = await recut({
    folder: runFolderIn(shop, run),
    labels,
    out: runFolderIn(shop, name),
    force: false,
    stock: file,
    search: { seed: 1, limit: { rounds: effort }, threads: 1 },
    ...(remnant === null ? {} : { remnant: { name: remnant, file } }),
  });
  return { name, findings };
}

/** The same parts cut again are the same files: what was ticked of a folder that is gone must not be taken for them. */
function freeName(shop: Workshop, wanted: string): string {
  const names = [wanted, ...Array.from({ length: 998 }, (_, i) => `${wanted}-${i + 2}`)];
  const isTaken = (name: string): boolean =>
    [runFolderIn(shop, name), marksFileIn(shop, name)].some((path) => existsSync(path));
  return names.find((name) => !isTaken(name))!;
}
