import { useEffect, useRef, useState } from 'preact/hooks';
import { normalDeg } from '../../../../geometry/paths/angle.ts';
import type { Point } from '../../../../geometry/paths/point.ts';
import type { PartOnRoll } from '../places/placing.ts';
import { nextTurn, onRoll, placeWith, roundedPlace } from '../places/placing.ts';
import type { Drag, Held, Holding, Reason } from './holding.ts';
import { createHolding } from './holding.ts';

/** The part that is held, and how keys move it. */
export function useHolding(
  drag: Drag | null,
  placed: readonly PartOnRoll[],
): {
  readonly held: Held | null;
  readonly reason: Reason | null;
  readonly holding: Holding;
  readonly nudge: (label: string, by: Point) => void;
  readonly turn: (label: string | null, quarter: boolean) => void;
} {
  const [held, setHeld] = useState<Held | null>(null);
  const [reason, setReason] = useState<Reason | null>(null);
  const now = useRef(drag);
  now.current = drag;
  const made = useRef<Holding | null>(null);
  made.current ??= createHolding(() => now.current, setHeld, setReason);
  const holding = made.current;
  useEffect(() => () => holding.stop(), [holding]);
  useEffect(() => holding.arrived(), [placed, holding]);

  const find = (label: string): PartOnRoll | undefined =>
    placed.find(({ part }) => part.label === label);
  const taken = (label: string): Held | null => {
    const one = find(label);
    if (holding.now() === null && one !== undefined) holding.take(label, one.place, null);
    const mine = holding.now();
    return mine?.label === label ? mine : null;
  };
  const nudge = (label: string, by: Point): void => {
    const mine = taken(label);
    if (mine !== null) holding.move({ ...mine.to, x: mine.to.x + by.x, y: mine.to.y + by.y });
  };
  const turn = (label: string | null, quarter: boolean): void => {
    const wanted = holding.now()?.label ?? label;
    const one = wanted === null ? undefined : find(wanted);
    const mine = wanted === null ? null : taken(wanted);
    if (one === undefined || mine === null) return;
    const { rotation } = mine.to;
    const next = quarter ? normalDeg(rotation + 90) : nextTurn(one.part.turns, rotation);
    // It turns about the pointer or about its middle: about its own origin it might turn out of
    // sight.
    const [minX, minY, maxX, maxY] = one.part.box;
    const own = mine.grip ?? { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
    holding.move(roundedPlace(placeWith(own, next, onRoll(mine.to, own))));
  };
  return { held, reason, holding, nudge, turn };
}
