import type { Transform } from '../geometry/transform.ts';
import { identity, scaling } from '../geometry/transform.ts';
import type { DxfRecord } from './records.ts';
import { numberIn } from './records.ts';

/**
 * From an entity's own frame (its extrusion direction, 210 to 230) to the world seen from above;
 * undefined where it stands at an angle to the sheet. By the arbitrary axis rule of the DXF reference
 * an extrusion of (0, 0, -1) looks from below: world x = -x, world y = y. Only for entities that are
 * stored in their own frame: LINE, POINT and MTEXT are not.
 */
export function frameOf(record: DxfRecord): Transform | undefined {
  const x = numberIn(record, 210, 0);
  const y = numberIn(record, 220, 0);
  const z = numberIn(record, 230, 1);
  // A sine of 1e-9 moves nothing on a sheet by more than a millionth of a millimetre.
  if (z === 0 || Math.hypot(x, y) > 1e-9 * Math.abs(z)) return undefined;
  return z > 0 ? identity : scaling(-1, 1);
}
