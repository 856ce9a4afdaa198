import type { RollEntry, RunContent } from '../../../run/run-file.ts';
import type { PicturedRoll } from '../../api/pictured.ts';
import type { MaterialCard } from '../../api/shop.ts';

export const plainRoll: RollEntry = { defects: [], pins: [], laid: [] };

/**
 * The rolls of a material in a run file. Where it names none, there is one of which nothing is said.
 */
export function rollEntriesOf({ rolls }: RunContent, material: string): readonly RollEntry[] {
  return [rolls[material] ?? plainRoll].flat();
}

/** The run file with other rolls of a material. */
export function withRolls(
  content: RunContent,
  material: string,
  rolls: readonly RollEntry[],
): RunContent {
  const [only] = rolls;
  const { [material]: _, ...others } = content.rolls;
  if (only === undefined) return { ...content, rolls: others };
  return { ...content, rolls: { ...others, [material]: rolls.length === 1 ? only : [...rolls] } };
}

/** The figures of a roll, mm; what is not said of it is as its material's file says. */
export function saidOrKnown(
  roll: RollEntry,
  { width, selvedge, startMargin, length }: MaterialCard,
): { width: number; selvedge: number; startMargin: number; length: number | null } {
  return {
    width: roll.width ?? width,
    selvedge: roll.selvedge ?? selvedge,
    startMargin: roll.startMargin ?? startMargin,
    length: roll.length ?? length,
  };
}

/** The roll as pictures show it. */
export function rollAsPictured(roll: RollEntry, material: MaterialCard): PicturedRoll {
  return {
    material: material.name,
    colour: roll.colour ?? null,
    name: roll.name ?? null,
    title: material.title,
    ...saidOrKnown(roll, material),
    dyeLot: roll.dyeLot ?? null,
    defects: roll.defects.map((corners) => corners.flat()),
    outline: roll.outline?.flat() ?? null,
    biteLength: null,
    gap: material.gap,
  };
}

/** The corners of a rectangle, from its place along and across the roll and from its size, mm. */
export function rectangleAt(
  along: number,
  across: number,
  long: number,
  wide: number,
): [number, number][] {
  return [
    [along, across],
    [along + long, across],
    [along + long, across + wide],
    [along, across + wide],
  ];
}

/** Where a polygon lies and how large it is, mm. */
export function extent(corners: readonly (readonly [number, number])[]): {
  along: number;
  across: number;
  long: number;
  wide: number;
} {
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const [along, across] = [Math.min(...xs), Math.min(...ys)];
  return { along, across, long: Math.max(...xs) - along, wide: Math.max(...ys) - across };
}
