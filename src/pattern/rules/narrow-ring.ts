import type { Finding } from '../../base/findings.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { layerName } from '../layers.ts';
import type { Piece } from '../piece.ts';

/** A hole of more than this share of its piece leaves a ring that nobody lays in a vehicle. */
const mostCutOut = 0.8;

/**
 * Rule: what is cut out of a piece leaves more than a narrow ring of it. A line beside the outline that
 * was meant for its edge would do that, where its layer is taken for a cutout.
 */
export function checkNarrowRing({ features, outline, where }: Piece): Finding[] {
  const whole = areaOf(outline);
  return features
    .filter(({ role, path }) => (role === 'CUTOUT' || role === 'HOLE') && path.closed)
    .flatMap((feature): Finding[] => {
      const share = areaOf(feature.path) / whole;
      // What is larger than its piece is told as lying outside it.
      if (share <= mostCutOut || share > 1) return [];
      const { x, y } = feature.path.vertices[0]!;
      return [
        {
          severity: 'warning',
          rule: 'narrow-ring',
          message: `this ${layerName(feature)} takes ${Math.floor(100 * share)} % of its piece away, and a narrow ring is left.`,
          todo: 'If it is a line along the edge, put it on BOUND, SEAM, TUCK, TURNED or RAW, or on NOTE.',
          where: { ...where, line: feature.line, at: { x, y } },
        },
      ];
    });
}
