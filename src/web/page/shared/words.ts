/** mm as metres, always up: never less cloth than is needed. */
export function metres(lengthMm: number): string {
  return `${(Math.ceil(lengthMm / 10 - 1e-9) / 100).toFixed(2)} m`;
}

/** mm as metres, always down: never more cloth than there is. */
export function metresDown(lengthMm: number): string {
  return `${(Math.floor(lengthMm / 10 + 1e-9) / 100).toFixed(2)} m`;
}

export function percent(share: number): string {
  return `${(share * 100).toFixed(1)} %`;
}

export function counted(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}

/** Seconds as `0:42` or `12:05`. */
export function clock(seconds: number): string {
  const whole = Math.max(0, Math.ceil(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
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
  return name === null ? material : `${material}-${name}`;
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
