import { readFileSync } from 'node:fs';
import { decimal } from '../../base/numbers.ts';
import { biteName } from '../../lay/bites.ts';
import { faceOf } from '../../pattern/shop/face.ts';
import type { BiteRecord, LayRecord, RunRecord } from '../../program/record/run-record.ts';
import { recordedName } from '../../program/record/run-record.ts';
import type { BiteWork, MachineCard, RollWork } from '../api/cutting.ts';
import { placeIn } from '../workshop/workshop.ts';
import { begunInProgram } from './begun-in-program.ts';

/**
 * How a roll of a run folder is loaded and cut. Which parts are cut in a bite is read from its program, as the machine
 * reads it; where the folder is not proven, no part is named.
 */
export function rollWork(
  folder: string,
  lay: LayRecord,
  { materials }: Pick<RunRecord, 'materials'>,
  proven: boolean,
): RollWork {
  const material = materials.find(({ name }) => name === lay.material);
  const labels = lay.placements.map(({ label }) => label);
  return {
    pile: material?.kind === 'carpet' ? lay.turns : null,
    side: material === undefined ? 'the face' : faceOf(material),
    bites: lay.bites.map((bite, i) => {
      const text = proven ? readFileSync(placeIn(folder, programOf(lay, i)), 'utf8') : '';
      const cut = [...begunInProgram(text, labels).keys()];
      return { ...fedTo(bite, lay.bites[i - 1]), labels: cut };
    }),
  };
}

function programOf(lay: LayRecord, index: number): string {
  const { length } = lay.bites;
  const name = recordedName(lay);
  return length === 1 ? `${name}.nc` : `${name}.${biteName(index + 1, length)}.nc`;
}

function fedTo(
  { start, mark }: BiteRecord,
  before: BiteRecord | undefined,
): Omit<BiteWork, 'labels'> {
  const onBed = (at: BiteRecord['mark'] | undefined): BiteWork['mark'] =>
    at === null || at === undefined ? null : [at[0] - start, at[1]];
  return {
    start,
    feed: start - (before?.start ?? 0),
    check: onBed(before?.mark),
    mark: onBed(mark),
  };
}

/** What the operator must know of the machine of a run. */
export function machineCard({ cutter, inches }: RunRecord): MachineCard {
  const { title, face, knife, blade, bed, program } = cutter;
  const kind =
    knife.kind === 'trailing'
      ? 'trailing'
      : knife.oscillation === undefined
        ? 'tangential, still'
        : 'tangential, oscillating';
  return {
    title,
    face,
    knife: `${kind}, blade ${decimal(blade.width, 2)} mm wide`,
    bed: bed.length,
    inches: inches || program.units === 'inch',
  };
}
