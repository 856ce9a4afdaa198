import type { RollEntry, RunContent } from '../../../run/run-file.ts';
import type { PicturedRoll } from '../../api/pictured.ts';
import type { MaterialCard } from '../../api/shop.ts';
import type { OfCloth } from '../words.ts';
import { isOfCloth } from '../words.ts';

/** A new roll of a colour, of which nothing else is said. */
export function plainRoll(colour: string | null): RollEntry {
  return { ...(colour === null ? {} : { colour }), defects: [], pins: [], laid: [] };
}

/** Whether a roll is in a colour; null: in none. */
export function isInColour(roll: RollEntry, colour: string | null): boolean {
  return (roll.colour ?? null) === colour;
}

/** The cloths that a run is cut from, and those besides that its file has rolls of. */
export function clothsOf({ rolls }: RunContent, cut: readonly OfCloth[]): OfCloth[] {
  const written = Object.entries(rolls).flatMap(([material, entries]) =>
    [entries].flat().map(({ colour = null }): OfCloth => ({ material, colour })),
  );
  return [...cut, ...written].flatMap(({ material, colour }, i, all) =>
    all.findIndex((one) => isOfCloth(one, { material, colour })) === i
      ? [{ material, colour }]
      : [],
  );
}

/**
 * The rolls of a cloth in a run file. Where it names none, there is one of which nothing is said but its
 * colour.
 */
export function rollEntriesOf(
  { rolls }: RunContent,
  { material, colour }: OfCloth,
): readonly RollEntry[] {
  const own = [rolls[material] ?? []].flat().filter((roll) => isInColour(roll, colour));
  return own.length === 0 ? [plainRoll(colour)] : own;
}

/** The run file with other rolls of a cloth, where its first one stood; those of other colours stay. */
export function withRolls(
  content: RunContent,
  { material, colour }: OfCloth,
  rolls: readonly RollEntry[],
): RunContent {
  const { [material]: written = [], ...others } = content.rolls;
  const before = [written].flat();
  const first = before.findIndex((roll) => isInColour(roll, colour));
  const at = first === -1 ? before.length : first;
  const other = (roll: RollEntry): boolean => !isInColour(roll, colour);
  const next = [...before.slice(0, at), ...rolls, ...before.slice(at).filter(other)];
  if (next.length === 0) return { ...content, rolls: others };
  // The material stays where it stands among the others.
  return {
    ...content,
    rolls: { ...content.rolls, [material]: next.length === 1 ? next[0]! : next },
  };
}

/** How a colour of a material looks; null: it is in none, or in one that the shop does not know. */
export function sampleOf(
  { colours }: Pick<MaterialCard, 'colours'>,
  colour: string | null | undefined,
): string | null {
  return colours?.find(({ name }) => name === colour)?.sample ?? null;
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
    sample: sampleOf(material, roll.colour),
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
