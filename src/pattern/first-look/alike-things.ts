import type { GuessKind, RoleGuess, ThingGuess } from './guess-roles.ts';

/** A thing of a piece, by its place in the list of entities of its block. */
interface ThingRef {
  readonly piece: string;
  readonly index: number;
}

/** What things of a kind are called together. */
export const kindWords: Readonly<Record<GuessKind, string>> = {
  arrow: 'arrows',
  'along-outline': 'lines along the edge',
  'beside-inside': 'lines beside the outline, inside it',
  'beside-outside': 'lines beside the outline, outside it',
  'edge-line': 'short lines at the edge',
  'edge-point': 'points on the edge',
  'edge-to-edge': 'lines from edge to edge',
  'inside-closed': 'closed lines inside a piece',
  'inside-line': 'lines inside a piece',
  'inside-point': 'points inside a piece',
  'inside-round': 'circles inside a piece',
  'middle-line': 'straight lines in the middle of what is symmetrical',
  'off-piece': 'things beside the pieces',
  'pad-like': 'closed lines of the size of a heel pad',
  'text-edge': 'names beside edges',
  'text-name': 'names of pieces',
  'text-note': 'texts',
  'text-pair': 'texts that ask for both sides',
  'text-pile': 'texts that say where the pile leans',
  'text-quantity': 'texts that say how many',
  'text-side': 'texts that say left or right',
  'text-thing': 'names beside what is drawn',
};

/** Things of one layer that look the same on whichever piece: one answer will do for all of them. */
export interface AlikeThings {
  /** As the first of them has it. */
  readonly layer: string;
  readonly kind: GuessKind;
  /** What each of them may be, the likeliest first: what all of them can be, in the order of the first. */
  readonly guesses: readonly RoleGuess[];
  readonly things: readonly ThingRef[];
}

/** What was guessed of the things of a piece. */
export interface GuessedPiece {
  readonly piece: string;
  readonly guessed: readonly ThingGuess[];
}

/** The things of several pieces by layer and likeness, those with the most things first. */
export function alikeThings(pieces: readonly GuessedPiece[]): AlikeThings[] {
  const groups = new Map<string, { all: ThingGuess[]; things: ThingRef[] }>();
  for (const { piece, guessed } of pieces) {
    for (const one of guessed) {
      const key = JSON.stringify([one.entity.layer.toUpperCase(), one.guesses[0]!.kind]);
      const group = groups.get(key) ?? { all: [], things: [] };
      groups.set(key, group);
      group.all.push(one);
      group.things.push({ piece, index: one.index });
    }
  }
  return [...groups.values()]
    .map(({ all, things }) => {
      const [first] = all as [ThingGuess];
      const guesses = first.guesses.filter(({ role }) =>
        all.every((one) => one.guesses.some((other) => other.role === role)),
      );
      return { layer: first.entity.layer, kind: first.guesses[0]!.kind, guesses, things };
    })
    .toSorted((a, b) => b.things.length - a.things.length);
}

/** The one sensible role of all these things, with the reason. null: they may be several, or differ. */
export function oneRoleOf(guessed: readonly (readonly RoleGuess[])[]): RoleGuess | null {
  const [first] = guessed[0] ?? [];
  if (first === undefined || !first.isLikely) return null;
  const agree = guessed.every(
    ([own]) => own !== undefined && own.isLikely && own.role === first.role,
  );
  return agree ? first : null;
}
