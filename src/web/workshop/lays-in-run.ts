import type { Placement } from '../../lay/lay.ts';
import type { Pin, RollEntry, RunContent } from '../../run/run-file.ts';
import { entriesOf, rollSchema } from '../../run/run-file.ts';
import type { PartMove } from '../api/lay.ts';
import type { PicturedLay } from '../api/pictured.ts';

/**
 * The run file with lays kept in it: for these cloths, what a search has laid and nothing older.
 */
export function withLays(content: RunContent, lays: readonly PicturedLay[]): RunContent {
  let kept = content;
  for (const { material, colour } of lays) {
    kept = withEachRoll(kept, { material, colour }, (roll, name) => {
      const lay = lays.find(
        (one) => one.material === material && one.colour === colour && one.roll === name,
      );
      const pinned = new Set(roll.pins.map(({ part }) => part));
      const laid = (lay?.placements ?? []).filter(({ label }) => !pinned.has(label));
      return { ...roll, laid: inOldOrder(laid.map(pinOf), roll.laid) };
    });
  }
  return kept;
}

/**
 * The run file with a part pinned where a person has put it, on this roll and on no other; or with the
 * part let go, so that it lies where it lies until a search moves it.
 */
export function withMove(
  content: RunContent,
  { material, colour, roll: wanted, label, to }: PartMove,
): RunContent {
  if (to === null && !Object.hasOwn(content.rolls, material)) return content;
  return withEachRoll(content, { material, colour }, (roll, name) => {
    const without = (pins: readonly Pin[]): Pin[] => pins.filter(({ part }) => part !== label);
    const [pins, laid] = [without(roll.pins), without(roll.laid)];
    const before = roll.pins.find(({ part }) => part === label);
    if (to !== null) {
      const here = pinOf({ label, ...to });
      if (name !== wanted) return { ...roll, pins, laid };
      // A part that was pinned here keeps its place in the file.
      const next =
        before === undefined
          ? [...pins, here]
          : roll.pins.map((pin) => (pin === before ? here : pin));
      return { ...roll, pins: next, laid };
    }
    return name !== wanted || before === undefined
      ? roll
      : { ...roll, pins, laid: [...laid, before] };
  });
}

/** Labels on the rolls of a cloth of parts that are not cut from it any more. */
export interface GoneLabels extends Pick<PicturedLay, 'material' | 'colour'> {
  readonly labels: readonly string[];
}

/** The run file without what lies on rolls of parts that are not cut from them any more. What is pinned stays. */
export function withoutLaid(content: RunContent, gone: readonly GoneLabels[]): RunContent {
  return gone.reduce((before, { material, colour, labels }) => {
    const away = new Set(labels);
    return withEachRoll(before, { material, colour }, (roll) => ({
      ...roll,
      laid: roll.laid.filter(({ part }) => !away.has(part)),
    }));
  }, content);
}

/**
 * Puts pins in the order in which their parts stood before, with new ones behind them, so that their
 * lines in the file stay where they are.
 */
function inOldOrder(pins: readonly Pin[], before: readonly Pin[]): Pin[] {
  const places = new Map(before.map(({ part }, i) => [part, i]));
  const placeOf = ({ part }: Pin): number => places.get(part) ?? before.length;
  return pins.toSorted((a, b) => placeOf(a) - placeOf(b));
}

function pinOf({ label, x, y, rotation }: Placement): Pin {
  return { part: label, at: [x, y], rotation };
}

/**
 * The run file with each roll of a cloth changed, given the name that it has in a lay. A cloth of which
 * the file does not speak has one roll without a name.
 */
export function withEachRoll(
  content: RunContent,
  { material, colour }: Pick<PicturedLay, 'material' | 'colour'>,
  change: (roll: RollEntry, name: string | null) => RollEntry,
): RunContent {
  const written = entriesOf(content.rolls, material);
  const isOwn = ({ entry }: (typeof written)[number]): boolean => (entry.colour ?? null) === colour;
  const fresh = rollSchema.parse(colour === null ? {} : { colour });
  const rolls = [
    ...written.map((one) => (isOwn(one) ? change(one.entry, one.name ?? null) : one.entry)),
    ...(written.some(isOwn) ? [] : [change(fresh, null)]),
  ];
  const isList = Array.isArray(content.rolls[material]) || rolls.length > 1;
  return { ...content, rolls: { ...content.rolls, [material]: isList ? rolls : rolls[0]! } };
}
