import type { OptionValue, OptionValues } from './conditions.ts';
import type { PieceEntry, SetContent } from './set-file.ts';
import type { Use } from './words.ts';
import { isUse } from './words.ts';

/** What an order chooses of a set before anything is made of it. What is left out is as the set file says. */
export interface SetChoice {
  /** A material for a use, instead of the usual one. */
  readonly materials?: Readonly<Partial<Record<Use, string>>>;
  /** How edges are finished: the name of a file in shared/bindings, instead of that of the set. */
  readonly binding?: string;
  readonly options?: Readonly<Record<string, OptionValue>>;
}

/** The material of each use: what is chosen, or what the set file says. */
export function materialsOfUses(
  { uses = {} }: Pick<SetContent, 'uses'>,
  { materials = {} }: SetChoice,
): Partial<Record<Use, string>> {
  return Object.fromEntries(
    Object.entries(uses).map(([use, usual]) => [use, materials[use as Use] ?? usual]),
  );
}

/** What is cut of a piece, and something for each. */
type OfPiece<T> = Readonly<Partial<Record<'piece' | 'pad' | 'board' | 'underlay', T>>>;

/** The materials that a set file names for a piece, by what is cut of it. */
export function materialsNamed({
  material,
  pad,
  board,
  underlay,
}: Pick<PieceEntry, 'material' | 'pad' | 'board' | 'underlay'>): OfPiece<string> {
  return {
    piece: material,
    ...(pad === undefined ? {} : { pad }),
    ...(board === undefined ? {} : { board: board.material }),
    ...(underlay === undefined ? {} : { underlay: underlay.material }),
  };
}

/** The uses that a piece names instead of materials, by what is cut of it. */
export type PieceUses = OfPiece<Use>;

/** The use that each piece of a set file names instead of a material, by the piece. */
export function usesOf({ pieces }: Pick<SetContent, 'pieces'>): ReadonlyMap<string, PieceUses> {
  return new Map(
    Object.entries(pieces).map(([piece, entry]) => {
      const named = Object.entries(materialsNamed(entry)).filter(([, name]) => isUse(name));
      return [piece, Object.fromEntries(named) as PieceUses];
    }),
  );
}

/** The key of a piece in a set file that names the material of what is cut of it. */
export function materialKey(kind: string): string {
  return kind === 'piece' ? 'material' : kind;
}

/** The entry of a piece with materials in place of the uses that it names. */
export function withMaterials(
  entry: PieceEntry,
  materials: Readonly<Partial<Record<Use, string>>>,
): PieceEntry {
  const named = (name: string): string => (isUse(name) ? (materials[name] ?? name) : name);
  const { pad, board, underlay } = entry;
  return {
    ...entry,
    material: named(entry.material),
    ...(pad === undefined ? {} : { pad: named(pad) }),
    ...(board === undefined ? {} : { board: { ...board, material: named(board.material) } }),
    ...(underlay === undefined
      ? {}
      : { underlay: { ...underlay, material: named(underlay.material) } }),
  };
}

/** The value of each option of the set: what is chosen, or what the set file says. */
export function optionsOf(
  { options = {} }: Pick<SetContent, 'options'>,
  { options: chosen = {} }: SetChoice,
): OptionValues {
  return new Map(
    Object.entries(options).map(([name, option]) => [
      name,
      Object.hasOwn(chosen, name) ? chosen[name]! : option.default,
    ]),
  );
}

/** All values that an option of the set can have. undefined: the set has no such option. */
export function valuesOfOption(
  { options = {} }: Pick<SetContent, 'options'>,
  name: string,
): readonly OptionValue[] | undefined {
  if (!Object.hasOwn(options, name)) return undefined;
  return options[name]!.values ?? [true, false];
}

/** An option that is chosen wrongly, and what would be right. */
interface WrongOption {
  readonly name: string;
  readonly value: OptionValue;
  /** What it can be. null: the set has no such option. */
  readonly values: readonly OptionValue[] | null;
}

/** Options that the set does not have, or not with that value. */
export function wrongOptions(
  content: Pick<SetContent, 'options'>,
  { options: chosen = {} }: SetChoice,
): WrongOption[] {
  return Object.entries(chosen).flatMap(([name, value]): WrongOption[] => {
    const values = valuesOfOption(content, name);
    if (values === undefined) return [{ name, value, values: null }];
    return values.includes(value) ? [] : [{ name, value, values }];
  });
}

/** An option as it is, in words. */
export interface WordedOption {
  readonly name: string;
  /** `centre console: long`, `overdrive switch` or `no overdrive switch`. */
  readonly words: string;
  /** By the names that layers have it by, where there is little room: `console long`, `od` or `no od`. */
  readonly short: string;
}

/** The options of a set, each as it is. */
export function wordedOptions(
  { options = {} }: Pick<SetContent, 'options'>,
  values: OptionValues,
): WordedOption[] {
  return Object.entries(options).map(([name, { words }]) => {
    const value = values.get(name);
    if (typeof value === 'string')
      return { name, words: `${words}: ${value}`, short: `${name} ${value}` };
    const no = value === true ? '' : 'no ';
    return { name, words: `${no}${words}`, short: `${no}${name}` };
  });
}

/** Options in words: `overdrive switch; centre console: long`. Empty if the set has none. */
export function wordOptions(content: Pick<SetContent, 'options'>, values: OptionValues): string {
  return wordedOptions(content, values)
    .map(({ words }) => words)
    .join('; ');
}

/** The title of a set as papers have it: with its options in words, if it has any. */
export function titleOf({
  content,
  options,
}: {
  readonly content: Pick<SetContent, 'title' | 'options'>;
  readonly options: OptionValues;
}): string {
  const words = wordOptions(content, options);
  return words === '' ? content.title : `${content.title} (${words})`;
}
