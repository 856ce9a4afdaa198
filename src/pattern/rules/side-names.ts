import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import { namedSide } from '../first-look/side-words.ts';
import type { PieceEntry, SetContent } from '../set-file.ts';
import type { Hand, Side } from '../words.ts';
import { driverSide, otherSide } from '../words.ts';

/**
 * Rules: the name of a piece does not say another side than its entry, and a piece of one side that is
 * called after it has a counterpart of a like name on the other.
 */
export function checkSideNames({ value, placeOf }: YamlFile<SetContent>): Finding[] {
  return Object.entries(value.pieces).flatMap(([name, entry]): Finding[] => {
    const wording =
      otherwiseNamed(name, entry, value.drawn) ??
      (entry.decided === undefined ? withoutCounterpart(name, entry, value) : null);
    const block = blockSaysOther(entry, value.drawn);
    const at = (key: string): Finding['where'] => ({
      ...placeOf(['pieces', name, key]),
      piece: name,
    });
    return [
      ...(wording === null
        ? []
        : [{ severity: 'warning' as const, ...wording, where: at('side') }]),
      ...(block === null ? [] : [{ severity: 'warning' as const, ...block, where: at('block') }]),
    ];
  });
}

type NameWording = Pick<Finding, 'rule' | 'message' | 'todo'>;

function otherwiseNamed(name: string, entry: PieceEntry, drawn: Hand): NameWording | null {
  const { says } = namedSide(name);
  const said = entry.side === 'pair' ? `drawnSide: ${entry.drawnSide}` : `side: ${entry.side}`;
  const wording: NameWording = {
    rule: 'name-side',
    message: `the name of the piece says ${says}, and the set file says "${said}".`,
    todo: 'Correct the one that is wrong: rename the piece, or change its entry.',
  };
  if (says === 'left' || says === 'right') {
    return entrySide(entry, drawn) === otherSide(says) ? wording : null;
  }
  if (says === null || says === 'pair' || entry.side === 'centre' || entry.side === 'pair') {
    return null;
  }
  if (entry.side === says) return null;
  const isFixed = entry.side === 'left' || entry.side === 'right';
  return isFixed && entry.decided !== undefined ? null : wording;
}

/**
 * The name of the block, or of that of the other half, may say another side too. What goes with a person
 * is no question of left and right.
 */
function blockSaysOther(entry: PieceEntry, drawn: Hand): NameWording | null {
  const side = entrySide(entry, drawn);
  if (side === null || entry.side === 'driver' || entry.side === 'passenger') return null;
  const wrong = [
    { key: 'block', name: entry.block, against: otherSide(side) },
    { key: 'other', name: entry.other, against: side },
  ].find(({ name, against }) => name !== undefined && namedSide(name).says === against);
  if (wrong === undefined) return null;
  const said = entry.side === 'pair' ? `drawnSide: ${side}` : `side: ${side}`;
  return {
    rule: 'block-side',
    message: `"${wrong.key}: ${wrong.name}" says ${wrong.against}, and the set file says "${said}".`,
    todo: 'Name the block of the other side, rename it, or change the side of the piece.',
  };
}

/** The side on which a piece lies as drawn. null: a centre piece. */
export function entrySide(
  { side, drawnSide }: Pick<PieceEntry, 'side' | 'drawnSide'>,
  hand: Hand,
): Side | null {
  switch (side) {
    case 'centre':
      return null;
    case 'pair':
      return drawnSide ?? null;
    case 'left':
    case 'right':
      return side;
    case 'driver':
      return driverSide(hand);
    case 'passenger':
      return otherSide(driverSide(hand));
  }
}

function withoutCounterpart(
  name: string,
  { side }: PieceEntry,
  { pieces }: SetContent,
): NameWording | null {
  if (side !== 'left' && side !== 'right') return null;
  if (namedSide(name).says !== side || hasCounterpart(name, pieces)) return null;
  const other = otherSide(side);
  return {
    rule: 'no-counterpart',
    message: `the piece is for the ${side} alone, and the set has none of a like name for the ${other}.`,
    todo: `Add the ${other} one, make it "side: pair" with "drawnSide: ${side}", or write down as "decided:" why there is only one.`,
  };
}

/** Whether another piece is called the same but for the side. */
export function hasCounterpart(name: string, pieces: SetContent['pieces']): boolean {
  const { says, bare } = namedSide(name);
  return Object.keys(pieces).some((other) => {
    const theirs = namedSide(other);
    return other !== name && isSameName(theirs.bare, bare) && theirs.says !== says;
  });
}

/** Whether names without their sides are the same but for what parts their words. */
export function isSameName(one: string, other: string): boolean {
  return one.replaceAll('-', ' ') === other.replaceAll('-', ' ');
}
