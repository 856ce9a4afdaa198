import { startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding } from '../../base/findings.ts';
import type { ClosedLine } from '../outlines/closed-line.ts';
import { runTogether } from '../outlines/twins.ts';
import { thingWords } from '../unknown-layers.ts';
import type { SeenPiece } from './sight.ts';
import { mostPlaces } from './strays.ts';

/** The layers of two closed lines that run beside each other, and the pieces on which they do. */
interface OutlineDoubt {
  readonly layer: string;
  readonly other: string;
  readonly cases: readonly { readonly piece: SeenPiece; readonly twin: ClosedLine }[];
}

/**
 * Where closed lines on two layers that say nothing run beside each other, and it matters which is the
 * outline: for each two layers, the first the one that was chosen.
 */
export function outlineDoubts(pieces: readonly SeenPiece[]): OutlineDoubt[] {
  const cases = pieces.flatMap((piece) =>
    piece.outline.contour.role === 'OUTLINE'
      ? []
      : piece.outline.twins
          .filter(({ path }) => !runTogether(path, piece.outline.contour.path))
          .map((twin) => ({ piece, twin })),
  );
  const pairOf = ({ piece, twin }: (typeof cases)[number]): string =>
    JSON.stringify([piece.outline.contour.entity.layer, twin.entity.layer]);
  return [...new Set(cases.map(pairOf))].map((pair) => {
    const same = cases.filter((one) => pairOf(one) === pair);
    const [{ piece, twin }] = same as [(typeof cases)[number]];
    return { layer: piece.outline.contour.entity.layer, other: twin.entity.layer, cases: same };
  });
}

/** What is in doubt, in words: the lines with their sizes, and which is taken. */
export function doubtWords({ layer, other, cases }: OutlineDoubt): string {
  const told = cases.slice(0, mostPlaces).map(({ piece: { report, outline }, twin }) => {
    const [one, two] = [outline.contour.entity, twin.entity].map(thingWords);
    return `${one} on ${layer} and ${two} on ${other} in ${report.name}`;
  });
  const rest = cases.length - told.length;
  return `lines on layers ${layer} and ${other} run beside each other all round (${told.join('; ')}${rest > 0 ? `; and ${rest} more` : ''}), and ${layer} is taken for the outline`;
}

/** A warning for each two layers whose lines run beside each other, where either may be the outline. */
export function whichOutlineFindings(pieces: readonly SeenPiece[], file: string): Finding[] {
  return outlineDoubts(pieces).map((doubt) => {
    const { entity } = doubt.cases[0]!.twin;
    return {
      severity: 'warning',
      rule: 'which-outline',
      message: `${doubtWords(doubt)}.`,
      todo: 'Put on layer OUTLINE what is the outline, or say what both layers are: in shared/layers.yaml, or in a set by "layers:".',
      where: { file, line: entity.line, at: startOfEntity(entity) },
    };
  });
}
