import type { JSX } from 'preact';
import type { PieceView } from '../../../../drafting/view.ts';
import {
  askedNumber,
  bareName,
  namedSide,
  saysPair,
} from '../../../../pattern/first-look/side-words.ts';
import type { SentEdit } from '../../server/calls.ts';

/** What a text on a piece may say of it: each is a button, and nothing is done unasked. */
export function TextOffers({
  piece,
  words,
  names,
  onDo,
}: {
  readonly piece: PieceView;
  /** What the text says. */
  readonly words: string;
  /** The names of all pieces. */
  readonly names: readonly string[];
  readonly onDo: (edit: SentEdit) => void;
}): JSX.Element | null {
  const offers = offersOf(piece, words, names);
  if (offers.length === 0) return null;
  return (
    <div class="actions" role="group" aria-label="What the text says">
      {offers.map(({ label, edit }) => (
        <button class="button" onClick={() => onDo(edit)}>
          {label}
        </button>
      ))}
    </div>
  );
}

interface Offer {
  readonly label: string;
  readonly edit: SentEdit;
}

function offersOf({ name, said }: PieceView, words: string, names: readonly string[]): Offer[] {
  const pieces = [name];
  const say = (label: string, values: Record<string, unknown>, answered: string[]): Offer => ({
    label,
    edit: { kind: 'pieces', pieces, values, answered },
  });
  const to = nameIn(words);
  const asked = askedNumber(words);
  const side = namedSide(words).says;
  const isPair = saysPair(words) || side === 'pair';
  const count = asked === null || (asked.count === 1 && (said.quantity ?? 1) === 1) ? null : asked;
  return [
    ...(to === '' || names.includes(to)
      ? []
      : [{ label: `Call the piece ${to}`, edit: { kind: 'rename' as const, piece: name, to } }]),
    ...(isPair
      ? [say('It is a pair', { side: 'pair', drawnSide: said.drawnSide ?? 'right' }, ['side'])]
      : []),
    ...(count === null ? [] : quantities(count, say)),
    ...(side === 'left' || side === 'right'
      ? [
          say(`It is the ${side} one of a pair`, { side: 'pair', drawnSide: side }, [
            'side',
            'drawnSide',
          ]),
          say(`It is for the ${side} alone`, { side, drawnSide: null }, ['side', 'drawnSide']),
        ]
      : []),
    ...(side === 'driver' || side === 'passenger'
      ? [say(`It goes with the ${side}`, { side, drawnSide: null }, ['side', 'drawnSide'])]
      : []),
  ];
}

function quantities(
  { count, isEach }: { readonly count: number; readonly isEach: boolean },
  say: (label: string, values: Record<string, unknown>, answered: string[]) => Offer,
): Offer[] {
  const whole = say(`${count} of it${isEach ? ' for each side' : ''}`, { quantity: count }, [
    'quantity',
  ]);
  if (isEach || count % 2 === 1) return [whole];
  const half = say(
    `A pair: ${count / 2} for each side`,
    { side: 'pair', drawnSide: 'right', quantity: count / 2 === 1 ? null : count / 2 },
    ['side', 'quantity'],
  );
  return [whole, half];
}

/** The name of a piece that a text may be; empty: it is none. */
function nameIn(words: string): string {
  const bare = bareName(words).toLowerCase();
  const name = bare.replaceAll(/[^a-z0-9]+/g, '-').replaceAll(/^-+|-+$/g, '');
  return /[a-z]{2}/.test(name) && name.length <= 30 && askedNumber(words) === null ? name : '';
}
