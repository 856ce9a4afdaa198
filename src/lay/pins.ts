import type { Finding } from '../findings.ts';
import { Refusal } from '../findings.ts';
import { transformPath } from '../geometry/transform.ts';
import type { Part } from '../handing/part.ts';
import { turned } from './engine/polygon.ts';
import type { Ring } from './engine/polygon.ts';
import { layError } from './findings.ts';
import { judgeLaid } from './judge.ts';
import type { LayRules, Placement, Roll } from './lay.ts';
import { mayTurn, placementTransform, turnsInWords } from './lay.ts';
import type { GrownOutline } from './outline.ts';
import { grownOutline } from './outline.ts';

/** mm and degrees: what sums and roundings may be off. */
const tolerance = 1e-4;

const todo = 'Change the pin, or leave it out.';

/**
 * Refuses pins of parts that are not there, turned as their pile does not allow, off the roll, over a
 * defect, or over each other.
 */
export function checkPins(
  pins: readonly Placement[],
  parts: readonly Part[],
  roll: Roll,
  rules: LayRules,
): void {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const found: Finding[] = [];
  for (const [i, { label, rotation }] of pins.entries()) {
    const part = byLabel.get(label);
    if (part === undefined) {
      found.push(unknownPin(label));
    } else if (pins.findIndex((other) => other.label === label) !== i) {
      found.push(layError('pin-twice', 'the part is pinned twice.', todo, label));
    } else if (!mayTurn(part, rules.turns, rotation, tolerance)) {
      const message = `the part is pinned at a turn of ${rotation} degrees; its pile allows ${turnsInWords(part, rules.turns)}.`;
      found.push(layError('pin-turn', message, todo, label));
    }
  }
  if (found.length > 0) throw new Refusal(found);
  const laid = pins.map((pin) => {
    const { cut, inner } = byLabel.get(pin.label)!;
    const place = placementTransform(pin);
    return {
      label: pin.label,
      cut: transformPath(place, cut),
      inner: inner.map(({ path }) => transformPath(place, path)),
    };
  });
  const faults = judgeLaid(laid, roll, rules, tolerance);
  if (faults.length > 0) throw new Refusal(faults.map((fault) => ({ ...fault, todo })));
}

export function unknownPin(label: string): Finding {
  return layError('pin-unknown', 'no part of that label is cut from this material.', todo, label);
}

/** The outlines of pinned parts where they lie, in the engine's strip. */
export function pinnedOutlines(
  pins: readonly Placement[],
  parts: readonly Part[],
  { startMargin, selvedge }: Roll,
  { gap }: LayRules,
): GrownOutline[] {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return pins.map(({ label, x, y, rotation }) => {
    const { outline, holes } = grownOutline(byLabel.get(label)!, gap);
    const placed = (ring: Ring): number[] =>
      turned(ring, rotation).map((value, i) =>
        i % 2 === 0 ? value + x - startMargin : value + y - selvedge,
      );
    return { outline: placed(outline), holes: holes.map(placed) };
  });
}
