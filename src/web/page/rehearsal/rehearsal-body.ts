import type { Rehearsal, RehearsalMoves } from '../../api/rehearsal.ts';
import type { PackedParts } from '../../api/packed-parts.ts';
import { unpackParts } from '../../api/packed-parts.ts';

type Bed = Rehearsal['bed'];
type Packed = Omit<Rehearsal, 'bed'> & {
  readonly bed: Omit<Bed, 'parts'> & { readonly parts: PackedParts };
};

/**
 * Takes a rehearsal apart: four bytes with the length of the JSON head (little-endian), the head padded
 * to a multiple of eight bytes with those four, then x, y, at (float32), line (uint32) and down (bytes).
 * Throws RangeError where the body is shorter than it says.
 */
export function rehearsalOf(buffer: ArrayBuffer): {
  readonly rehearsal: Rehearsal;
  readonly moves: RehearsalMoves;
} {
  const headLength = new DataView(buffer).getUint32(0, true);
  const head = new TextDecoder().decode(new Uint8Array(buffer, 4, headLength));
  const packed: Packed = JSON.parse(head);
  const { bed, count } = packed;
  const rehearsal: Rehearsal = { ...packed, bed: { ...bed, parts: unpackParts(bed.parts) } };
  const start = 4 + headLength;
  const column = (number: number): number => start + 4 * count * number;
  const moves: RehearsalMoves = {
    x: new Float32Array(buffer, column(0), count),
    y: new Float32Array(buffer, column(1), count),
    at: new Float32Array(buffer, column(2), count),
    line: new Uint32Array(buffer, column(3), count),
    down: new Uint8Array(buffer, column(4), count),
  };
  return { rehearsal, moves };
}
