import type { ComponentChildren, JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { PieceView } from '../../../../drafting/view.ts';
import { Tick } from '../../controls/fields.tsx';
import type { SentEdit } from '../../server/calls.ts';
import type { Chosen } from '../chosen.ts';
import { chosenWith, nothingChosen } from '../chosen.ts';
import { EdgePanel } from './edge-panel.tsx';
import { EdgeSample } from './edge-lines.tsx';
import { stretchName, stretchWords } from './edge-words.ts';
import { RestOfPiece } from './rest-of-edge.tsx';
import type { ShownStretch } from './shown-stretches.ts';
import type { EdgesShown } from './use-edges.ts';

/** What happens along the outline of a piece: all stretches in order round it, and the rest. */
export function EdgeSection({
  piece,
  edges,
  edit,
  onPass,
  onChoose,
  onSew,
}: {
  readonly piece: PieceView;
  readonly edges: EdgesShown;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
  /** Goes on though nobody has said what hides the edge; null: nothing waits for that. */
  readonly onPass: (() => void) | null;
  readonly onChoose: (chosen: Chosen) => void;
  /** What is chosen is to be sewn to another edge. */
  readonly onSew: () => void;
}): JSX.Element {
  const { stretches, chosen } = edges;
  return (
    <section class="pane edge-section" aria-labelledby="edges-title">
      <h3 id="edges-title">Edges</h3>
      {stretches.length === 0 && <p class="quiet">Its outline cannot be read yet.</p>}
      {stretches.length > 0 && (
        <StretchList stretches={stretches} chosen={chosen} onChoose={onChoose}>
          <EdgePanel
            piece={piece}
            edges={edges}
            edit={edit}
            onPass={onPass}
            onSew={onSew}
            onDone={() => onChoose(nothingChosen)}
          />
        </StretchList>
      )}
      {stretches.length > 0 && <RestOfPiece piece={piece} edit={edit} />}
    </section>
  );
}

/** All stretches in order round the piece; chosen here as in the picture. `children` stand below the last that is. */
export function StretchList({
  stretches,
  chosen,
  onChoose,
  children,
}: {
  readonly stretches: readonly ShownStretch[];
  readonly chosen: readonly number[];
  readonly onChoose: (chosen: Chosen) => void;
  readonly children?: ComponentChildren;
}): JSX.Element {
  const [isSeveral, setSeveral] = useState(false);
  const before: Chosen = chosen.length === 0 ? nothingChosen : { kind: 'edges', edges: chosen };
  const undecided = stretches.flatMap(({ kind }, i) => (kind === null ? [i] : []));
  const last = Math.max(...chosen);
  const choose = (list: readonly number[]): void => onChoose({ kind: 'edges', edges: list });
  return (
    <>
      <ul class="thing-list" role="list" aria-label="Stretches round the piece">
        {stretches.map((stretch, index) => (
          <li>
            <button
              class={`thing-line edge-entry${stretch.kind === null ? ' unsaid' : ''}`}
              aria-pressed={chosen.includes(index)}
              onClick={(event) =>
                onChoose(chosenWith(before, { kind: 'edges', index }, isSeveral || event.shiftKey))
              }
            >
              <EdgeSample kind={stretch.kind} />
              <span class="edge-name">{stretchName(stretch, index)}</span>
              <span class="edge-length">{stretch.length.toFixed(0)} mm</span>
              <span class="quiet edge-state">{stretchWords(stretch)}</span>
            </button>
            {index === last && children}
          </li>
        ))}
      </ul>
      <div class="actions">
        <Tick label="Choose several" checked={isSeveral} onChange={setSeveral} />
        <button class="button" onClick={() => choose(stretches.map((_, i) => i))}>
          All
        </button>
        {undecided.length > 0 && (
          <button class="button" onClick={() => choose(undecided)}>
            All not said
          </button>
        )}
      </div>
    </>
  );
}
