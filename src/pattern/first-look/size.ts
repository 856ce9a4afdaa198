import type { Finding, Place } from '../../base/findings.ts';
import { heightOf, widthOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { decimal } from '../../base/numbers.ts';

/** Bounds for the longer side of any piece of vehicle carpet, mm. */
const plausible = { least: 30, most: 6000 };

/** Whether a piece of vehicle carpet may be so long, mm. */
export function isPlausibleLength(longer: number): boolean {
  return longer >= plausible.least && longer <= plausible.most;
}

/**
 * A warning for a carpet piece of a size that no vehicle has: most often the drawing was read in the
 * wrong units.
 */
export function sizeFindings(outline: Path, where: Place): Finding[] {
  const box = boxOfPath(outline);
  const [width, height] = [widthOf(box), heightOf(box)];
  const longer = Math.max(width, height);
  if (isPlausibleLength(longer)) return [];
  const size = (factor: number): string =>
    `${decimal(width * factor, 1)} x ${decimal(height * factor, 1)} mm`;
  const other = longer < plausible.least ? 25.4 : 1 / 25.4;
  const words = longer < plausible.least ? 'smaller' : 'larger';
  return [
    {
      severity: 'warning',
      rule: 'implausible-size',
      message: `this outline is ${size(1)}, ${words} than any carpet piece; with the other of mm and inches it would be ${size(other)}.`,
      todo: 'Check the units of the drawing, or the scale of its insert.',
      where,
    },
  ];
}
