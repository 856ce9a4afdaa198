import type { Bite } from '../../knife/cuts.ts';
import type { Lay, LayRules, Roll } from '../../lay/lay.ts';
import { usableWidth } from '../../lay/lay.ts';
import { pointRecord, recordedPolygon, six } from './figures.ts';
import type { LayRecord } from './run-record.ts';

/** A lay that is to be recorded, with what else must be known about it. */
export interface LayToRecord {
  readonly lay: Lay;
  readonly seed: number;
  /** Thickness of the material, mm. */
  readonly thickness: number;
  readonly bites: readonly Bite[];
}

/** What run.json says about a lay. Numbers are rounded to six decimals. */
export function layRecord({ lay, seed, thickness, bites }: LayToRecord): LayRecord {
  const { roll, rules } = lay;
  return {
    material: lay.material,
    ...(roll.colour === undefined ? {} : { colour: roll.colour }),
    roll: roll.name ?? null,
    dyeLot: roll.dyeLot ?? null,
    rollWidth: roll.width,
    usableWidth: six(usableWidth(roll)),
    selvedge: roll.selvedge,
    startMargin: roll.startMargin,
    rollLength: roll.length === Infinity ? null : roll.length,
    defects: (roll.defects ?? []).map((defect) => defect.map(pointRecord)),
    rollOutline: roll.outline?.map(pointRecord) ?? null,
    turns: rules.turns,
    gap: rules.gap,
    biteLength: rules.biteLength === Infinity ? null : rules.biteLength,
    joinOverlap: rules.joinOverlap ?? null,
    length: six(lay.length),
    density: six(lay.density),
    seed,
    placements: lay.placements.map(({ label, x, y, rotation }) => ({
      label,
      x: six(x),
      y: six(y),
      rotation: six(rotation),
    })),
    thickness,
    bites: bites.map(({ start, leadIn, mark }) => ({
      start: six(start),
      leadIn: leadIn === undefined ? null : [pointRecord(leadIn.from), pointRecord(leadIn.to)],
      mark: mark === undefined ? null : pointRecord(mark),
    })),
  };
}

/** A lay as run.json has it, with the pile up and the same numbers. */
export function recordedLay(record: LayRecord): Lay {
  const { material, placements, length, density } = record;
  return {
    material,
    roll: recordedRoll(record),
    rules: recordedRules(record),
    placements,
    length,
    density,
  };
}

function recordedRoll(record: LayRecord): Roll {
  const { rollWidth, selvedge, startMargin, rollLength, defects, rollOutline, roll } = record;
  const { colour, dyeLot } = record;
  return {
    width: rollWidth,
    selvedge,
    startMargin,
    length: rollLength ?? Infinity,
    defects: defects.map(recordedPolygon),
    ...(rollOutline === null ? {} : { outline: recordedPolygon(rollOutline) }),
    ...(roll === null ? {} : { name: roll }),
    ...(colour === undefined ? {} : { colour }),
    ...(dyeLot === null ? {} : { dyeLot }),
  };
}

export function recordedRules({ turns, gap, biteLength, joinOverlap }: LayRecord): LayRules {
  return {
    turns,
    gap,
    biteLength: biteLength ?? Infinity,
    ...(joinOverlap === null ? {} : { joinOverlap }),
  };
}
