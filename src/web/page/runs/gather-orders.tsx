import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Dialog } from '../controls/dialog.tsx';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { ServerRefusal, findingsToShow } from '../server/client.ts';
import { withOrWithout } from '../with-or-without.ts';
import { counted, fileName } from '../words.ts';
import { freeRunName, lastCutter, untitled } from './new-run.ts';
import { RunCutter, RunTitle } from './new-run-fields.tsx';
import type { UncutOrder } from './uncut-orders.ts';
import { uncutOrders } from './uncut-orders.ts';

/** The dialog that makes a run of orders that other runs have and that are not cut yet. */
export function GatherOrders({
  shop,
  onClose,
}: {
  readonly shop: Shop;
  readonly onClose: () => void;
}): JSX.Element {
  const [title, setTitle] = useState('');
  const [cutter, setCutter] = useState(lastCutter(shop));
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [failure, setFailure] = useState<unknown>(null);
  const { orders, kept } = uncutOrders(shop.runs);
  const name = freeRunName(fileName(title), shop);
  const make = async (): Promise<void> => {
    try {
      if (title.trim() === '') throw new ServerRefusal([untitled]);
      const taken = orders
        .filter((one) => chosen.has(keyOf(one)))
        .map(({ run, order }) => ({ run, order: order.order }));
      await calls.gather({ title, name, cutter, orders: taken });
      location.hash = addressOf('run', name);
    } catch (error) {
      setFailure(error);
    }
  };
  const isReady = chosen.size > 0;
  return (
    <Dialog title="New run of orders that are not cut" onClose={onClose}>
      <form
        class="stack"
        onSubmit={(event) => {
          event.preventDefault();
          if (isReady) void make();
        }}
      >
        <RunTitle title={title} name={name} onChange={setTitle} />
        <RunCutter shop={shop} cutter={cutter} onChange={setCutter} />
        <p class="quiet">
          The orders leave their runs, and rolls in colours that only they want go with them. What
          is laid of them there is taken off the rolls, and files that were made of those runs must
          be made anew. A run that has no order left is put away; its file stays as it was.
        </p>
        <fieldset class="ticks gathered">
          <legend>Orders that are not cut</legend>
          {orders.map((one) => (
            <label class="tick">
              <input
                type="checkbox"
                checked={chosen.has(keyOf(one))}
                onChange={(event) =>
                  setChosen(withOrWithout(chosen, keyOf(one), event.currentTarget.checked))
                }
              />
              <span>
                {one.order.order} {one.order.hand}, {counted(one.order.quantity, 'set')} of{' '}
                {one.order.set}
                {one.order.due !== undefined && `, due ${one.order.due}`}
                {one.order.customer !== undefined && `, ${one.order.customer}`}
                <span class="quiet"> from {one.title}</span>
              </span>
            </label>
          ))}
        </fieldset>
        {orders.length === 0 && <p>Every order is cut, or its cutting has begun.</p>}
        {kept.length > 0 && (
          <p class="quiet">
            Orders of {kept.join(', ')} are kept in a CSV, and are moved there alone.
          </p>
        )}
        {failure !== null && <Findings findings={findingsToShow(failure)} />}
        <div class="actions">
          <button class="button accent" type="submit" disabled={!isReady}>
            Cut {counted(chosen.size, 'order')} together
          </button>
          <button class="button" type="button" onClick={onClose}>
            Cancel
          </button>
        </div>
      </form>
    </Dialog>
  );
}

/** Tells an order from those of other runs. */
function keyOf({ run, order }: UncutOrder): string {
  return `${run}\n${order.order}`;
}
