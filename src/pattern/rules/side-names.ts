import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import type { PieceEntry, SetContent } from '../set-file.ts';
import type { Hand, Side } from '../words.ts';
import { driverSide, otherSide } from '../words.ts';

type Person = 'driver' | 'passenger';

/** Words in the name of a piece that say a side. A single letter counts at the end alone. */
const sideWords: ReadonlyMap<string, Side> = new Map([
  ...['left', 'lh', 'lhs'].map((word) => [word, 'left'] as const),
  ...['right', 'rh', 'rhs'].map((word) => [word, 'right'] as const),
]);
const lastLetters: ReadonlyMap<string, Side> = new Map([
  ['l', 'left'],
  ['r', 'right'],
]);

/** What the name of a piece says, and the rest of the name. */
export interface NamedSide {
  /** null: it says neither or both. */
  readonly side: Side | null;
  readonly person: Person | null;
  readonly stem: string;
}

/** The side of the vehicle or the person that the name of a piece says. */
export function sideInPieceName(name: string): NamedSide {
  const words = name.split('-');
  const sideOf = (word: string, i: number): Side | undefined =>
    sideWords.get(word) ?? (i > 0 && i === words.length - 1 ? lastLetters.get(word) : undefined);
  const sides = new Set(words.map(sideOf).filter((side) => side !== undefined));
  const people = words.filter((word): word is Person => word === 'driver' || word === 'passenger');
  return {
    side: sides.size === 1 ? [...sides][0]! : null,
    person: people.length === 1 ? people[0]! : null,
    stem: words.filter((word, i) => sideOf(word, i) === undefined).join('-'),
  };
}

/**
 * Rules: the name of a piece does not say another side than its entry, and a piece of one side that is
 * called after it has a counterpart of a like name on the other.
 */
export function checkSideNames({ value, placeOf }: YamlFile<SetContent>): Finding[] {
  return Object.entries(value.pieces).flatMap(([name, entry]): Finding[] => {
    const wording =
      otherwiseNamed(name, entry, value.drawn) ??
      (entry.decided === undefined ? withoutCounterpart(name, entry, value) : null);
    const where = { ...placeOf(['pieces', name, 'side']), piece: name };
    return wording === null ? [] : [{ severity: 'warning', ...wording, where }];
  });
}

type NameWording = Pick<Finding, 'rule' | 'message' | 'todo'>;

function otherwiseNamed(name: string, entry: PieceEntry, drawn: Hand): NameWording | null {
  const { side, person } = sideInPieceName(name);
  const said = entry.side === 'pair' ? `drawnSide: ${entry.drawnSide}` : `side: ${entry.side}`;
  const wording = (says: string): NameWording => ({
    rule: 'name-side',
    message: `the name of the piece says ${says}, and the set file says "${said}".`,
    todo: 'Correct the one that is wrong: rename the piece, or change its entry.',
  });
  if (side !== null && entrySide(entry, drawn) === otherSide(side)) return wording(side);
  if (person === null || entry.side === 'centre' || entry.side === 'pair') return null;
  if (entry.side === person) return null;
  const isFixed = entry.side === 'left' || entry.side === 'right';
  return isFixed && entry.decided !== undefined ? null : wording(person);
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
  if (sideInPieceName(name).side !== side || hasCounterpart(name, pieces)) return null;
  const other = otherSide(side);
  return {
    rule: 'no-counterpart',
    message: `the piece is for the ${side} alone, and the set has none of a like name for the ${other}.`,
    todo: `Add the ${other} one, make it "side: pair" with "drawnSide: ${side}", or write down as "decided:" why there is only one.`,
  };
}

/** Whether another piece is called the same but for the side. */
export function hasCounterpart(name: string, pieces: SetContent['pieces']): boolean {
  const { side, stem } = sideInPieceName(name);
  return Object.keys(pieces).some((other) => {
    const theirs = sideInPieceName(other);
    return other !== name && theirs.stem === stem && theirs.side !== side;
  });
}
