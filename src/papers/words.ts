/** Lengths and times as a workshop reads them. */

/** mm as metres with two decimals, always rounded up: never less cloth than is needed. */
export function metresUp(lengthMm: number): string {
  return `${(Math.ceil(lengthMm / 10 - 1e-9) / 100).toFixed(2)} m`;
}

export function percent(share: number): string {
  return `${(share * 100).toFixed(1)} %`;
}

/** Minutes as `1 h 05 min`, `12 min` or `under 1 min`. */
export function duration(minutes: number): string {
  if (minutes < 1) return 'under 1 min';
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  return hours === 0 ? `${rest} min` : `${hours} h ${String(rest).padStart(2, '0')} min`;
}

/** `1 part`, `2 parts`; `several` where an s at the end does not make it many. */
export function counted(count: number, word: string, several = `${word}s`): string {
  return `${count} ${count === 1 ? word : several}`;
}
