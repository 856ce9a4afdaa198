import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Follows } from '../../../../pattern/layers.ts';
import type { ThingView } from '../../../../drafting/view.ts';
import { Choices } from '../../controls/fields.tsx';
import { partsOf } from '../../meaning-parts.ts';
import { calls } from '../../server/calls.ts';
import { useLoaded } from '../../use-loaded.ts';
import { counted } from '../../words.ts';
import { HandPictures } from './hand-pictures.tsx';

type Answer = Follows | 'NOBODY';

const choices = [
  { value: 'NOBODY', words: 'nobody: it stays with the piece' },
  { value: 'DRIVER', words: 'the driver' },
  { value: 'PASSENGER', words: 'the passenger' },
  { value: 'LEFT', words: 'the left side' },
  { value: 'RIGHT', words: 'the right side' },
] as const;

const followsOf = (answer: Answer): Follows | null => (answer === 'NOBODY' ? null : answer);

const asked = choices.map(({ value }) => followsOf(value));

/** Whom things follow, with a picture of both hands that shows each answer before it is given. */
export function GoesWith({
  set,
  version,
  piece,
  things,
  othersCount,
  onChoose,
}: {
  readonly set: string;
  readonly version: string;
  readonly piece: string;
  /** Things that can follow somebody, each of which means something. */
  readonly things: readonly ThingView[];
  /** How many are chosen besides them that can follow nobody. */
  readonly othersCount: number;
  readonly onChoose: (follows: Follows | null) => void;
}): JSX.Element {
  const own = things.map(({ index }) => index);
  const said = things.map(({ means }) => means ?? '');
  const answer = commonAnswer(said);
  const [pointed, setPointed] = useState<Answer | null>(null);
  useEffect(() => setPointed(null), [said.join(), piece, own.join()]);
  const { value } = useLoaded(
    () => calls.draftHands(set, { piece, things: own, follows: asked }),
    [set, version, piece, own.join()],
  );
  const shown = pointed ?? answer;
  const both =
    shown === null ? undefined : value?.hands.find((one) => one.follows === followsOf(shown));
  return (
    <div class="goes-with">
      <Choices<Answer>
        label={things.length === 1 ? 'It goes with' : `All ${things.length} go with`}
        value={answer ?? ''}
        choices={choices}
        onChange={(to) => onChoose(followsOf(to))}
        onPoint={setPointed}
      />
      {answer === null && <p class="quiet">They go with different ones now.</p>}
      {othersCount > 0 && (
        <p class="quiet">
          {counted(othersCount, 'thing')} of what is chosen can follow nobody, or nothing says yet
          what it is: that stays as it is.
        </p>
      )}
      {both !== undefined && <HandPictures both={both} />}
    </div>
  );
}

/** What all of some meanings go with. null: they differ. */
function commonAnswer(means: readonly string[]): Answer | null {
  const [first = '', ...others] = means.map((one) => partsOf(one).follow);
  if (others.some((one) => one !== first)) return null;
  return first === '' ? 'NOBODY' : first;
}
