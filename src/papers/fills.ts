import { mm } from './svg.ts';

/**
 * How the sets of a lay are told apart: a tint and a hatch each, so that the picture reads in black
 * and white too. The seventh set looks like the first; its labels say which it is.
 */
const tints = ['#fdf6e3', '#e3eef9', '#e9f4e2', '#f9e6e6', '#efe6f6', '#e2f3f1'] as const;

const hatches = [
  () => '',
  (s: number) => `<path d="M0 ${mm(s)}L${mm(s)} 0"/>`,
  (s: number) => `<circle cx="${mm(s / 2)}" cy="${mm(s / 2)}" r="${mm(s / 14)}"/>`,
  (s: number) => `<path d="M0 ${mm(s / 2)}H${mm(s)}"/>`,
  (s: number) => `<path d="M0 0L${mm(s)} ${mm(s)}M0 ${mm(s)}L${mm(s)} 0"/>`,
  (s: number) => `<path d="M${mm(s / 2)} 0V${mm(s)}"/>`,
] as const;

/** Pattern definitions for an SVG; `spacing` is the hatch's step in mm on the lay. */
export function fillDefinitions(spacing: number): string {
  const sets = tints.map((tint, i) => pattern(`set-${i}`, spacing, tint, hatches[i]!(spacing)));
  const barred = pattern(
    'barred',
    spacing / 2,
    '#ffffff',
    `<path d="M0 ${mm(spacing / 2)}L${mm(spacing / 2)} 0"/>`,
  );
  return `<defs>${sets.join('')}${barred}</defs>`;
}

function pattern(id: string, size: number, tint: string, hatch: string): string {
  const s = mm(size);
  const drawn =
    hatch === ''
      ? ''
      : `<g fill="none" stroke="#9a958c" stroke-width="${mm(size / 18)}">${hatch}</g>`;
  return `<pattern id="${id}" width="${s}" height="${s}" patternUnits="userSpaceOnUse"><rect width="${s}" height="${s}" fill="${tint}"/>${drawn}</pattern>`;
}

/** The fill of the nth set. */
export function setFill(n: number): string {
  return `url(#set-${n % tints.length})`;
}

/** Where nothing may lie. */
export const barredFill = 'url(#barred)';
