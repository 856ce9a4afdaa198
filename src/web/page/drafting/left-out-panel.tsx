import type { JSX } from 'preact';
import type { DraftHead, ThingView } from '../../../drafting/view.ts';
import { Select } from '../controls/fields.tsx';
import type { SentEdit } from '../server/calls.ts';
import { freePieceName } from './free-name.ts';

/** The block of the set's drawing that holds what lies in no outline. */
const block = 'LEFT-OUT';

/** What lies in no outline: it glows on the plan, and is given to a piece, becomes one, or is settled. */
export function LeftOutPanel({
  head,
  edit,
}: {
  readonly head: DraftHead;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
}): JSX.Element | null {
  const { leftOut, pieces, said } = head;
  if (leftOut.length === 0) return null;
  const isAsked = said.open?.['left-out'] !== undefined;
  return (
    <details class="pane" open={isAsked}>
      <summary>In no outline: {leftOut.length}</summary>
      <ul class="thing-list" role="list">
        {leftOut.map((thing) => (
          <li>
            <Select
              label={wordsOf(thing)}
              value=""
              choices={[
                { value: '', words: 'belongs to no piece' },
                ...(thing.isClosed
                  ? [{ value: '+', words: 'is the outline of a piece of its own' }]
                  : []),
                ...pieces.map((name) => ({ value: name, words: `belongs to ${name}` })),
              ]}
              onChange={(to) => {
                const { index } = thing;
                if (to === '') return;
                void edit(
                  to === '+'
                    ? { kind: 'begin-piece', block, outline: index, piece: freePieceName(pieces) }
                    : { kind: 'give', block, things: [index], piece: to },
                );
              }}
            />
          </li>
        ))}
      </ul>
      {isAsked && (
        <button
          class="button"
          onClick={() => void edit({ kind: 'set', values: {}, answered: ['left-out'] })}
        >
          The rest belongs to no piece
        </button>
      )}
    </details>
  );
}

function wordsOf({ text, words, at: [x, y] }: ThingView): string {
  const what = text === null ? words : `the text “${text.words}”`;
  return `${what} at ${x.toFixed(0)}, ${y.toFixed(0)}`;
}
