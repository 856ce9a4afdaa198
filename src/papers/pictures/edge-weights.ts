import type { EdgeKind } from '../../pattern/words.ts';

/** The stroke of each kind of edge, so that they differ in black and white; mm on paper. */
export const edgeWeights: Readonly<
  Record<EdgeKind, { readonly weight: number; readonly dashes?: string }>
> = {
  bound: { weight: 1.3 },
  seam: { weight: 0.5, dashes: '2 0.8' },
  tuck: { weight: 0.5, dashes: '0.5 0.9' },
  turned: { weight: 0.5, dashes: '2.6 0.8 0.5 0.8' },
  raw: { weight: 0.25 },
};
