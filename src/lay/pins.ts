import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';
import type { Part } from '../handing/part.ts';
import type { PinnedKind } from './engine/engine.ts';
import { layError } from './findings.ts';
import { judgeLaid, laidPart } from './judge.ts';
import type { LayRules, Placement, Roll } from './lay.ts';
import { mayTurn, turnsInWords } from './lay.ts';
import { grownOutline } from './outline.ts';

/** How much sums and roundings may be off, mm and degrees. */
const tolerance = 1e-4;

const todo = 'Change where the run file has it pinned or laid, or leave it out.';

/**
 * Throws a Refusal for pins of parts that are not there, of parts turned as their pile does not allow,
 * and of parts that lie off the roll, over a defect, or over each other.
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
  const faults = placedFaults(pins, byLabel, roll, rules);
  if (faults.length > 0) throw new Refusal(faults.map((fault) => ({ ...fault, todo })));
}

/**
 * Refuses to begin with an earlier lay if its parts have changed since and no longer lie as they may:
 * the message says what is wrong. Parts of the lay that are not among `parts` are not looked at.
 */
export function checkStart(
  start: readonly Placement[],
  parts: readonly Part[],
  roll: Roll,
  rules: LayRules,
): void {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const known = start.filter(({ label }) => byLabel.has(label));
  const faults = startFaults(known, byLabel, roll, rules);
  if (faults.length > 0) throw new Refusal(faults);
}

/** What is wrong with parts where an earlier search has laid them. */
export function startFaults(
  start: readonly Placement[],
  byLabel: ReadonlyMap<string, Part>,
  roll: Roll,
  rules: LayRules,
): Finding[] {
  const misturned = start.filter(
    ({ label, rotation }) => !mayTurn(byLabel.get(label)!, rules.turns, rotation, tolerance),
  );
  const again = 'Lay the parts anew, without the earlier run.';
  const faults = [
    ...misturned.map(({ label }) =>
      layError(
        'lay-turn',
        'in the earlier run the part lies in a turn that its pile no longer allows.',
        again,
        label,
      ),
    ),
    ...placedFaults(start, byLabel, roll, rules),
  ];
  return faults.map((fault) => ({ ...fault, todo: again }));
}

/** An earlier lay beside pins: its parts that may lie there still, and why the others have to be laid anew. */
export function besidePins(
  start: readonly Placement[],
  pins: readonly Placement[],
  byLabel: ReadonlyMap<string, Part>,
  roll: Roll,
  rules: LayRules,
): { readonly start: readonly Placement[]; readonly faults: readonly Finding[] } {
  const held = pins.filter(({ label }) => byLabel.has(label));
  const isHeld = new Set(held.map(({ label }) => label));
  const known = start.filter(({ label }) => byLabel.has(label) && !isHeld.has(label));
  // A fault names the first of two parts: with those of the lay first that is never the pinned one, which stays.
  const faults = startFaults([...known, ...held], byLabel, roll, rules);
  const faulty = new Set(faults.map(({ where }) => where.part));
  return { start: known.filter(({ label }) => !faulty.has(label)), faults };
}

function placedFaults(
  placements: readonly Placement[],
  byLabel: ReadonlyMap<string, Part>,
  roll: Roll,
  rules: LayRules,
): Finding[] {
  const laid = placements.map((one) => laidPart(byLabel.get(one.label)!, one));
  return judgeLaid(laid, roll, rules, tolerance);
}

export function unknownPin(label: string): Finding {
  return layError('pin-unknown', 'no part of that label is cut from this material.', todo, label);
}

/**
 * Pinned parts as the engine sees them, those of one shape together, where they lie in the frame of its
 * strip. `leastArea`: see grownOutline.
 */
export function pinnedKinds(
  pins: readonly Placement[],
  parts: readonly Part[],
  { startMargin, selvedge }: Roll,
  { gap }: LayRules,
  leastArea: number,
): PinnedKind[] {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const alike = new Map<string, { part: Part; places: PinnedKind['places'] }>();
  for (const { label, x, y, rotation } of pins) {
    const part = byLabel.get(label)!;
    const key = JSON.stringify([part.cut, part.inner.map(({ path }) => path)]);
    const places = alike.get(key)?.places ?? [];
    const place = { rotation, x: x - startMargin, y: y - selvedge };
    alike.set(key, { part, places: [...places, place] });
  }
  return [...alike.values()].map(({ part, places }) => ({
    ...grownOutline(part, gap, leastArea),
    places,
  }));
}
