import { decimal } from '../base/numbers.ts';
import { listed } from '../base/wording.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Comparable } from './comparable.ts';
import { wordLength } from './difference.ts';

/** What x and y are called where a thing lies: on a roll, in a vehicle, or on a sheet of a drawing. */
export type MoveFrame = 'roll' | 'vehicle' | 'sheet';

/** The words for +x, -x, +y and -y. */
const directions: Readonly<Record<MoveFrame, readonly [string, string, string, string]>> = {
  roll: ['along the roll', 'back towards the start of the roll', 'away from Y 0', 'towards Y 0'],
  vehicle: ['to the right', 'to the left', 'towards the front', 'towards the back'],
  sheet: ['to the right', 'to the left', 'up', 'down'],
};

/** The layer on which the cutter's drawings have their outlines: these are drawn as they lie on a roll. */
const cutterLayer = 'CUT';

export function moveFrameOf({ kind, items }: Comparable): MoveFrame {
  if (kind === 'set') return 'vehicle';
  const isLay = items.some(({ words }) => words['layer'] === cutterLayer);
  return kind === 'drawing' && !isLay ? 'sheet' : 'roll';
}

/** A move in words, size and direction: `12 mm to the right and 3 mm towards the front`. `by` in mm. */
export function wordMove(by: Point, frame: MoveFrame): string {
  const [right, left, forward, back] = directions[frame];
  const step = (length: number, plus: string, minus: string): string[] =>
    Number(decimal(length, 2)) === 0
      ? []
      : [`${decimal(Math.abs(length), 2)} mm ${length > 0 ? plus : minus}`];
  const steps = [...step(by.x, right, left), ...step(by.y, forward, back)];
  return steps.length === 0 ? wordLength(Math.hypot(by.x, by.y)) : listed(steps);
}
