import { recordedName } from '../../program/record/run-record.ts';

// The page says these as the papers do.
export { clock, counted, metresUp as metres, percent } from '../../base/wording.ts';

/** A length (mm) in metres, rounded down, so that never more cloth is said than there is. */
export function metresDown(lengthMm: number): string {
  return `${(Math.floor(lengthMm / 10 + 1e-9) / 100).toFixed(2)} m`;
}

export function handWords(hand: 'RHD' | 'LHD'): string {
  return hand === 'RHD' ? 'RHD, driver right' : 'LHD, driver left';
}

/** What a roll is called: its material and, where it has one, its name. */
export function rollName({
  material,
  name,
}: {
  readonly material: string;
  readonly name: string | null;
}): string {
  return recordedName({ material, roll: name });
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
