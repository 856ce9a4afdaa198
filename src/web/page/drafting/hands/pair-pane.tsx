import type { JSX } from 'preact';
import type { OtherHalf } from '../../../../drafting/halves.ts';
import { calls } from '../../server/calls.ts';
import type { SentEdit } from '../../server/calls.ts';
import { useLoaded } from '../../use-loaded.ts';

/** Pieces whose outline is the mirror image of this one: are the two a pair? */
export function PairPane({
  set,
  version,
  piece,
  isDecided,
  onAnswer,
}: {
  readonly set: string;
  readonly version: string;
  readonly piece: string;
  /** Whether somebody has said already why it is right as it is. */
  readonly isDecided: boolean;
  readonly onAnswer: (edit: SentEdit) => void;
}): JSX.Element | null {
  const { value } = useLoaded(() => calls.draftHalves(set, piece), [set, version, piece]);
  const [half] = value?.halves ?? [];
  if (half === undefined || isDecided) return null;
  const notPair = {
    kind: 'pieces' as const,
    pieces: [piece, half.other],
    values: { decided: `${piece} and ${half.other} are no pair` },
    answered: ['side'],
  };
  return (
    <section class="pane" aria-labelledby="pair-title">
      <h3 id="pair-title">Is it a pair with {half.other}?</h3>
      <HalvesPicture half={half} />
      <p class="quiet">
        Its mirror image (dashed) lies on {half.other} to {half.off.toFixed(2)} mm everywhere. Once
        they are a pair, what is in the one is held against what is in the other.
      </p>
      <div class="actions">
        <button
          class="button accent"
          onClick={() => onAnswer({ kind: 'pair', piece, other: half.other })}
        >
          Yes: make one pair of them
        </button>
        <button class="button" onClick={() => onAnswer(notPair)}>
          No pair
        </button>
      </div>
    </section>
  );
}

function HalvesPicture({ half: { box, outline, image } }: { half: OtherHalf }): JSX.Element {
  const [minX, minY, maxX, maxY] = box;
  const around = Math.max(maxX - minX, maxY - minY) * 0.06;
  const size = `${maxX - minX + 2 * around} ${maxY - minY + 2 * around}`;
  return (
    <svg class="halves" viewBox={`${minX - around} ${-maxY - around} ${size}`} aria-hidden="true">
      <g transform="scale(1 -1)">
        <path class="hand-outline" d={outline} />
        <path class="hand-moved" d={image} />
      </g>
    </svg>
  );
}
