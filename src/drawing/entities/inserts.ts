import type { Transform } from '../../geometry/paths/transform.ts';
import { compose, rotation, scaling, translation } from '../../geometry/paths/transform.ts';
import { pointIn } from './curves.ts';
import type { DxfRecord } from '../tags/records.ts';
import { numberIn } from '../tags/records.ts';

/** The scale factors of an INSERT. */
export function scalesOf(record: DxfRecord): { x: number; y: number } {
  return { x: numberIn(record, 41, 1), y: numberIn(record, 42, 1) };
}

/** The columns and rows of an INSERT; 0 means one. */
function gridOf(record: DxfRecord): { columns: number; rows: number } {
  return {
    columns: Math.max(1, numberIn(record, 70, 1)),
    rows: Math.max(1, numberIn(record, 71, 1)),
  };
}

/** How often an INSERT places its block. */
export function copiesOf(record: DxfRecord): number {
  const { columns, rows } = gridOf(record);
  return columns * rows;
}

/**
 * The transforms by which an INSERT places its block (with the base point at the origin), one for each
 * place. They lead into the frame of the INSERT. The block is scaled first, then moved to its column and
 * row, then turned, then moved to the insertion point. So the spacing of an array turns with the insert,
 * but is not scaled by it. Lengths in mm.
 */
export function placesOf(record: DxfRecord, mmPerUnit: number): Transform[] {
  const at = pointIn(record);
  const move = translation({ x: at.x * mmPerUnit, y: at.y * mmPerUnit });
  const turnAndMove = compose(move, rotation(numberIn(record, 50, 0)));
  const scales = scalesOf(record);
  const scale = scaling(scales.x, scales.y);
  const { columns, rows } = gridOf(record);
  const across = numberIn(record, 44, 0) * mmPerUnit;
  const up = numberIn(record, 45, 0) * mmPerUnit;
  return Array.from({ length: columns * rows }, (_, i) => {
    const shift = translation({ x: across * (i % columns), y: up * Math.floor(i / columns) });
    return compose(turnAndMove, compose(shift, scale));
  });
}
