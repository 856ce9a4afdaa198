import { normalDeg } from '../../geometry/paths/angle.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import type { Finding } from '../../base/findings.ts';
import type { Lie, Placement } from '../../lay/lay.ts';
import { mayTurn, turnsInWords } from '../../lay/lay.ts';
import { clothName } from '../../pattern/shop/cloth.ts';
import { recordedContour } from '../record/figures.ts';
import { fault } from './faults.ts';
import type { LayRecord, PartRecord, RunRecord } from '../record/run-record.ts';
import { recordedName } from '../record/run-record.ts';
import { alikeFaults } from './prove-alike.ts';
import { clothFaults } from './prove-cloths.ts';
import { areaSlack, partFaults } from './prove-parts.ts';
import { runFaults } from './prove-run.ts';

/**
 * Areas of the same shape agree within this share: what six decimals of a millimetre leave out is far
 * less.
 */
export const sameArea = 1e-5;
/**
 * How far the pile may be from the direction along the roll, degrees: six decimals, and a little for
 * sums.
 */
const samePile = 1e-4;

/**
 * Faults if run.json does not agree with itself: every part must be laid once, on its material, with its
 * pile as the material asks.
 */
export function proveRecord(run: RunRecord, file: string): Finding[] {
  return [
    ...twice(run.parts.map(({ label }) => label)).map((label) =>
      fault('part-twice', 'two parts of the run bear one label.', { file, part: label }),
    ),
    ...twice(run.lays.map(recordedName)).map((name) =>
      fault('lay-twice', `two lays are called ${name}.`, { file }),
    ),
    ...run.parts.flatMap((part) => [...areaFaults(part, file), ...layFaults(part, run, file)]),
    ...partFaults(run, file),
    ...alikeFaults(run, file),
    ...clothFaults(run, file),
    ...runFaults(run, file),
    ...run.lays.flatMap((lay) => lay.placements.flatMap((p) => placementFaults(p, lay, run, file))),
    ...setFaults(run, file),
  ];
}

/** Faults if a set lies on two rolls of a material: their shades differ. */
function setFaults(run: RunRecord, file: string): Finding[] {
  const rolls = new Map<string, Set<string>>();
  const byLabel = new Map(run.parts.map((part) => [part.label, part]));
  for (const { material, colour, roll, placements } of run.lays) {
    for (const { label } of placements) {
      const part = byLabel.get(label);
      if (part === undefined) continue;
      const set = `set ${part.set} of order ${part.order}, ${clothName(material, colour)}`;
      rolls.set(set, (rolls.get(set) ?? new Set()).add(roll ?? ''));
    }
  }
  return [...rolls]
    .filter(([, on]) => on.size > 1)
    .map(([set, on]) =>
      fault('set-on-two-rolls', `${set} lies on the rolls ${[...on].join(' and ')}.`, { file }),
    );
}

function twice(names: readonly string[]): string[] {
  return [...new Set(names.filter((name, i) => names.indexOf(name) !== i))];
}

function areaFaults(part: PartRecord, file: string): Finding[] {
  const contour = recordedContour(part.cutContour);
  const area = areaOf(contour);
  if (Math.abs(area - part.cutArea) <= areaSlack(contour)) return [];
  const message = `the contour bounds ${area.toFixed(1)} mm2, but cutArea is ${part.cutArea.toFixed(1)}.`;
  return [fault('area', message, { file, part: part.label })];
}

function layFaults(part: PartRecord, run: RunRecord, file: string): Finding[] {
  const laid = run.lays
    .filter(({ material }) => material === part.material)
    .flatMap(({ placements }) => placements)
    .filter(({ label }) => label === part.label).length;
  if (laid === 1) return [];
  const times = laid === 0 ? 'not laid at all' : `laid ${laid} times`;
  const message = `the part is ${times} on ${part.material}.`;
  return [fault('part-count', message, { file, part: part.label })];
}

function placementFaults(
  { label, rotation }: Placement,
  lay: LayRecord,
  run: RunRecord,
  file: string,
): Finding[] {
  const part = run.parts.find((one) => one.label === label);
  const where = { file, part: label };
  if (part === undefined) {
    return [
      fault('unknown-part', `the lay of ${lay.material} has a part that the run has not.`, where),
    ];
  }
  if (part.material !== lay.material) {
    const message = `a part of ${part.material} is laid on ${lay.material}.`;
    return [fault('material', message, where)];
  }
  if (mayTurn(lieOf(part), lay.turns, rotation, samePile)) return [];
  const leans = normalDeg(rotation + (part.pileDeg ?? 0)).toFixed(1);
  const message = `the part is turned by ${rotation.toFixed(1)} degrees, so that its pile leans ${leans} degrees from the roll; ${part.turns ?? lay.turns} allows a turn of ${turnsInWords(lieOf(part), lay.turns)}.`;
  return [fault('pile', message, where)];
}

/** The fields of a recorded part that say how it may be turned. */
function lieOf({ pileDeg, turns, tilt }: PartRecord): Lie {
  return {
    pileDeg,
    ...(turns === null ? {} : { turns }),
    ...(tilt === 0 ? {} : { tilt }),
  };
}
