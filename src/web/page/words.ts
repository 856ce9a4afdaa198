import { recordedName } from '../../program/record/run-record.ts';

// The page says these as the papers do.
export { capital, clock, counted, metresUp as metres, percent } from '../../base/wording.ts';

/** A length (mm) in metres, rounded down, so that never more cloth is said than there is. */
export function metresDown(lengthMm: number): string {
  return `${(Math.floor(lengthMm / 10 + 1e-9) / 100).toFixed(2)} m`;
}

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
