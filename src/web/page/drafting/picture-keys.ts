import { keyAct } from '../roll-picture/input/keys.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import type { Size } from '../picture/view.ts';

/** What keys do in a picture of the desk. */
interface PictureActs {
  readonly size: Size;
  readonly pan: (by: Point) => void;
  readonly zoom: (factor: number) => void;
  readonly fit: () => void;
  /** Chooses what comes next, or what came before. */
  readonly walk: (by: 1 | -1) => void;
  /** Chooses nothing. */
  readonly leave: () => void;
  /** Moves what is chosen, mm; null: nothing is chosen that can be moved. */
  readonly move: ((x: number, y: number) => void) | null;
  /** Turns what is chosen by a quarter; null: it is not turned here. */
  readonly turn: (() => void) | null;
}

/** Takes a key that was pressed in a picture; the same keys as in the pictures of drawings and rolls. */
export function takePictureKey(event: KeyboardEvent, acts: PictureActs): void {
  const { size, move } = acts;
  const act = keyAct(event, { focused: true, movable: move !== null, holding: false });
  if (act === null || act.what === 'select' || act.what === 'drop' || act.what === 'back') return;
  event.preventDefault();
  if (act.what === 'walk') acts.walk(act.by);
  if (act.what === 'zoom') acts.zoom(act.factor);
  if (act.what === 'fit') acts.fit();
  if (act.what === 'pan') acts.pan({ x: -act.x * size.width, y: act.y * size.height });
  if (act.what === 'leave') acts.leave();
  if (act.what === 'turn') acts.turn?.();
  // A key that is held down would ask for the next move before the one before it is done.
  if (act.what === 'nudge' && !event.repeat) move?.(act.x, act.y);
}

/** The place that comes next in a list of so many, or before; from none, the first or the last. */
export function nextPlace(now: number, by: 1 | -1, count: number): number {
  return now === -1 ? (by === 1 ? 0 : count - 1) : (now + by + count) % count;
}
