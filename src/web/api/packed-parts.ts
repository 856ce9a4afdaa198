import type { PicturedPart } from './pictured.ts';

/** What parts of one shape have in common, which is nearly all that is sent of them. */
type PartShape = Pick<PicturedPart, 'd' | 'ring' | 'box' | 'marks' | 'at' | 'edges'>;

/**
 * Parts as they are sent where there are thousands of them: each shape is there once, and each part
 * names its shape by number.
 */
export interface PackedParts {
  readonly shapes: readonly PartShape[];
  readonly parts: readonly (Omit<PicturedPart, keyof PartShape> & { readonly shape: number })[];
}

export function packParts(parts: readonly PicturedPart[]): PackedParts {
  const shapes: PartShape[] = [];
  const known = new Map<string, number>();
  const packed = parts.map(({ d, ring, box, marks, at, edges, ...own }) => {
    const key = JSON.stringify([d, marks, edges]);
    const shape = known.get(key) ?? shapes.push({ d, ring, box, marks, at, edges }) - 1;
    known.set(key, shape);
    return { ...own, shape };
  });
  return { shapes, parts: packed };
}

export function unpackParts({ shapes, parts }: PackedParts): PicturedPart[] {
  return parts.map(({ shape, ...own }) => ({ ...own, ...shapes[shape]! }));
}
