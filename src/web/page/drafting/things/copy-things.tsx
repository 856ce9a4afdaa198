import type { JSX } from 'preact';
import type { Spot } from '../../../../drafting/edge-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import type { SentEdit } from '../../server/calls.ts';

/** How far beside what it is of a copy first lies, mm. */
const besideCopy = 40;

/** What is chosen once more: beside itself, or on the other side of the centreline. */
export function CopyThings({
  piece,
  things,
  edit,
}: {
  readonly piece: PieceView;
  readonly things: readonly number[];
  readonly edit: (edit: SentEdit) => Promise<boolean>;
}): JSX.Element {
  const copy = (by: number, mirror: [[number, number], [number, number]] | null): void =>
    void edit({ kind: 'copy', block: piece.block, things: [...things], by: [by, 0], mirror });
  const [from, to] = centrelineOf(piece);
  return (
    <div class="actions">
      <button class="button" onClick={() => copy(besideCopy, null)}>
        Copy
      </button>
      <button class="button" onClick={() => copy(0, [[...from], [...to]])}>
        Mirror to the other side
      </button>
    </div>
  );
}

/** The vehicle's centreline in the frame of the block: the drawn one, or x = 0 of the vehicle. */
function centrelineOf({ axis, frame }: PieceView): readonly [Spot, Spot] {
  if (axis !== null) return axis;
  const [, , , , e] = frame;
  return [
    [-e, 0],
    [-e, 100],
  ];
}
