import type { SetContent } from '../../pattern/set-file.ts';
import type { Edge } from '../part.ts';

/** A seam in words: `floor/front – dash`. */
export function wordSeam({ seams }: Pick<SetContent, 'seams'>, seam: number): string {
  return seams[seam]!.join.join(' – ');
}

export function wordEdge({ name }: Edge): string {
  return name === null ? 'a seam edge without a name' : `the seam edge "${name}"`;
}
