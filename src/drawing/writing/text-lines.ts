import { headingOf } from '../../geometry/paths/angle.ts';
import { plus, times } from '../../geometry/paths/point.ts';
import type { TextEntity } from '../drawing.ts';

/**
 * A text of several lines as one text for each line. They are 5/3 of the height apart, as in an MTEXT.
 */
export function textLines(entity: TextEntity): TextEntity[] {
  const down = times(headingOf(entity.deg - 90), (entity.height * 5) / 3);
  return entity.text
    .split('\n')
    .map((text, i) => ({ ...entity, text, at: plus(entity.at, times(down, i)) }));
}
