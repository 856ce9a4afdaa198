import type { PackedParts } from '../../api/packed-parts.ts';
import { unpackParts } from '../../api/packed-parts.ts';
import type { Rehearsal, RehearsalMoves } from '../../api/rehearsal.ts';

type Bed = Rehearsal['bed'];
type Packed = Omit<Rehearsal, 'bed'> & {
  readonly bed: Omit<Bed, 'parts'> & { readonly parts: PackedParts };
};

/**
 * Takes a rehearsal apart, which comes as one block of bytes. Its first four bytes say how long the
 * JSON head is (little-endian). The head follows, with blanks behind it up to a multiple of eight
 * bytes, and then the moves: x, y and at (float32), line (uint32) and down (bytes). Throws a RangeError
 * where the block is shorter than it says.
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
