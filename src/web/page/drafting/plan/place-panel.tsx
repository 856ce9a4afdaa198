import type { JSX } from 'preact';
import type { DraftHead, PieceView } from '../../../../drafting/view.ts';
import { addressOf } from '../../address.ts';
import { NumberField, Select } from '../../controls/fields.tsx';
import type { SentEdit } from '../../server/calls.ts';
import { overlapsWith, overlapWords } from './overlaps.ts';
import { moveOnPlan } from './plan-view.tsx';

/** Where a piece lies in the vehicle, by figures and by buttons: all that dragging does. */
export function PlacePanel({
  set,
  pieces,
  overlaps,
  chosen,
  onChoose,
  edit,
}: {
  readonly set: string;
  readonly overlaps: DraftHead['overlaps'];
  readonly pieces: ReadonlyMap<string, PieceView>;
  readonly chosen: string | null;
  readonly onChoose: (piece: string | null) => void;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
}): JSX.Element {
  const piece = chosen === null ? null : (pieces.get(chosen) ?? null);
  const on = chosen === null ? [] : overlapsWith(overlaps, chosen);
  const [x, y] = piece?.said.at ?? [0, 0];
  const moved = (dx: number, dy: number): void => {
    if (piece !== null) void edit(moveOnPlan(piece.name, [dx, dy]));
  };
  const placed = (right: number | null, forward: number | null): void => {
    if (piece === null) return;
    void edit({ kind: 'place', piece: piece.name, to: [right, forward], by: [0, 0] });
  };
  const keys = (event: KeyboardEvent): void => {
    const step = event.shiftKey ? 1 : event.altKey ? 100 : 10;
    const ways: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [-step, 0],
      ArrowRight: [step, 0],
      ArrowUp: [0, step],
      ArrowDown: [0, -step],
    };
    const way = ways[event.key];
    if (way === undefined) return;
    event.preventDefault();
    moved(...way);
  };
  return (
    <section class="pane" aria-labelledby="place-title">
      <h3 id="place-title">Places in the vehicle</h3>
      <Select
        label="The piece to be placed"
        value={chosen ?? ''}
        choices={[
          { value: '', words: 'drag one on the plan, or choose it here' },
          ...[...pieces.keys()].map((name) => ({ value: name, words: name })),
        ]}
        onChange={(name) => onChoose(name === '' ? null : name)}
      />
      {piece !== null && (
        <>
          <div class="row">
            <NumberField
              label="To the right"
              value={x}
              unit="mm"
              min={-20_000}
              max={20_000}
              onChange={(to) => placed(to, null)}
            />
            <NumberField
              label="Forward"
              value={y}
              unit="mm"
              min={-20_000}
              max={20_000}
              onChange={(to) => placed(null, to)}
            />
          </div>
          <div role="status">
            {on.length > 0 && (
              <>
                <p>
                  <strong>It lies on: </strong>
                  {on.map(overlapWords).join('; ')}.
                </p>
                <p class="quiet">
                  Right where one lies on the other in the vehicle, as a mat on a floor. Otherwise
                  drag it away, or say here where it lies.
                </p>
              </>
            )}
          </div>
          <div class="actions">
            <button class="button" onKeyDown={keys} aria-describedby="arrow-steps">
              Move by arrow keys
            </button>
            <button
              class="button"
              onClick={() => void edit({ kind: 'turn', piece: piece.name, quarters: 1 })}
            >
              Turn a quarter
            </button>
            <a class="button" href={addressOf('sets', set, piece.name)}>
              Open it
            </a>
          </div>
          <p class="quiet" id="arrow-steps">
            Arrow keys on that button or in the plan: 10 mm, with Shift 1, with Alt 100.
          </p>
        </>
      )}
    </section>
  );
}
