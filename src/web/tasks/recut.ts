import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Finding } from '../../base/findings.ts';
import { recut } from '../../jobs/recut.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFolderIn } from '../workshop/workshop.ts';

/** Rounds of moves a material, as on the command line. */
const effort = 500;

export interface RecutWish {
  readonly shop: Workshop;
  readonly run: string;
  readonly labels: readonly string[];
  /** A roll or remnant of the shop; null: what the run left on its roll. */
  readonly remnant: string | null;
}

/** Cuts parts of a run once more, into a folder of the next free name. Throws a Refusal. */
export async function recutParts({
  shop,
  run,
  labels,
  remnant,
}: RecutWish): Promise<{ name: string; findings: readonly Finding[] }> {
  const name = freeName(shop, `${run}-recut`);
  const file = join(shop.shared, 'rolls.yaml');
  const { findings } = await recut({
    folder: runFolderIn(shop, run),
    labels,
    out: runFolderIn(shop, name),
    force: false,
    search: { seed: 1, limit: { rounds: effort }, threads: 1 },
    ...(remnant === null ? {} : { remnant: { name: remnant, file } }),
  });
  return { name, findings };
}

function freeName(shop: Workshop, wanted: string): string {
  const names = [wanted, ...Array.from({ length: 998 }, (_, i) => `${wanted}-${i + 2}`)];
  return names.find((name) => !existsSync(runFolderIn(shop, name)))!;
}
