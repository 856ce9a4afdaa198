import { recordedName } from '../../program/record/run-record.ts';

// Said on the page as on paper.
export { clock, counted, metresUp as metres, percent } from '../../base/wording.ts';

/** mm as metres, always down: never more cloth than there is. */
export function metresDown(lengthMm: number): string {
  return `${(Math.floor(lengthMm / 10 + 1e-9) / 100).toFixed(2)} m`;
}

export function handWords(hand: 'RHD' | 'LHD'): string {
  return hand === 'RHD' ? 'RHD, driver right' : 'LHD, driver left';
}

/** Of a run or a roll: its material and, where it has one, its name. */
export function rollName({
  material,
  name,
}: {
  readonly material: string;
  readonly name: string | null;
}): string {
  return recordedName({ material, roll: name });
}

/** A name for files, from what a person calls a thing. */
export function fileName(title: string): string {
  const plain = title
    .normalize('NFKD')
    .replaceAll(/\p{Mark}/gu, '')
    .toLowerCase();
  const words = plain.replaceAll(/[^a-z0-9]+/g, '-').replaceAll(/^-+|-+$/g, '');
  return words.slice(0, 60) || 'run';
}
