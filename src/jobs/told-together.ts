import type { Finding } from '../base/findings.ts';
import { counted } from '../base/wording.ts';
import { pileAnswer } from '../handing/rules/pile.ts';
import { tracedKinds } from '../pattern/edges.ts';
import type { Piece } from '../pattern/piece.ts';
import type { PatternSet } from '../pattern/set.ts';
import type { Materials } from '../pattern/shop/material.ts';

/** Something that nobody has said yet, about one piece or about many at once. */
interface Missing {
  readonly rule: string;
  /** The pieces that lack it. */
  readonly lacking: readonly Piece[];
  /** What is wrong, up to the pieces: `nothing says which way the pile runs on`. */
  readonly message: string;
  readonly todo: string;
}

/**
 * What nobody has said yet about pieces: each thing is asked once for all pieces that lack it, also for
 * those with other errors, so that all of it can be answered at once.
 */
export function missingFindings(patterns: PatternSet, materials: Materials): Finding[] {
  return missingThings(patterns, materials).flatMap((one) => toldOnce(one, patterns));
}

/** The findings without those that missingFindings tells for all pieces at once. */
export function withoutMissing(
  findings: readonly Finding[],
  patterns: PatternSet,
  materials: Materials,
): Finding[] {
  const told = new Map(
    missingThings(patterns, materials).map(({ rule, lacking }) => [
      rule,
      new Set(lacking.map(({ name }) => name)),
    ]),
  );
  return findings.filter(({ rule, where }) => told.get(rule)?.has(where.piece ?? '') !== true);
}

function missingThings({ pieces }: PatternSet, materials: Materials): Missing[] {
  return [
    {
      rule: 'edge-not-claimed',
      lacking: pieces.filter(({ entry, features }) => {
        const isTraced = features.some(({ role }) => tracedKinds[role] !== undefined);
        return entry.edge === undefined && !isTraced;
      }),
      message: 'nothing says what happens to the edge of',
      todo: 'Write "edge:" into the set file, of a piece or of the set for all that do not say it (bound, seam, tuck, turned or raw), or trace each stretch in the drawing on BOUND, SEAM, TUCK, TURNED or RAW.',
    },
    {
      rule: 'no-pile',
      lacking: pieces.filter(({ pile, entry }) => {
        const turns = entry.turns ?? materials.get(entry.material)?.turns ?? 'any';
        return pile === null && turns !== 'any';
      }),
      message: 'nothing says which way the pile runs on',
      todo: pileAnswer,
    },
  ];
}

function toldOnce({ rule, lacking, message, todo }: Missing, { placeOf }: PatternSet): Finding[] {
  const [first, ...rest] = lacking;
  if (first === undefined) return [];
  const isAlone = rest.length === 0;
  const names = lacking.map(({ name }) => name).join(', ');
  const whose = isAlone ? 'this piece' : `${counted(lacking.length, 'piece')}: ${names}`;
  const where = isAlone ? first.where : placeOf(['pieces']);
  return [{ severity: 'error', rule, message: `${message} ${whose}.`, todo, where }];
}
