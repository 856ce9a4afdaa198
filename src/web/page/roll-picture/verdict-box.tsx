import type { RefObject } from 'preact';
import type { PartPlace } from '../../api/lay.ts';
import type { Held, Reason } from './holding/holding.ts';
import { verdictHere, verdictWords } from './holding/holding.ts';
import type { PartOnRoll } from './places/placing.ts';
import { placePart } from './places/placing.ts';
import type { Size, View } from '../picture/view.ts';
import { toScreen } from '../picture/view.ts';

/** A box beside a part that says why it may not lie where it is held. */
export function VerdictBox({
  box,
  held,
  reason,
}: {
  readonly box: RefObject<HTMLDivElement | null>;
  readonly held: Held | null;
  readonly reason: Reason | null;
}) {
  const words = wordsOf(held, reason);
  return (
    <div ref={box} class="roll-verdict" role="status" data-shown={words !== ''}>
      {words}
    </div>
  );
}

function wordsOf(held: Held | null, reason: Reason | null): string {
  if (held === null || held.phase === 'back') return reason?.words ?? '';
  if (held.phase === 'asked') return 'Asking whether it may lie there';
  const verdict = verdictHere(held);
  if (held.phase === 'down' || verdict === null) return '';
  const words = verdictWords(verdict);
  if (words === '' || verdict.near === null) return words;
  return `${words} Let go, and it lies where the dashed outline is.`;
}

/** Makes what moves the box beside a part after each frame, so that it stays inside the window. */
export function boxMover(
  box: RefObject<HTMLDivElement | null>,
  one: PartOnRoll | null,
  place: PartPlace | null,
): (viewAt: (x: number) => View, size: Size) => void {
  const extent = one === null ? null : placePart(one.part, place ?? one.place).box;
  return (viewAt, size) => {
    const element = box.current;
    if (element === null || extent === null || element.dataset['shown'] !== 'true') return;
    const view = viewAt((extent[0] + extent[2]) / 2);
    const { offsetWidth: wide, offsetHeight: high } = element;
    const corner = toScreen(view, { x: extent[2], y: extent[3] });
    const left = toScreen(view, { x: extent[0], y: extent[3] }).x;
    const fits = corner.x + 12 + wide <= size.width;
    const x = fits ? corner.x + 12 : Math.max(8, left - 12 - wide);
    const y = Math.min(size.height - high - 8, Math.max(8, corner.y));
    element.style.transform = `translate(${Math.round(Math.max(8, x))}px, ${Math.round(y)}px)`;
  };
}
