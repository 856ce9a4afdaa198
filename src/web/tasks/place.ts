import { refuse } from '../../base/findings.ts';
import { layRules } from '../../jobs/lay-materials.ts';
import { laidPart } from '../../lay/judge.ts';
import { judgeMoved, nearestAllowed } from '../../lay/moved.ts';
import { isCutFrom } from '../../pattern/shop/cloth.ts';
import type { PartMove, PartMoved, PartPlace } from '../api/lay.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { jobOf } from './cached-job.ts';
import { loadedRolls } from '../../run/job.ts';
import { knownPlacements } from './lay-table.ts';

interface PlaceWish {
  readonly shop: Workshop;
  readonly run: string;
  readonly move: Pick<PartMove, 'material' | 'colour' | 'roll' | 'label'>;
  readonly to: PartPlace;
}

/**
 * Judges whether a part may lie where a person has put it, with all others where the run file has them.
 * Throws a Refusal where there is no such part on that roll.
 */
export function place({ shop, run, move, to }: PlaceWish): Pick<PartMoved, 'findings' | 'near'> {
  const job = jobOf(shop, run);
  const { material: name, colour, roll: rollName, label } = move;
  const loaded = loadedRolls(job).find(
    ({ cloth, roll }) =>
      cloth.material.name === name &&
      (cloth.colour ?? null) === colour &&
      (roll.name ?? null) === rollName,
  );
  const part = job.parts.find((one) => one.label === label);
  if (loaded === undefined || part === undefined || !isCutFrom(part, loaded.cloth)) {
    return refuse(
      'unknown-part',
      `there is no part "${label}" to lie on that roll.`,
      'Open the run again: it has changed.',
    );
  }
  const { cloth, roll } = loaded;
  const byLabel = new Map(job.parts.map((one) => [one.label, one]));
  const others = knownPlacements(job, cloth, roll)
    .placements.filter((one) => one.label !== label)
    .map((one) => laidPart(byLabel.get(one.label)!, one));
  const rules = layRules(cloth.material, job.cutter);
  const wanted = { label, ...to };
  const findings = judgeMoved(part, wanted, others, roll, rules);
  if (findings.length === 0) return { findings, near: null };
  const near = nearestAllowed(part, wanted, others, roll, rules);
  return {
    findings,
    near: near === null ? null : { x: near.x, y: near.y, rotation: near.rotation },
  };
}
