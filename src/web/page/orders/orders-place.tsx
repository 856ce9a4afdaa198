import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { titleBound } from '../../../base/text-bounds.ts';
import type { RunContent } from '../../../run/run-file.ts';
import type { SentRunFile } from '../../api/run-file.ts';
import type { Order } from '../../../handing/order.ts';
import type { SetCard, Shop } from '../../api/shop.ts';
import { Select, Tick, TextField } from '../controls/fields.tsx';
import type { OpenRunFile } from '../use-run-file.ts';
import { OrderForm } from './order-form.tsx';
import { OrderList } from './order-list.tsx';
import { freshOrder, withOrder, withoutOrder } from './orders.ts';
import { PlanPane } from './plan-pane.tsx';
import type { SetChange } from './set-change.ts';
import { changeSet } from './set-change.ts';
import { SharedRolls } from './shared-rolls.tsx';

/** The orders of a run, and the plan of the one that is looked at. */
export function OrdersPlace({
  run,
  file,
  shop,
}: {
  run: OpenRunFile;
  file: SentRunFile;
  shop: Shop;
}): JSX.Element {
  const { content, ordersFile } = file;
  const { orders } = content;
  const [opened, setOpened] = useState(0);
  const [setChange, setSetChange] = useState<SetChange | null>(null);
  const at = Math.min(opened, orders.length - 1);
  const shown = orders[at]!;
  const setAt = (next: number): void => {
    setOpened(next);
    setSetChange(null);
  };
  const takeSet = (set: SetCard): void => {
    const next = changeSet(shown, set, shop, setChange);
    setSetChange(next);
    run.change(withOrder(content, at, next.after));
  };
  const takeOrder = (next: Order): void => {
    run.change(withOrder(content, at, next));
  };
  const putBack = (): void => {
    setSetChange(null);
    takeOrder({ ...setChange!.before, order: shown.order });
  };
  const add = (): void => {
    run.change({ ...content, orders: [...orders, freshOrder(content)] });
    setAt(orders.length);
  };
  const remove = (): void => {
    run.change(withoutOrder(content, at));
    setAt(Math.max(0, at - 1));
  };
  const form = (
    // Orders that are kept elsewhere are shown and not changed here.
    <fieldset class="plain-set" disabled={ordersFile !== null} aria-label={`Order ${shown.order}`}>
      <OrderForm
        order={shown}
        shop={shop}
        taken={orders.filter((one) => one !== shown).map((one) => one.order)}
        setChange={setChange}
        onSet={takeSet}
        onPutBack={putBack}
        onChange={takeOrder}
        onRemove={orders.length === 1 || ordersFile !== null ? null : remove}
      />
    </fieldset>
  );
  return (
    <>
      <div class="two-panes">
        <section class="pane" aria-labelledby="orders-title">
          <h2 id="orders-title">Orders</h2>
          {ordersFile !== null && <KeptElsewhere file={ordersFile} onReload={run.reload} />}
          <OrderList orders={orders} shop={shop} at={at} onOpen={setAt} form={form} />
          {ordersFile === null && (
            <button class="button" onClick={add}>
              Add an order
            </button>
          )}
          <RunFacts content={content} shop={shop} onChange={run.change} />
        </section>
        <PlanPane order={shown} />
      </div>
      {orders.length > 1 && (
        <SharedRolls
          run={run.name}
          version={file.version}
          onOpen={(name) => setAt(orders.findIndex(({ order }) => order === name))}
        />
      )}
    </>
  );
}

/** Says that the orders are kept in a CSV, which the page leaves alone. */
function KeptElsewhere({ file, onReload }: { file: string; onReload: () => void }): JSX.Element {
  return (
    <div class="notice stack">
      <p>
        <strong>These orders are kept in {file}.</strong> Change them there; here they are only
        shown. Rolls and lays of the run are saved as always.
      </p>
      <div>
        <button class="button" onClick={onReload}>
          Read {file} again
        </button>
      </div>
    </div>
  );
}

/** What holds for the whole run. */
function RunFacts({
  content,
  shop,
  onChange,
}: {
  content: RunContent;
  shop: Shop;
  onChange: (content: RunContent) => void;
}): JSX.Element {
  const labels = [
    { value: '', words: 'Ten on A4' },
    ...shop.labels.map((name) => ({ value: name, words: name })),
  ];
  return (
    <details class="run-facts">
      <summary>Title, cutter, papers</summary>
      <div class="stack">
        <TextField
          label="Title"
          value={content.title}
          bound={titleBound}
          fits={(text) => text !== ''}
          wrongWords="A run has a title."
          onChange={(title) => onChange({ ...content, title })}
        />
        <Select
          label="Cutter"
          value={content.cutter}
          choices={shop.cutters.map(({ name, title }) => ({ value: name, words: title }))}
          onChange={(cutter) => onChange({ ...content, cutter })}
        />
        <Select
          label="Sheet of labels"
          value={content.labels ?? ''}
          choices={labels}
          onChange={(name) => {
            const { labels: _, ...others } = content;
            onChange(name === '' ? others : { ...content, labels: name });
          }}
        />
        <Tick
          label="Papers say inches beside mm"
          checked={content.inches}
          onChange={(inches) => onChange({ ...content, inches })}
        />
      </div>
    </details>
  );
}
