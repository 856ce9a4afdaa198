import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { RoleGuess } from '../../../../pattern/first-look/guess-roles.ts';
import type { Role } from '../../../../pattern/layers.ts';
import type { PieceView, ThingView } from '../../../../drafting/view.ts';
import { Choices } from '../../controls/fields.tsx';
import { meaningRoles, roleWords } from '../../meanings.ts';
import { capital } from '../../words.ts';

/** Things of several blocks that one answer is for. */
export interface AnsweredThings {
  readonly block: string;
  readonly things: readonly number[];
}

/**
 * What the chosen things are: what they look like comes first, with the reason, and all else below it. One
 * answer can do for all things that look alike, on the piece or in the whole set.
 */
export function WhatIsIt({
  piece,
  own,
  role,
  pieces,
  onMean,
}: {
  readonly piece: PieceView;
  /** The things that are chosen. */
  readonly own: readonly ThingView[];
  /** What they are said to be; empty: nothing is, or several things. */
  readonly role: string;
  readonly pieces: ReadonlyMap<string, PieceView>;
  readonly onMean: (role: Role, whose: readonly AnsweredThings[]) => void;
}): JSX.Element {
  const chosen = { block: piece.block, things: own.map(({ index }) => index) };
  const scopes = scopesOf(piece, own, chosen, [...pieces.values()]);
  const [scope, setScope] = useState('chosen');
  useEffect(() => setScope('chosen'), [piece.name, chosen.things.join()]);
  const whose = scopes.find(({ value }) => value === scope) ?? scopes[0]!;
  const mean = (one: Role): void => onMean(one, whose.whose);
  const guesses = guessesFor(own);
  const rest = meaningRoles.filter((one) => guesses.every((guess) => guess.role !== one));
  return (
    <div class="stack" role="group" aria-label="What is this?">
      {guesses.length > 0 && <h4>What is this?</h4>}
      {scopes.length > 1 && (
        <Choices label="Say it for" value={whose.value} choices={scopes} onChange={setScope} />
      )}
      {guesses.length > 0 && (
        <div class="guess-buttons">
          {guesses.map((guess) => (
            <button
              class={`button guess${guess.isLikely ? ' likely' : ''}`}
              onClick={() => mean(guess.role)}
            >
              <strong>{capital(roleWords[guess.role])}</strong>
              <span>{guess.words}</span>
            </button>
          ))}
        </div>
      )}
      {guesses.length > 0 && <p class="quiet">Something else:</p>}
      <div class="meaning-buttons">
        {rest.map((one) => (
          <button class="button" aria-pressed={role === one} onClick={() => mean(one)}>
            {capital(roleWords[one])}
          </button>
        ))}
      </div>
    </div>
  );
}

/** The reason is told once: others with the same reason follow from it. */
function guessesFor(own: readonly ThingView[]): readonly RoleGuess[] {
  const [first] = own;
  return (first?.guesses ?? []).filter(({ role }) =>
    own.every(({ guesses }) => guesses.some((one) => one.role === role)),
  );
}

interface Scope {
  readonly value: string;
  readonly words: string;
  readonly whose: readonly AnsweredThings[];
}

/** Whom an answer can be for: what is chosen, and all that looks like it where there is more of it. */
function scopesOf(
  piece: PieceView,
  own: readonly ThingView[],
  chosen: AnsweredThings,
  pieces: readonly PieceView[],
): Scope[] {
  const count = own.length;
  const first: Scope = {
    value: 'chosen',
    words: count === 1 ? 'this one' : `these ${count}`,
    whose: [chosen],
  };
  const alike = own[0]?.alike ?? null;
  if (alike === null || own.some((one) => one.alike !== alike)) return [first];
  const here = alikeOn(piece, alike);
  const others = pieces
    .filter((one) => one.block !== piece.block)
    .map((one) => alikeOn(one, alike));
  const everywhere = [here, ...others.filter(({ things }) => things.length > 0)];
  const all = everywhere.reduce((sum, { things }) => sum + things.length, 0);
  const onPiece: Scope = {
    value: 'piece',
    words: `all ${here.things.length} alike on this piece`,
    whose: [here],
  };
  const inSet: Scope = { value: 'set', words: `all ${all} alike in the set`, whose: everywhere };
  return [
    first,
    ...(here.things.length > count ? [onPiece] : []),
    ...(all > here.things.length ? [inSet] : []),
  ];
}

function alikeOn({ block, things }: PieceView, alike: string): AnsweredThings {
  return { block, things: things.filter((one) => one.alike === alike).map(({ index }) => index) };
}
