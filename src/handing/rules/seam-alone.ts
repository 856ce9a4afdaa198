import type { Finding } from '../../base/findings.ts';
import { middleOfPath, pathLength } from '../../geometry/paths/path.ts';
import type { SetContent } from '../../pattern/set-file.ts';
import type { PatternSet } from '../../pattern/set.ts';
import { partWarning } from '../findings.ts';
import type { Edge, Part } from '../part.ts';
import type { PartsByPiece, Seams } from '../seams/seams.ts';
import {
  edgesNamed,
  hasEdge,
  isOptionalEdge,
  pieceOfReference,
  unsewnEdges,
} from '../seams/seams.ts';
import { wordEdge, wordSeam } from './seam-words.ts';

/**
 * One of the two edges that a seam of the set file joins: its reference (`piece` or `piece/edge`), and
 * the reference of its partner.
 */
interface SeamEnd {
  readonly seam: number;
  readonly ref: string;
  readonly partner: string;
}

/**
 * Rule: something is sewn to every seam edge. Otherwise it has its allowance for nothing: no seam names
 * it, or nothing meets it. No finding if another one gives the reason: a reference that names no edge or
 * several, or a piece that could not be derived.
 */
export function checkAlone(pieces: PartsByPiece, seams: Seams, patterns: PatternSet): Finding[] {
  const { content } = patterns;
  const ends = endsByPiece(content);
  const unclear = new Set(seams.ambiguities.map(({ seam }) => seam));
  const isExplained = ({ seam, partner }: SeamEnd): boolean =>
    unclear.has(seam) || isMissing(partner, pieces, patterns);
  return unsewnEdges(pieces, seams).flatMap(({ part, edge }) => {
    const ofPiece = ends.get(part.piece) ?? [];
    const naming = ofPiece.filter(({ ref }) => edgesNamed(part, ref).includes(edge));
    if (naming.length > 0) {
      return naming.some(isExplained) ? [] : [unmet(part, edge, naming[0]!, patterns)];
    }
    const isMisnamed = ofPiece.some(
      ({ ref }) => !hasEdge(pieces.get(part.piece)!, ref) && !isOptionalEdge(patterns, ref),
    );
    return isMisnamed ? [] : [unnamed(part, edge)];
  });
}

function endsByPiece({ seams }: SetContent): ReadonlyMap<string, readonly SeamEnd[]> {
  const ends = new Map<string, SeamEnd[]>();
  for (const [seam, { join }] of seams.entries()) {
    for (const [i, ref] of join.entries()) {
      const known = ends.get(pieceOfReference(ref)) ?? [];
      ends.set(pieceOfReference(ref), [...known, { seam, ref, partner: join[1 - i]! }]);
    }
  }
  return ends;
}

/**
 * Whether a partner or its edge is missing for a reason that another finding gives. A piece that is only
 * for the other hand, or that vehicles with these options do not have, is not missing; nor is such an edge.
 */
function isMissing(ref: string, pieces: PartsByPiece, patterns: PatternSet): boolean {
  const name = pieceOfReference(ref);
  const partners = pieces.get(name) ?? [];
  if (partners.length > 0) return !hasEdge(partners, ref) && !isOptionalEdge(patterns, ref);
  return patterns.content.pieces[name]?.only === undefined && !patterns.absent.has(name);
}

function unnamed(part: Part, edge: Edge): Finding {
  const message = `no seam of the set names ${wordEdge(edge)}, ${pathLength(edge.path).toFixed(0)} mm long.`;
  const todo = 'Add what it is sewn to under "seams:", or trace it on another layer.';
  return partWarning(part, { rule: 'seam-alone', message, todo }, middleOfPath(edge.path));
}

function unmet(
  part: Part,
  edge: Edge,
  { seam, partner }: SeamEnd,
  { content, absent }: PatternSet,
): Finding {
  const other = pieceOfReference(partner);
  const isAbsent = absent.has(other);
  const why = isAbsent ? `"${other}" is not there with these options` : 'nothing meets it there';
  const message = `the seam ${wordSeam(content, seam)} names ${wordEdge(edge)}, and ${why}.`;
  const todo = isAbsent
    ? 'Trace the edge on SEAM with the options of the other piece behind it, and on another layer with what is left.'
    : 'Look at sides, copies and names of both pieces, or trace the edge on another layer.';
  return partWarning(part, { rule: 'seam-alone', message, todo }, middleOfPath(edge.path));
}
