import type { Finding } from '../../base/findings.ts';
import type { Piece } from '../../pattern/piece.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { Part, PartKind } from '../part.ts';

/**
 * What a set file asks for and no order can ever produce: a piece, or its heel pad, board or underlay.
 * `parts` must be the parts of one set for each hand with each option, all of which could be derived.
 */
export function neverProduced({ pieces }: PatternSet, parts: readonly Part[]): Finding[] {
  const made = new Set(parts.map(({ piece, kind }) => `${kind} ${piece}`));
  return pieces.flatMap((piece) =>
    kindsAsked(piece)
      .filter((kind) => !made.has(`${kind} ${piece.name}`))
      .map((kind): Finding => {
        const what = kind === 'piece' ? 'the piece' : `the ${kind} of the piece`;
        return {
          severity: 'error',
          rule: 'never-produced',
          message: `${what} "${piece.name}" is cut in no hand and with no option.`,
          todo: 'Look at its "side:" and "only:" and at the suffixes of its layers, or take it out of the set file.',
          where: piece.where,
        };
      }),
  );
}

function kindsAsked({ entry: { pad, board, underlay } }: Piece): PartKind[] {
  const asked = { piece: true, pad, board, underlay };
  return (['piece', 'pad', 'board', 'underlay'] as const).filter(
    (kind) => asked[kind] !== undefined,
  );
}
