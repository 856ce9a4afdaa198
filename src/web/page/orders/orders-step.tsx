import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Order } from '../../../handing/order.ts';
import type { RunContent } from '../../../run/run-file.ts';
import type { SentRunFile } from '../../api/run-file.ts';
import type { Shop } from '../../api/shop.ts';
import { Select, Tick, TextField } from '../controls/fields.tsx';
import type { OpenRunFile } from '../use-run-file.ts';
import { OrderForm } from './order-form.tsx';
import { nextOrderName, withOrder, withoutOrder } from './orders.ts';
import { PlanPane } from './plan-pane.tsx';

/** The orders of a run, and the plan of the one that is looked at. */
export function OrdersStep({
  run,
  file,
  shop,
}: {
  run: OpenRunFile;
  file: SentRunFile;
  shop: Shop;
}): JSX.Element {
  const { content } = file;
  const [at, setAt] = useState(0);
  const shown = content.orders[Math.min(at, content.orders.length - 1)];
  const add = (order: Order): void => {
    run.change({ ...content, orders: [...content.orders, order] });
    setAt(content.orders.length);
  };
  const fresh = (): Order => ({ ...content.orders.at(-1)!, order: nextOrderName(content) });
  return (
    <div class="two-panes">
      <section class="pane" aria-labelledby="orders-title">
        <h2 id="orders-title">Orders</h2>
        <ol class="orders" role="list">
          {content.orders.map((order, i) => (
            <li key={i} class={order === shown ? 'card shown' : 'card'}>
              {order === shown ? (
                <OrderForm
                  order={order}
                  shop={shop}
                  taken={content.orders.filter((one) => one !== order).map((one) => one.order)}
                  onChange={(next) => run.change(withOrder(content, i, next))}
                  onRemove={
                    content.orders.length === 1
                      ? null
                      : () => {
                          run.change(withoutOrder(content, i));
                          setAt(Math.max(0, i - 1));
                        }
                  }
                />
              ) : (
                <OrderLine order={order} shop={shop} onOpen={() => setAt(i)} />
              )}
            </li>
          ))}
        </ol>
        <button class="button" onClick={() => add(fresh())}>
          Add an order
        </button>
        <RunFacts content={content} shop={shop} onChange={run.change} />
      </section>
      {shown !== undefined && <PlanPane order={shown} />}
    </div>
  );
}

function OrderLine({
  order,
  shop,
  onOpen,
}: {
  order: Order;
  shop: Shop;
  onOpen: () => void;
}): JSX.Element {
  const title = shop.sets.find(({ name }) => name === order.set)?.title ?? order.set;
  const pads = { driver: 'pad for the driver', both: 'pads on both sides', none: 'no pads' };
  return (
    <button class="order-line" onClick={onOpen}>
      <strong>
        {order.order}, {order.hand}
      </strong>
      <span>
        {order.quantity} × {title}, {pads[order.heelPads]}
        {order.binding === undefined ? '' : `, ${order.binding}`}
      </span>
    </button>
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
