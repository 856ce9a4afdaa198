import type { Placement } from '../../lay/lay.ts';
import type { Pin, RollEntry, RunContent } from '../../run/run-file.ts';
import { rollSchema } from '../../run/run-file.ts';
import type { PartMove } from '../api/lay.ts';
import type { PicturedLay } from '../api/pictured.ts';

type RollEntries = RunContent['rolls'][string];

/**
 * The run file with lays kept in it: for these materials, what a search has laid and nothing older.
 */
export function withLays(content: RunContent, lays: readonly PicturedLay[]): RunContent {
  const materials = [...new Set(lays.map(({ material }) => material))];
  const rolls = materials.map((material): [string, RollEntries] => {
    const own = lays.filter((lay) => lay.material === material);
    return [
      material,
      onRolls(content.rolls[material], (roll, name) => {
        const lay = own.find((one) => one.roll === name);
        const pinned = new Set(roll.pins.map(({ part }) => part));
        const laid = (lay?.placements ?? []).filter(({ label }) => !pinned.has(label));
        return { ...roll, laid: inOldOrder(laid.map(pinOf), roll.laid) };
      }),
    ];
  });
  return { ...content, rolls: { ...content.rolls, ...Object.fromEntries(rolls) } };
}

/**
 * The run file with a part pinned where a person has put it, on this roll and on no other; or with the
 * part let go, so that it lies where it lies until a search moves it.
 */
export function withMove(
  content: RunContent,
  { material, roll: wanted, label, to }: PartMove,
): RunContent {
  if (to === null && !Object.hasOwn(content.rolls, material)) return content;
  const moved = onRolls(content.rolls[material], (roll, name) => {
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
  return { ...content, rolls: { ...content.rolls, [material]: moved } };
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
 * Changes each roll of a material, given the name that it has in a lay. A material that the file does
 * not speak of has one roll without a name.
 */
function onRolls(
  entries: RollEntries | undefined,
  change: (roll: RollEntry, name: string | null) => RollEntry,
): RollEntries {
  if (Array.isArray(entries)) {
    return entries.map((content, i) => change(content, content.name ?? String(i + 1)));
  }
  const one = entries ?? rollSchema.parse({});
  return change(one, one.name ?? null);
}
