import { edgeWeights } from '../../../../papers/pictures/edge-weights.ts';
import type { EdgeKind } from '../../../../pattern/words.ts';

/** Pixels of the page for a mm of the sewing sheet. */
const perMm = 3.6;

/** No stroke is thinner than this, pixels. */
const thinnest = 1.25;

/** The stroke of a kind of edge as on the sewing sheet, in pixels of the page. */
export function strokeOf(kind: EdgeKind): { strokeWidth: string; strokeDasharray: string } {
  const { weight, dashes } = edgeWeights[kind];
  const inPixels = (dashes ?? '').split(' ').filter((one) => one !== '');
  return {
    strokeWidth: `${Math.max(thinnest, weight * perMm)}px`,
    strokeDasharray: inPixels.map((one) => `${Number(one) * perMm}px`).join(' ') || 'none',
  };
}
