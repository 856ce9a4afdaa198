import type { Finding } from '../../base/findings.ts';
import type { Entity } from '../../drawing/drawing.ts';
import { everyChoice } from '../../pattern/choices.ts';
import type { Conditions, OptionValues } from '../../pattern/conditions.ts';
import { wordConditions } from '../../pattern/conditions.ts';
import type { Role } from '../../pattern/layers.ts';
import { meaningOf } from '../../pattern/layers.ts';
import type { PatternSet, SetFiles } from '../../pattern/set.ts';
import type { Hand } from '../../pattern/words.ts';
import { redrawnPiece } from './redraw.ts';

/** A set drawn anew for a hand: the entities of each piece, and what is wrong with a choice of options. */
interface RedrawnSet {
  readonly pieces: readonly { readonly name: string; readonly entities: readonly Entity[] }[];
  readonly findings: readonly Finding[];
}

/**
 * All pieces of a set drawn anew for a hand, with what goes with its options, whichever are chosen. A
 * piece whose PILE or AXIS goes with options is drawn once for each of their combinations: where it lies
 * in the vehicle may depend on them.
 */
export function redrawnSet(files: SetFiles, hand: Hand): RedrawnSet {
  const { written } = files;
  const read = new Map<string, PatternSet>();
  const withOptions = (options: OptionValues): PatternSet => {
    const words = wordConditions(exactly(options));
    const set = read.get(words) ?? files.chosen({ options: Object.fromEntries(options) });
    read.set(words, set);
    return set;
  };
  const pieces = Object.keys(written.pieces).map((name) => {
    const isTurning = optionsOfRoles(files, name, ['PILE', 'AXIS']).size > 0;
    const named = optionsOfRoles(files, name, ['OUTLINE', 'PILE', 'AXIS']);
    const drawn = everyChoice(written, named).flatMap((options) => {
      const piece = withOptions(options).pieces.find((one) => one.name === name);
      return piece === undefined ? [] : [{ piece, under: isTurning ? exactly(options) : [] }];
    });
    const entities = (isTurning ? drawn : drawn.slice(0, 1)).flatMap(({ piece, under }) =>
      redrawnPiece(piece, written.drawn, hand, under),
    );
    return { name, entities };
  });
  const findings = [...read].flatMap(([choice, set]) =>
    choice === ''
      ? set.findings
      : set.findings.map((one) => ({ ...one, where: { ...one.where, choice } })),
  );
  return { pieces, findings };
}

/** The options that layers with one of these roles on a piece go with. */
function optionsOfRoles(
  { optional }: SetFiles,
  piece: string,
  roles: readonly Role[],
): ReadonlySet<string> {
  const layers = optional.filter(({ means, where }) => {
    return where.piece === piece && roles.includes(meaningOf(means, new Map())!.role);
  });
  return new Set(layers.flatMap(({ when }) => when.map(({ option }) => option)));
}

/** The conditions that these values of options meet, and no others. */
function exactly(options: OptionValues): Conditions {
  return [...options].map(([option, value]) =>
    typeof value === 'string'
      ? { option, value, isWith: true }
      : { option, value: null, isWith: value },
  );
}
