import type { PicturedRoll } from '../../../api/pictured.ts';
import type { Manner } from './draw-parts.ts';
import type { Held } from '../holding/holding.ts';
import type { PartOnRoll } from '../places/placing.ts';
import { lengthReached } from '../places/placing.ts';
import type { Extent, Size, View } from '../places/view.ts';

/** Draws over the picture. True: it is not finished and wants to be called again at the next frame. */
export type Overlay = (
  ctx: CanvasRenderingContext2D,
  view: View,
  frame: CanvasWindow,
) => boolean | void;

/** The window that is drawn to. The canvas is `ratio` times as large, and has no transform. */
interface CanvasWindow extends Size {
  readonly ratio: number;
  /** Whether nobody is moving the view just now. */
  readonly resting: boolean;
}

/** Everything that is to be seen. */
export interface Scene {
  readonly roll: PicturedRoll;
  readonly placed: readonly PartOnRoll[];
  readonly tried: readonly PartOnRoll[];
  readonly manner: Manner;
  readonly selected: ReadonlySet<string>;
  readonly focused: string | null;
  readonly held: Held | null;
  readonly marking: Extent | null;
  /** mm where bites begin. */
  readonly bites: readonly number[];
  /** mm, of the lay. */
  readonly length: number;
  readonly overlay: Overlay | null;
}

/** How far the roll is drawn, mm: to its end, or past the lay where it is said to be enough. */
export function rollEnd({ roll, length }: Pick<Scene, 'roll' | 'length'>): number {
  return roll.length ?? Math.max(1.1 * length, length + 500, 2 * roll.width);
}

/** All that there is to see: the roll, and parts past its end. */
export function wholeExtent(scene: Pick<Scene, 'roll' | 'length'>): Extent {
  return [0, 0, Math.max(rollEnd(scene), scene.length), scene.roll.width];
}

/** What is to be in the window at first: the lay and a little more, of an empty roll its first metres. */
export function firstExtent(scene: Pick<Scene, 'roll' | 'length' | 'placed' | 'tried'>): Extent {
  const { roll, length } = scene;
  const reach = Math.max(length, lengthReached(scene.placed), lengthReached(scene.tried));
  const wanted = reach > 0 ? 1.03 * reach + 50 : 2.5 * roll.width;
  return [0, 0, Math.min(wanted, Math.max(wholeExtent(scene)[2], reach)), roll.width];
}

/** Whether two scenes are of the same roll, as far as the eye is concerned. */
export function sameRoll(a: PicturedRoll, b: PicturedRoll): boolean {
  return a.material === b.material && a.name === b.name && a.width === b.width;
}
