import type { Path } from '../../geometry/paths/path.ts';
import { polyline } from '../../geometry/paths/path.ts';
import { leftOf, minus, plus, times, unit } from '../../geometry/paths/point.ts';
import type { Notch } from '../../handing/part.ts';
import type { Cutter } from '../cutter.ts';

/**
 * The strokes of a notch, each from the edge inwards: a slit is one; a V has one on each side of its
 * mouth, `width` mm across on the edge, to the tip that both share; a notch that is marked has none.
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
