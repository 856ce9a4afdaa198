import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Order } from '../../../handing/order.ts';
import type { Plan } from '../../api/orders.ts';
import { addressOf } from '../address.ts';
import { Choices } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { CheckCards } from '../controls/check-cards.tsx';
import { useLoaded } from '../use-loaded.ts';
import { counted, handWords } from '../words.ts';
import { PlanPicture } from './plan-picture.tsx';

type PlanLook = 'ordered' | 'drawn' | 'slide' | 'blink';

/** What an order contains, seen from above: where the driver sits, the pads, and what changes with the hand. */
export function PlanPane({ order }: { order: Order }): JSX.Element {
  const { quantity: _, customer: __, benchNote: ___, customerNote: ____, ...seen } = order;
  const plan = useLoaded(() => calls.plan({ ...order, quantity: 1 }), [JSON.stringify(seen)]);
  const check = useLoaded(() => calls.checkSet(order.set), [order.set]);
  return (
    <section class="pane" aria-labelledby="plan-title">
      <h2 id="plan-title">
        Order {order.order}: {handWords(order.hand)}
      </h2>
      <Findings findings={[...plan.findings, ...(plan.value?.findings ?? [])]} />
      {plan.value === null && plan.isLoading && <p class="quiet">Drawing the plan …</p>}
      {plan.value !== null && <PlanLooks plan={plan.value} />}
      {plan.value !== null && <Contents plan={plan.value} quantity={order.quantity} />}
      {check.value !== null && (
        <details open={check.value.groups.length > 0}>
          <summary>Check of the set: {check.value.total}</summary>
          <CheckCards groups={check.value.groups} />
          <p>
            <a href={addressOf('sets', order.set)}>The set by itself</a>
          </p>
        </details>
      )}
      <Findings findings={check.findings} />
    </section>
  );
}

function PlanLooks({ plan }: { plan: Plan }): JSX.Element {
  const { drawn, hand } = plan;
  const [look, setLook] = useState<PlanLook>('ordered');
  const [share, setShare] = useState(50);
  const [isDrawn, setDrawn] = useState(false);
  useEffect(() => {
    if (look !== 'blink') return;
    const timer = setInterval(() => setDrawn((before) => !before), 900);
    return () => clearInterval(timer);
  }, [look]);
  if (drawn === hand) {
    return (
      <>
        <PlanPicture plan={plan} drawnShare={0} />
        <p class="quiet">This is the hand that the set is drawn for: nothing is changed over.</p>
      </>
    );
  }
  const shares = { ordered: 0, drawn: 100, slide: share, blink: isDrawn ? 100 : 0 };
  return (
    <>
      <Choices
        label="Look at"
        value={look}
        choices={[
          { value: 'ordered', words: `${hand}, as ordered` },
          { value: 'drawn', words: `${drawn}, as drawn` },
          { value: 'slide', words: 'Slide' },
          { value: 'blink', words: 'Blink' },
        ]}
        onChange={setLook}
      />
      {look === 'slide' && (
        <label class="slide">
          <span>
            Left of the line {drawn} as drawn, right of it {hand} as ordered
          </span>
          <input
            type="range"
            min={0}
            max={100}
            value={share}
            aria-valuetext={`${share} percent as drawn`}
            onInput={(event) => setShare(Number(event.currentTarget.value))}
          />
        </label>
      )}
      <PlanPicture plan={plan} drawnShare={shares[look]} />
    </>
  );
}

function Contents({ plan, quantity }: { plan: Plan; quantity: number }): JSX.Element {
  const { parts, changes, hand, drawn } = plan;
  const kinds = ['piece', 'pad', 'board', 'underlay'].flatMap((kind) => {
    const count = parts.filter((part) => part.kind === kind).length;
    return count === 0 ? [] : [counted(count, kind === 'piece' ? 'carpet part' : kind)];
  });
  return (
    <>
      <p>
        A set has {kinds.join(', ')}
        {quantity > 1 && `; the order has ${quantity} of it`}.
      </p>
      {hand !== drawn && (
        <details>
          <summary>
            {counted(changes.length, 'thing')} changed over from {drawn} to {hand}
          </summary>
          <div class="wide-table" tabIndex={0} role="region" aria-label="What is changed over">
            <table>
              <thead>
                <tr>
                  <th scope="col">What</th>
                  <th scope="col">{drawn}</th>
                  <th scope="col">{hand}</th>
                  <th scope="col">Why</th>
                </tr>
              </thead>
              <tbody>
                {changes.map(({ what, from, to, why }) => (
                  <tr>
                    <th scope="row">{what}</th>
                    <td>{from}</td>
                    <td>{to}</td>
                    <td>{why}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </details>
      )}
      <details>
        <summary>{counted(parts.length, 'part')} by name</summary>
        <ul class="names" role="list">
          {parts.map(({ name, cloth }) => (
            <li>
              {name} <span class="quiet">{cloth}</span>
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}
