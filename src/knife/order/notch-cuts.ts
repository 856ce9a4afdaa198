import type { Path } from '../../geometry/paths/path.ts';
import { polyline } from '../../geometry/paths/path.ts';
import { leftOf, minus, plus, times, unit } from '../../geometry/paths/point.ts';
import type { Notch } from '../../handing/part.ts';
import type { Cutter } from '../cutter.ts';

/**
 * The strokes of a notch, each from the edge inwards. A slit has one. A V has two, from both sides of its
 * mouth, which is `width` mm wide on the edge, to the tip. A notch that is only marked has none.
 */
export function notchCuts({ from, to }: Notch, { notches }: Pick<Cutter, 'notches'>): Path[] {
  switch (notches.cut) {
    case 'mark':
      return [];
    case 'slit':
      return [polyline([from, to], false)];
    case 'v': {
      const aside = times(leftOf(unit(minus(to, from))), notches.width / 2);
      return [plus(from, aside), minus(from, aside)].map((base) => polyline([base, to], false));
    }
  }
}
