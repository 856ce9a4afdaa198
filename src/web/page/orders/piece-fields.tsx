import type { JSX } from 'preact';
import type { Order } from '../../../handing/order.ts';
import { Choices, Tick } from '../controls/fields.tsx';
import type { OrderFormProps } from './order-form-props.ts';
import { selectionOf, wantedPieces } from './pieces.ts';

/** Which pieces of the set are wanted: all, those of a group, or some by their names. */
export function PieceFields({ order, set, onChange }: OrderFormProps): JSX.Element {
  const wanted = wantedPieces(order, set);
  const take = (pieces: readonly string[]): void => {
    const { alone: _, without: __, ...others } = order;
    onChange({ ...others, ...selectionOf(pieces, set) });
  };
  if (wanted === null) return <PartsNamed order={order} onAll={() => take(set.pieces)} />;
  const isAll = wanted.length === set.pieces.length;
  return (
    <details class="order-more">
      <summary>
        Pieces: {isAll ? `all ${set.pieces.length}` : `${wanted.length} of ${set.pieces.length}`}
      </summary>
      <div class="stack">
        <GroupChoice set={set} wanted={wanted} onChange={take} />
        <fieldset class="ticks">
          <legend>Piece by piece</legend>
          {set.pieces.map((piece) => {
            const isIn = wanted.includes(piece);
            return (
              <Tick
                label={piece}
                checked={isIn}
                // An order has at least one piece.
                disabled={isIn && wanted.length === 1}
                onChange={(on) =>
                  take(set.pieces.filter((one) => (one === piece ? on : wanted.includes(one))))
                }
              />
            );
          })}
        </fieldset>
      </div>
    </details>
  );
}

function GroupChoice({
  set,
  wanted,
  onChange,
}: Pick<OrderFormProps, 'set'> & {
  wanted: readonly string[];
  onChange: (pieces: readonly string[]) => void;
}): JSX.Element | null {
  const whole = new Map([['all', set.pieces], ...Object.entries(set.groups)]);
  if (whole.size === 1) return null;
  const isThis = (pieces: readonly string[]): boolean =>
    pieces.length === wanted.length && pieces.every((piece) => wanted.includes(piece));
  const now = [...whole].find(([, pieces]) => isThis(pieces))?.[0] ?? '';
  return (
    <Choices
      label="All, or a group"
      value={now}
      choices={[...whole.keys()].map((name) => ({
        value: name,
        words: name === 'all' ? 'All' : `Only ${name}`,
      }))}
      onChange={(name) => onChange(whole.get(name)!)}
    />
  );
}

/** An order that names one side of a pair or a pad says more than ticks can show. */
function PartsNamed({ order, onAll }: { order: Order; onAll: () => void }): JSX.Element {
  const { alone, without } = order;
  return (
    <section class="stack" aria-label="Pieces">
      <p>
        {alone !== undefined && `Only ${alone.join(', ')}. `}
        {without !== undefined && `Without ${without.join(', ')}. `}
        <span class="quiet">Parts of pieces are named, so there are no ticks to show it.</span>
      </p>
      <div>
        <button class="button" onClick={onAll}>
          Want all pieces again
        </button>
      </div>
    </section>
  );
}
