import type { JSX } from 'preact';
import type { BothHands, HandPicture } from '../../../../drafting/both-hands.ts';

/** RHD and LHD side by side: what goes elsewhere is drawn thick and dashed, what is asked about filled. */
export function HandPictures({ both }: { readonly both: BothHands }): JSX.Element {
  return (
    <div class="hand-pictures">
      {both.pictures.map((picture) => (
        <figure>
          <Picture picture={picture} box={both.box} />
          <figcaption>
            <strong>{picture.hand}</strong>
            {picture.isDrawn && ', as drawn'}
            <span class="quiet">{wordsOf(picture, both)}</span>
          </figcaption>
        </figure>
      ))}
    </div>
  );
}

function wordsOf({ where, moved, chosen, outline }: HandPicture, { pictures }: BothHands): string {
  if (outline === '') return 'It is not cut for this hand.';
  const isAsked = pictures.some((one) => one.chosen.length > 0);
  if (isAsked) return chosen.length === 0 ? 'It is not there.' : `${where.join(' and ')}.`;
  if (moved.length === 0)
    return pictures.some((one) => one.moved.length > 0) ? 'Gone here.' : 'The same for both.';
  return `Dashed: ${moved.length} that ${moved.length === 1 ? 'goes' : 'go'} with the hand.`;
}

function Picture({
  picture: { outline, lines, moved, chosen },
  box: [minX, minY, maxX, maxY],
}: {
  readonly picture: HandPicture;
  readonly box: BothHands['box'];
}): JSX.Element {
  const around = Math.max(maxX - minX, maxY - minY) * 0.06;
  const [width, height] = [maxX - minX + 2 * around, maxY - minY + 2 * around];
  return (
    <svg viewBox={`${minX - around} ${-maxY - around} ${width} ${height}`} aria-hidden="true">
      <g transform="scale(1 -1)">
        <path class="hand-centre" d={`M0 ${minY - around}L0 ${maxY + around}`} />
        <path class="hand-outline" d={outline} />
        <path class="hand-lines" d={lines} />
        {moved.map((d) => (
          <path class="hand-moved" d={d} />
        ))}
        {chosen.map((d) => (
          <path class="hand-chosen" d={d} />
        ))}
      </g>
    </svg>
  );
}
