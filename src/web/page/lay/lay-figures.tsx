import type { JSX } from 'preact';
import type { PicturedLay, PicturedRoll } from '../../api/pictured.ts';
import { metres, percent } from '../words.ts';

/** How long the lay of a roll is, how much of it is used, and how many parts lie there. */
export function LayFigures({
  roll,
  lay,
  parts,
  pinned,
  isOneOfMany,
}: {
  readonly roll: PicturedRoll;
  readonly lay: PicturedLay | null;
  /** How many parts the cloth has. */
  readonly parts: number;
  readonly pinned: number;
  /** Whether the cloth has other rolls. */
  readonly isOneOfMany: boolean;
}): JSX.Element {
  const placed = lay?.placements.length ?? 0;
  const isOver = lay !== null && roll.length !== null && lay.length > roll.length;
  return (
    <dl class="lay-figures">
      <div>
        <dt>Length</dt>
        <dd class={isOver ? 'figure wrong' : 'figure'} data-test="length">
          {lay === null ? '–' : metres(lay.length)}
        </dd>
        {roll.length !== null && (
          <dd class="quiet">
            of {metres(roll.length)}
            {isOver && <strong> Too short!</strong>}
          </dd>
        )}
      </div>
      <div>
        <dt>Used</dt>
        <dd class="figure" data-test="density" title="of the usable width">
          {lay === null ? '–' : percent(lay.density)}
        </dd>
      </div>
      <div>
        <dt>Parts</dt>
        <dd class="figure">{placed}</dd>
        <dd class="quiet">
          of {parts}
          {isOneOfMany && ' on all rolls'}
          {pinned > 0 && `, ${pinned} pinned`}
        </dd>
      </div>
    </dl>
  );
}
