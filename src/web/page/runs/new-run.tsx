import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { RunCard, Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Dialog } from '../controls/dialog.tsx';
import { Select } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { firstOrder } from '../orders/orders.ts';
import type { SavedRun } from '../server/calls.ts';
import { calls } from '../server/calls.ts';
import { ServerRefusal, findingsToShow } from '../server/client.ts';
import { fileName } from '../words.ts';
import { freeRunName, lastCutter, untitled } from './new-run.ts';
import { RunCutter, RunTitle } from './new-run-fields.tsx';

/** The dialog that makes a new run: one with a single order, or a copy of another run. */
export function NewRun({
  shop,
  from,
  onClose,
}: {
  shop: Shop;
  from: RunCard | null;
  onClose: () => void;
}): JSX.Element {
  const [title, setTitle] = useState(from === null ? '' : `${from.title}, copy`);
  const [cutter, setCutter] = useState(lastCutter(shop));
  const [set, setSet] = useState(shop.sets[0]?.name ?? '');
  const [failure, setFailure] = useState<unknown>(null);
  const name = freeRunName(fileName(title), shop);
  const make = async (): Promise<void> => {
    try {
      if (title === '') throw new ServerRefusal([untitled]);
      const content =
        from === null
          ? firstContent(title, cutter, set, shop)
          : { ...(await calls.runFile(from.name)).content, title };
      await calls.saveRunFile(name, { content, version: null });
      location.hash = addressOf('run', name);
    } catch (error) {
      setFailure(error);
    }
  };
  return (
    <Dialog title={from === null ? 'New run' : `Copy of ${from.title}`} onClose={onClose}>
      <form
        class="stack"
        onSubmit={(event) => {
          event.preventDefault();
          void make();
        }}
      >
        <RunTitle title={title} name={name} onChange={setTitle} />
        {from === null && (
          <>
            <Select
              label="Set of the first order"
              value={set}
              choices={shop.sets.map((one) => ({ value: one.name, words: one.title }))}
              onChange={setSet}
            />
            <RunCutter shop={shop} cutter={cutter} onChange={setCutter} />
          </>
        )}
        {failure !== null && <Findings findings={findingsToShow(failure)} />}
        <div class="actions">
          <button class="button accent" type="submit" disabled={set === ''}>
            {from === null ? 'Begin' : 'Copy'}
          </button>
          <button class="button" type="button" onClick={onClose}>
            Cancel
          </button>
        </div>
      </form>
    </Dialog>
  );
}

function firstContent(title: string, cutter: string, set: string, shop: Shop): SavedRun['content'] {
  const card = shop.sets.find(({ name }) => name === set)!;
  return { title, cutter, orders: [firstOrder(card)] };
}
