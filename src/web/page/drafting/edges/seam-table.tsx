import type { JSX } from 'preact';
import type { SeamFitView } from '../../../../drafting/seam-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import type { Chosen } from '../chosen.ts';
import { Thumb } from '../piece-list.tsx';
import { PiecePicture } from '../piece-picture.tsx';
import { SeamMarks } from './seam-marks.tsx';

/** The piece beside which the first one lies: chosen from all, then large, to point at its edge. */
export function OtherPiece({
  piece,
  pieces,
  chosen,
  fits,
  onPiece,
  onChoose,
}: {
  /** null: not chosen yet. */
  readonly piece: PieceView | null;
  readonly pieces: readonly PieceView[];
  readonly chosen: Chosen;
  readonly fits: readonly SeamFitView[];
  readonly onPiece: (name: string | null) => void;
  /** What is chosen after something of the outline was pointed at; `add`: besides. */
  readonly onChoose: (edges: readonly number[], add: boolean) => void;
}): JSX.Element {
  if (piece === null) {
    return (
      <ul class="other-pieces" role="list" aria-label="The other piece">
        {pieces.map((one) => (
          <li>
            <button class="button" onClick={() => onPiece(one.name)}>
              <span class="thumb" aria-hidden="true">
                <Thumb view={one} />
              </span>
              {one.name}
            </button>
          </li>
        ))}
      </ul>
    );
  }
  return (
    <div class="other-piece">
      <div class="actions">
        <strong>{piece.name}</strong>
        <button class="button" onClick={() => onPiece(null)}>
          Another piece
        </button>
      </div>
      <PiecePicture
        piece={piece}
        stretches={piece.stretches}
        chosen={chosen}
        asked={null}
        gap={null}
        isFraming={false}
        onPlace={null}
        snap={null}
        onMove={() => undefined}
        onPoint={(at, add) => at?.kind === 'edges' && onChoose([at.index], add)}
        onSweep={(edges) => onChoose(edges, false)}
        onFrame={() => undefined}
        onFraming={() => undefined}
        over={(view) => fits.map((fit) => <SeamMarks fit={fit} edge={1} view={view} />)}
      />
    </div>
  );
}
