import { firstAndMore } from '../../base/wording.ts';
import { recordedName } from '../../program/record/run-record.ts';

// The page says these as the papers do.
export {
  capital,
  clock,
  counted,
  metresDown,
  metresUp as metres,
  percent,
} from '../../base/wording.ts';

export function handWords(hand: 'RHD' | 'LHD'): string {
  return hand === 'RHD' ? 'RHD, driver right' : 'LHD, driver left';
}

/** A roll or a part, as far as it is of a cloth: a material in one of its colours. */
export interface OfCloth {
  readonly material: string;
  readonly colour: string | null;
}

/** What a roll is called: its material, its colour and its name, where it has them. */
export function rollName({
  material,
  colour,
  name,
}: OfCloth & { readonly name: string | null }): string {
  return recordedName({ material, colour, roll: name });
}

/** Whether two things are of the same material and colour. */
export function isOfCloth(one: OfCloth, other: OfCloth): boolean {
  return one.material === other.material && one.colour === other.colour;
}

/** Makes a name for files from what a person calls a thing. */
export function fileName(title: string): string {
  const plain = title
    .normalize('NFKD')
    .replaceAll(/\p{Mark}/gu, '')
    .toLowerCase();
  const words = plain.replaceAll(/[^a-z0-9]+/g, '-').replaceAll(/^-+|-+$/g, '');
  return words.slice(0, 60) || 'run';
}

/** What stands over files that are older than their run; null: nothing of the run has changed since. */
export function olderWords(changes: readonly string[]): string | null {
  return changes.length === 0 ? null : `Do not cut: made before ${firstAndMore(changes)}`;
}
