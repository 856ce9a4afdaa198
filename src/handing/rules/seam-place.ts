import type { Finding } from '../../base/findings.ts';
import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import { alongPath, middleOfPath, segmentsOf } from '../../geometry/paths/path.ts';
import { dot } from '../../geometry/paths/point.ts';
import { tangentAt } from '../../geometry/paths/segment.ts';
import type { SetContent } from '../../pattern/set-file.ts';
import { partWarning } from '../findings.ts';
import type { Join, SewnEdge } from '../seams/seams.ts';
import { lengthOfSewn } from '../seams/seams.ts';
import { wordEdge, wordSeam } from './seam-words.ts';

/** An edge lies along an outline that is nearer than this, mm: pieces are drawn so side by side. */
const beside = 150;

/** The edge to which it is sewn is then farther away than this, mm. */
const elsewhere = 300;

/** Two edges that run past each other turn by at least so much against each other (cosine of 150 degrees). */
const opposed = -0.86;

/** An edge is looked at in these shares of its sewn length. */
const looks = [0.2, 0.5, 0.8] as const;

/**
 * Rule: if an edge lies along the outline of the piece to which it is sewn, it is sewn to what lies there. A
 * seam with an edge on the far side of that piece was likely given the wrong one of two edges of one length.
 */
export function checkSeamPlace({ seam, edges }: Join, content: SetContent): Finding[] {
  const [one, other] = edges;
  const [own, partner] = liesPast(one, other) ? [one, other] : [other, one];
  if (one.part.piece === other.part.piece || !liesPast(own, partner)) return [];
  const middle = middleOfPath(own.edge.path);
  const far = nearestOnPath(partner.edge.path, middle).distance;
  const message = `in the seam ${wordSeam(content, seam)}, ${wordEdge(own.edge)} lies along ${partner.part.name} as the pieces lie in the vehicle, and is sewn to ${wordEdge(partner.edge)}, ${far.toFixed(0)} mm away from it.`;
  const todo =
    'Sew it to the edge that lies there; or say with "at:" where the pieces belong, if they are not drawn in their places.';
  return [partWarning(own.part, { rule: 'seam-place', message, todo }, middle)];
}

function liesPast(own: SewnEdge, partner: SewnEdge): boolean {
  const outline = segmentsOf(partner.part.net);
  return looks.every((share) => {
    const { point, tangent } = alongPath(own.edge.path, own.from + share * lengthOfSewn(own));
    const near = nearestOnPath(partner.part.net, point);
    if (near.distance > beside) return false;
    if (nearestOnPath(partner.edge.path, point).distance < elsewhere) return false;
    const { segment, t } = near.station;
    // Both outlines run counter-clockwise, so edges that face each other run against each other.
    return dot(tangent, tangentAt(outline[segment]!, t)) <= opposed;
  });
}
