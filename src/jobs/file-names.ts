import type { Place } from '../base/findings.ts';
import { refuse } from '../base/findings.ts';
import { whyNotPortable } from '../base/names.ts';
import { cutShort } from '../base/wording.ts';
import { biteName } from '../lay/bites.ts';
import { layName } from '../lay/lay.ts';
import { clothName } from '../pattern/shop/cloth.ts';
import type { Job } from '../run/job.ts';
import { rollsOf } from '../run/run-file.ts';
import { filesOfLay, filesOfOrder } from './run-names.ts';

/** A file that a run is going to write, and what a person wrote that gives it its name. */
interface PlannedFile {
  readonly name: string;
  readonly from: string;
  readonly where: Place;
}

/** No bite has a longer name. */
const longestBite = biteName(1, 9999);

/**
 * Refuses a run whose files could not all be kept under their names on every system, before anything is
 * searched for: folders go to machines on sticks, and there `A1` and `a1` are one name.
 */
export function checkFileNames(job: Job): void {
  const known = new Map<string, PlannedFile>();
  for (const file of plannedFiles(job)) {
    refuseName(file, known.get(file.name.toLowerCase()));
    known.set(file.name.toLowerCase(), file);
  }
}

function plannedFiles({ run, cloths }: Job): PlannedFile[] {
  const ofLays = cloths.flatMap((cloth) =>
    rollsOf(run, cloth).flatMap((roll, i) => {
      const { material } = cloth;
      const { name } = roll;
      const base = layName({ material: material.name, roll });
      const own = clothName(material.name, cloth.colour);
      const from = `${name === undefined ? 'material' : `roll ${name} of`} ${own}`;
      const where = run.placeOf(['rolls', material.name, i]);
      return filesOfLay(base, [longestBite]).map((file) => ({ name: file, from, where }));
    }),
  );
  const ofOrders = run.orders.flatMap(({ order }, i) =>
    filesOfOrder(order).map((name) => ({
      name,
      from: `order ${order}`,
      where: run.placeOf(['orders', i, 'order']),
    })),
  );
  return [...ofLays, ...ofOrders];
}

function refuseName({ name, from, where }: PlannedFile, other: PlannedFile | undefined): void {
  if (other !== undefined) {
    const message = `${other.from} and ${from} would both be written to ${name}: on a stick, large and small letters are the same.`;
    refuse('file-name', message, 'Give one of them another name.', where);
  }
  const why = whyNotPortable(name);
  if (why === null) return;
  const message = `${from} gives a file the name "${cutShort(name, 60)}", which ${why}.`;
  refuse('file-name', message, 'Give it another name.', where);
}
