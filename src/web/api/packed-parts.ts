import type { TablePart } from './api.ts';

/** What parts of one shape have in common: nearly all that is sent of them. */
type Shape = Pick<TablePart, 'd' | 'ring' | 'box' | 'marks' | 'at' | 'edges'>;

/** Parts as they are sent where there are thousands: each shape once. */
export interface PackedParts {
  readonly shapes: readonly Shape[];
  readonly parts: readonly (Omit<TablePart, keyof Shape> & { readonly shape: number })[];
}

export function packParts(parts: readonly TablePart[]): PackedParts {
  const shapes: Shape[] = [];
  const known = new Map<string, number>();
  const packed = parts.map(({ d, ring, box, marks, at, edges, ...own }) => {
    const key = JSON.stringify([d, marks, edges]);
    const shape = known.get(key) ?? shapes.push({ d, ring, box, marks, at, edges }) - 1;
    known.set(key, shape);
    return { ...own, shape };
  });
  return { shapes, parts: packed };
}

export function unpackParts({ shapes, parts }: PackedParts): TablePart[] {
  return parts.map(({ shape, ...own }) => ({ ...own, ...shapes[shape]! }));
}
