import type { JSX } from 'preact';
import { decimal } from '../../../base/numbers.ts';
import type { Question } from '../../../drafting/questions.ts';
import type { Shop } from '../../api/shop.ts';
import type { SentEdit } from '../server/calls.ts';
import { Choices, Select } from '../controls/fields.tsx';
import { materialChoices, pileWays } from './piece-choices.ts';
import { fronts } from './fronts.ts';
import { DecidedAnswer } from './hands/decided-answer.tsx';

/** Questions about what lies on one side alone: whom it follows is asked where the thing is chosen. */
const aboutSides: ReadonlySet<string> = new Set(['one-sided', 'pad-one-sided', 'suffix-elsewhere']);

/** Questions about pieces of one shape, each of which may be wanted. */
const aboutShapes: ReadonlySet<string> = new Set(['drawn-twice', 'besides-pair']);

/** What answers a question of a rule right at its card. null: nothing does. */
export function RuleAnswer({
  question: { rule, piece, gap },
  pieces,
  shop,
  onAnswer,
}: {
  readonly question: Question;
  /** The names of all pieces of the set. */
  readonly pieces: readonly string[];
  readonly shop: Shop | null;
  readonly onAnswer: (edit: SentEdit) => void;
}): JSX.Element | null {
  if (rule === 'no-pile') {
    return (
      <Choices
        label="As it is drawn, the front of the vehicle is"
        value=""
        choices={fronts}
        onChange={(front) =>
          onAnswer({ kind: 'front', pieces: piece === null ? [...pieces] : [piece], front })
        }
      />
    );
  }
  if (rule === 'no-binding') {
    return (
      <Choices
        label="The tape of bound edges"
        value=""
        choices={(shop?.finishes ?? []).map(({ name, title }) => ({ value: name, words: title }))}
        onChange={(binding) => onAnswer({ kind: 'set', values: { binding }, answered: [] })}
      />
    );
  }
  if (gap !== null) {
    const { block, from, to, size } = gap;
    return (
      <div class="actions">
        <button
          class="button accent"
          onClick={() => onAnswer({ kind: 'close-gap', block, from: [...from], to: [...to] })}
        >
          Close it with a straight line, {decimal(size, 1)} mm
        </button>
      </div>
    );
  }
  if (piece === null) return null;
  if (rule === 'pile-direction') {
    return (
      <Choices
        label="On this piece it leans"
        value=""
        choices={pileWays}
        onChange={(pile) =>
          onAnswer({ kind: 'pieces', pieces: [piece], values: { pile }, answered: [] })
        }
      />
    );
  }
  if (rule === 'pad-material') {
    return (
      <Select
        label="The heel pad is cut from"
        value=""
        choices={[{ value: '', words: 'not said' }, ...materialChoices('', shop, true)]}
        onChange={(pad) => {
          if (pad !== '')
            onAnswer({ kind: 'pieces', pieces: [piece], values: { pad }, answered: [] });
        }}
      />
    );
  }
  const decide = (decided: string): void =>
    onAnswer({ kind: 'pieces', pieces: [piece], values: { decided }, answered: [] });
  if (aboutSides.has(rule)) {
    return <DecidedAnswer words="It is right so in both hands" onAnswer={decide} />;
  }
  if (rule === 'axis-off-middle') {
    return (
      <div class="actions">
        <button
          class="button accent"
          onClick={() => onAnswer({ kind: 'axis', piece, line: 'middle' })}
        >
          Move it to the middle
        </button>
      </div>
    );
  }
  if (rule === 'no-axis') {
    return (
      <div class="actions">
        <button
          class="button accent"
          onClick={() => onAnswer({ kind: 'axis', piece, line: 'middle' })}
        >
          Draw it in the middle of the outline
        </button>
      </div>
    );
  }
  if (aboutShapes.has(rule)) {
    return (
      <>
        <div class="actions">
          <button class="button" onClick={() => onAnswer({ kind: 'drop-piece', piece })}>
            It is one too many: drop this one
          </button>
        </div>
        <DecidedAnswer words="Both are wanted" onAnswer={decide} />
      </>
    );
  }
  return null;
}
