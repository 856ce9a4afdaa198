import type { Transform } from '../../geometry/paths/transform.ts';
import { identity, scaling } from '../../geometry/paths/transform.ts';
import type { DxfRecord } from '../tags/records.ts';
import { numberIn } from '../tags/records.ts';

/** How an entity's own frame lies in the world. */
export interface Frame {
  readonly toWorld: Transform;
  /**
   * Whether the plane of the entity is at an angle to the sheet. Seen from above, it then looks narrower
   * than it is.
   */
  readonly tilted: boolean;
}

/**
 * The frame that belongs to an entity's extrusion direction (groups 210 to 230), by the arbitrary axis
 * rule of the DXF reference. `height`: where the entity's plane lies along that direction. `toWorld`
 * gives points as seen from above, in the unit of `height`. Undefined if the plane is seen on its edge.
 *
 * A direction (0, 0, -1) looks from below: world x = -x, world y = y. Only for entities that are stored
 * in their own frame: LINE, POINT, MTEXT, ELLIPSE and SPLINE are not.
 */
export function frameOf(record: DxfRecord, height: number): Frame | undefined {
  const normal = extrusionOf(record);
  if (normal === undefined || Math.abs(normal.z) < 1e-6) return undefined;
  const { x, y, z } = normal;
  // A tilt this small (sine 1e-9) moves nothing on a sheet by more than a millionth of a millimetre.
  if (Math.hypot(x, y) <= 1e-9) {
    return { toWorld: z > 0 ? identity : scaling(-1, 1), tilted: false };
  }
  const upright = Math.abs(x) < 1 / 64 && Math.abs(y) < 1 / 64;
  const across = upright ? { x: z, y: 0, z: -x } : { x: -y, y: x, z: 0 };
  const size = Math.hypot(across.x, across.y, across.z);
  const [ax, ay, az] = [across.x / size, across.y / size, across.z / size];
  const toWorld = {
    a: ax,
    b: ay,
    c: y * az - z * ay,
    d: z * ax - x * az,
    e: height * x,
    f: height * y,
  };
  return { toWorld, tilted: true };
}

/** The extrusion direction, as a vector of length 1. Undefined if the file has the zero vector. */
export function extrusionOf(record: DxfRecord): { x: number; y: number; z: number } | undefined {
  const x = numberIn(record, 210, 0);
  const y = numberIn(record, 220, 0);
  const z = numberIn(record, 230, 1);
  const size = Math.hypot(x, y, z);
  return size === 0 ? undefined : { x: x / size, y: y / size, z: z / size };
}
