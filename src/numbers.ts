/**
 * Writes a number with at most `decimals` decimals: no exponent, no trailing zeros, no minus zero.
 * The one way numbers get into any file, so that the same value is the same bytes everywhere.
 * Throws RangeError on NaN and infinities: a file must never hold one.
 */
export function decimal(value: number, decimals: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`cannot write ${value} as a decimal`);
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}

/** The nearest multiple of 10^-decimals, never minus zero. */
export function rounded(value: number, decimals: number): number {
  return Number(decimal(value, decimals));
}
