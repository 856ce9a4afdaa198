import type { Point } from '../../geometry/paths/point.ts';
import type { Lay, LayRules, Roll } from '../../lay/lay.ts';
import type { LayRecord, PolygonRecord } from './run-record.ts';

/** A lay as run.json has it, pile up: the same numbers. */
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
  const { rollWidth, selvedge, startMargin, rollLength, defects, rollOutline, roll, dyeLot } =
    record;
  return {
    width: rollWidth,
    selvedge,
    startMargin,
    length: rollLength ?? Infinity,
    defects: defects.map(recordedPolygon),
    ...(rollOutline === null ? {} : { outline: recordedPolygon(rollOutline) }),
    ...(roll === null ? {} : { name: roll }),
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

export function recordedPolygon(polygon: PolygonRecord): Point[] {
  return polygon.map(([x, y]) => ({ x, y }));
}
