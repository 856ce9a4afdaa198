import { decimal } from '../../base/numbers.ts';

const lineWidth = 100;

/**
 * JSON that a person can read and compare. What fits in a line stands in one line; so does every array of
 * numbers, whatever its length, so that a contour is one line. For plain values. Keys stay in the given
 * order, undefined ones are left out, and numbers have at most six decimals. Throws RangeError if a
 * number is not finite.
 */
export function writeJson(value: unknown): string {
  return `${indented(value, '')}\n`;
}

function indented(value: unknown, indent: string): string {
  const flat = inOneLine(value);
  if (indent.length + flat.length <= lineWidth || holdsNumbersOnly(value)) return flat;
  if (typeof value !== 'object' || value === null) return flat;
  const deeper = `${indent}  `;
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  const items = Array.isArray(value)
    ? value.map((item) => indented(item, deeper))
    : entriesOf(value).map(([key, item]) => `${JSON.stringify(key)}: ${indented(item, deeper)}`);
  return `${open}\n${items.map((item) => `${deeper}${item}`).join(',\n')}\n${indent}${close}`;
}

function inOneLine(value: unknown): string {
  if (typeof value === 'number') return decimal(value, 6);
  if (typeof value !== 'object' || value === null) return JSON.stringify(value ?? null);
  if (Array.isArray(value)) return `[${value.map(inOneLine).join(', ')}]`;
  const items = entriesOf(value).map(([key, item]) => `${JSON.stringify(key)}: ${inOneLine(item)}`);
  return items.length === 0 ? '{}' : `{ ${items.join(', ')} }`;
}

function entriesOf(value: object): [string, unknown][] {
  return Object.entries(value).filter(([, item]) => item !== undefined);
}

function holdsNumbersOnly(value: unknown): boolean {
  return (
    Array.isArray(value) &&
    value.length > 0 &&
    value.every((item) => typeof item === 'number' || holdsNumbersOnly(item))
  );
}
