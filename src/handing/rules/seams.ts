import type { Finding } from '../../base/findings.ts';
import { middleOfPath } from '../../geometry/paths/path.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import type { SetContent } from '../../pattern/set-file.ts';
import type { PatternSet } from '../../pattern/set.ts';
import { partError } from '../findings.ts';
import type { Part } from '../part.ts';
import type { Ambiguity, PartsByPiece, Seams, SewnEdge } from '../seams/seams.ts';
import {
  hasEdge,
  isOptionalEdge,
  partsByPiece,
  pieceOfReference,
  seamsOf,
} from '../seams/seams.ts';
import { checkAlone } from './seam-alone.ts';
import { checkFit } from './seam-fit.ts';
import { checkSeamPlace } from './seam-place.ts';
import { wordEdge, wordSeam } from './seam-words.ts';

/**
 * Rules for seams: every seam finds its edges, every seam edge finds a seam, edges that are sewn together
 * fit, and none is the far one.
 */
export function checkSewnEdges(
  parts: readonly Part[],
  patterns: PatternSet,
  materials: Materials,
): Finding[] {
  const { content } = patterns;
  const pieces = partsByPiece(parts);
  const seams = seamsOf(pieces, content);
  return [
    ...checkReferences(pieces, patterns),
    ...seams.ambiguities.map((ambiguity) => ambiguous(ambiguity, content)),
    ...checkAlone(pieces, seams, patterns),
    ...checkOnce(seams, content),
    ...seams.joins.flatMap((join) => checkFit(join, patterns, materials)),
    ...seams.joins.flatMap((join) => checkSeamPlace(join, content)),
  ];
}

/** Rule: a reference names an edge of its piece, if the piece is cut for this hand. */
function checkReferences(pieces: PartsByPiece, patterns: PatternSet): Finding[] {
  const { content, placeOf } = patterns;
  return content.seams.flatMap(({ join }, i) =>
    join.flatMap((ref, j): Finding[] => {
      const own = pieces.get(pieceOfReference(ref)) ?? [];
      if (own.length === 0 || hasEdge(own, ref) || isOptionalEdge(patterns, ref)) return [];
      const sewn = own.flatMap(({ edges }) => edges.filter(({ kind }) => kind === 'seam'));
      const names = [...new Set(sewn.map(({ name }) => name ?? 'one without a name'))];
      return [
        {
          severity: 'error',
          rule: 'seam-edge',
          message: `the seam names "${ref}", and no part of that piece has such a seam edge.`,
          todo: `Seam edges there: ${names.join(', ') || 'none; trace them on SEAM'}.`,
          where: { ...placeOf(['seams', i, 'join', j]), piece: pieceOfReference(ref) },
        },
      ];
    }),
  );
}

function ambiguous({ seam, part, edges }: Ambiguity, content: SetContent): Finding {
  const names = edges.map(({ name }) => name ?? 'one without a name').join(', ');
  const message = `the seam ${wordSeam(content, seam)} fits ${edges.length} edges of this part (${names}).`;
  const todo = `Put a text beside each line on SEAM to name it, no two on one side alike, and write "${part.piece}/name" in the set file.`;
  return partError(part, { rule: 'seam-several', message, todo }, middleOfPath(edges[1]!.path));
}

/** Rule: no part of an edge is sewn twice. */
function checkOnce({ joins }: Seams, content: SetContent): Finding[] {
  const seen = new Map<Part, { sewn: SewnEdge; seam: number }[]>();
  return joins.flatMap(({ seam, edges }) =>
    edges.flatMap((sewn): Finding[] => {
      const before = seen.get(sewn.part) ?? [];
      seen.set(sewn.part, [...before, { sewn, seam }]);
      const twin = before.find((other) => overlap(other.sewn, sewn));
      if (twin === undefined) return [];
      const message = `${wordEdge(sewn.edge)} is sewn twice: in the seams ${wordSeam(content, twin.seam)} and ${wordSeam(content, seam)}.`;
      const todo = 'Trace each stretch as a SEAM line of its own, named, or remove one seam.';
      return [
        partError(sewn.part, { rule: 'seam-twice', message, todo }, middleOfPath(sewn.edge.path)),
      ];
    }),
  );
}

function overlap(one: SewnEdge, other: SewnEdge): boolean {
  return one.edge === other.edge && one.from < other.to && other.from < one.to;
}
