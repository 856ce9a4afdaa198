import type { Transform } from './transform.ts';

/** The transform that undoes another. Throws RangeError where none can: all points were brought onto one line. */
export function inverse({ a, b, c, d, e, f }: Transform): Transform {
  const area = a * d - b * c;
  if (area === 0) throw new RangeError('a transform onto a line cannot be undone');
  return {
    a: d / area,
    b: -b / area,
    c: -c / area,
    d: a / area,
    e: (c * f - d * e) / area,
    f: (b * e - a * f) / area,
  };
}
