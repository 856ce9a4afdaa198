import type { ComponentChildren, JSX } from 'preact';
import { useId, useState } from 'preact/hooks';
import type { Finding } from '../../../../base/findings.ts';
import type { DrawingSight } from '../../../api/sight.ts';
import { addressOf } from '../../address.ts';
import { Choices, TextField } from '../../controls/fields.tsx';
import { Findings } from '../../controls/findings.tsx';
import { calls } from '../../server/calls.ts';
import { findingsToShow } from '../../server/client.ts';
import { capital, counted, handWords } from '../../words.ts';
import type { Said } from './said.ts';
import { isUnsaid, wishOf } from './said.ts';
import type { TakenDrawing } from './taken-drawing.ts';
import { letGoOfDrawing } from './taken-drawing.ts';

const plain = /^[a-z0-9]+(-[a-z0-9]+)*$/;

/**
 * The tray: what is asked about the drawing (`children`), then what the set is called and which hand is
 * drawn. The button that begins it is always seen below.
 */
export function BeginForm({
  drawing,
  sight,
  said,
  isLoading,
  children,
}: {
  readonly children: ComponentChildren;
  readonly drawing: TakenDrawing;
  readonly sight: DrawingSight;
  readonly said: Said;
  readonly isLoading: boolean;
}): JSX.Element {
  const id = useId();
  const [name, setName] = useState(sight.proposed.name);
  const [title, setTitle] = useState<string | null>(null);
  const [hand, setHand] = useState<'' | 'RHD' | 'LHD'>('');
  const [isBusy, setBusy] = useState(false);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const begin = async (): Promise<void> => {
    setBusy(true);
    setFindings([]);
    try {
      await calls.beginSet(
        name,
        {
          ...wishOf(drawing.name, said),
          forCustomer: said.drawnBy === '' ? [] : [...said.forCustomer],
          ...(title === null || title === '' ? {} : { title }),
          ...(hand === '' ? {} : { drawn: hand }),
        },
        drawing.bytes,
      );
      letGoOfDrawing();
      location.hash = addressOf('sets', name);
    } catch (error) {
      setFindings(findingsToShow(error));
      setBusy(false);
    }
  };
  const why = whyNot(sight, said);
  const unsaid = sight.layers.filter(isUnsaid).length;
  const inDrawing = sight.proposed.hand;
  return (
    <div class="sight-tray">
      <div class="tray-asks">
        {children}
        <form
          id={id}
          class="stack begin-form"
          aria-labelledby="begin-title"
          onSubmit={(event) => {
            event.preventDefault();
            void begin();
          }}
        >
          <h2 id="begin-title">Begin the set</h2>
          <TextField
            label="Name of the set"
            value={name}
            hint={`Its folder will be patterns/${name}.`}
            fits={(text) => plain.test(text) && text.length <= 40}
            wrongWords="Small letters, digits and single hyphens, at most 40."
            onChange={(other) => {
              setName(other);
              // What was said of the name before says nothing of this one.
              setFindings([]);
            }}
          />
          <TextField
            label="Title on papers"
            value={title ?? sight.proposed.title ?? titleOfName(name)}
            fits={(text) => text.length <= 100}
            wrongWords="At most 100 letters."
            onChange={setTitle}
          />
          <Choices
            label="Which hand is drawn?"
            value={hand}
            choices={[
              {
                value: '',
                words:
                  inDrawing === null ? 'Ask me in the set' : `${inDrawing}, as the drawing says`,
              },
              { value: 'RHD', words: handWords('RHD') },
              { value: 'LHD', words: handWords('LHD') },
            ]}
            onChange={setHand}
          />
        </form>
      </div>
      <div role="alert">
        <Findings findings={findings} label="Not begun" />
      </div>
      <div class="begin-now">
        <button
          class="button accent large"
          form={id}
          disabled={why !== null || isBusy || isLoading}
        >
          {isBusy ? 'Beginning …' : 'Begin the set'}
        </button>
        <p class="quiet" role="status">
          {why ??
            (unsaid === 0
              ? `${counted(sight.pieces.length, 'piece')}; what is still asked, the set asks.`
              : `${counted(sight.pieces.length, 'piece')}; ${counted(unsaid, 'layer')} not said yet: the set asks again.`)}
        </p>
      </div>
    </div>
  );
}

function titleOfName(name: string): string {
  return capital(name.replaceAll('-', ' '));
}

/** Why no set can be begun yet, in words; null: it can. */
function whyNot({ units, findings, pieces }: DrawingSight, said: Said): string | null {
  if (units.asked === 'must' && said.units === null) return 'First say how long it is.';
  if (pieces.length === 0) return 'First there must be a piece: see what stops it.';
  const errors = findings.filter(({ severity }) => severity === 'error').length;
  return errors === 0 ? null : `First mend what stops it: ${counted(errors, 'error')}.`;
}
