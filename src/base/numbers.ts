/**
 * Writes a number with at most `decimals` decimals: no exponent, no trailing zeros, no minus zero. All
 * numbers in written files come from here or from `exact`, so that the same value is the same bytes
 * everywhere. Throws RangeError on NaN and infinities: a file must never hold one.
 */
export function decimal(value: number, decimals: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`cannot write ${value} as a decimal`);
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? withoutEndingZeros(text) : text;
  return short === '-0' ? '0' : short;
}

/** Nearly every number of every file comes by here: letter by letter this is quicker than with a pattern. */
function withoutEndingZeros(text: string): string {
  let end = text.length;
  while (text[end - 1] === '0') end--;
  return text.slice(0, text[end - 1] === '.' ? end - 1 : end);
}

/** The nearest multiple of 10^-decimals, never minus zero. */
export function rounded(value: number, decimals: number): number {
  return Number(decimal(value, decimals));
}

/**
 * Writes a number with as many digits as it takes to tell it from every other double, so that reading it
 * back gives the same number to the last bit. No exponent. Throws RangeError on NaN and infinities.
 */
export function exact(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`cannot write ${value} as a decimal`);
  if (value === 0) return '0';
  const [digits, exponent] = value.toExponential().split('e') as [string, string];
  const sign = digits.startsWith('-') ? '-' : '';
  const all = digits.replace(/[-.]/g, '');
  const point = Number(exponent) + 1;
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${all}`;
  if (point >= all.length) return sign + all.padEnd(point, '0');
  return `${sign}${all.slice(0, point)}.${all.slice(point)}`;
}
