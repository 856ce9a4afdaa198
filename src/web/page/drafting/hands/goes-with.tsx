import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Choices } from '../../controls/fields.tsx';
import type { MeaningParts } from '../../meaning-parts.ts';
import { meaningFrom, partsOf } from '../../meaning-parts.ts';
import { calls } from '../../server/calls.ts';
import { useLoaded } from '../../use-loaded.ts';
import { HandPictures } from './hand-pictures.tsx';

const follows = [
  { value: '', words: 'nobody: it stays with the piece' },
  { value: 'DRIVER', words: 'the driver' },
  { value: 'PASSENGER', words: 'the passenger' },
  { value: 'LEFT', words: 'the left side' },
  { value: 'RIGHT', words: 'the right side' },
] as const;

/** Whom things follow, with a picture of both hands that shows each answer before it is given. */
export function GoesWith({
  set,
  version,
  piece,
  things,
  means,
  onChoose,
}: {
  readonly set: string;
  readonly version: string;
  readonly piece: string;
  readonly things: readonly number[];
  readonly means: string;
  readonly onChoose: (means: string) => void;
}): JSX.Element {
  const parts = partsOf(means);
  const meaningFor = (follow: MeaningParts['follow']): string => meaningFrom({ ...parts, follow });
  const [pointed, setPointed] = useState<MeaningParts['follow'] | null>(null);
  useEffect(() => setPointed(null), [means, piece, things.join()]);
  const asked = {
    piece,
    things: [...things],
    meanings: follows.map(({ value }) => meaningFor(value)),
  };
  const { value } = useLoaded(
    () => calls.draftHands(set, asked),
    [set, version, piece, things.join(), means],
  );
  const shown = meaningFor(pointed ?? parts.follow);
  const both = value?.hands.find((one) => one.means === shown);
  return (
    <div class="goes-with">
      <Choices
        label="It goes with"
        value={parts.follow}
        choices={follows}
        onChange={(follow) => onChoose(meaningFor(follow))}
        onPoint={setPointed}
      />
      {both !== undefined && <HandPictures both={both} />}
    </div>
  );
}
