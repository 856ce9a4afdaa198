import type { PicturedRoll } from '../../../api/pictured.ts';
import type { Held } from '../holding/holding.ts';
import type { DefectCorners } from '../places/defect.ts';
import type { PartOnRoll } from '../places/placing.ts';
import { lengthReached } from '../places/placing.ts';
import type { Extent, Size, View } from '../../picture/view.ts';
import { isOfCloth } from '../../words.ts';
import type { Manner } from './draw-parts.ts';

/**
 * Draws over the picture. It gives true where it is not finished and wants to be called again at the
 * next frame.
 */
export type Overlay = (
  ctx: CanvasRenderingContext2D,
  view: View,
  frame: CanvasWindow,
) => boolean | void;

/** The window that is drawn in. The canvas is `ratio` times as large and has no transform. */
interface CanvasWindow extends Size {
  readonly ratio: number;
  /** Whether nobody is moving the view just now. */
  readonly resting: boolean;
}

/** Everything that a picture of a roll shows. */
export interface Scene {
  readonly roll: PicturedRoll;
  readonly placed: readonly PartOnRoll[];
  readonly tried: readonly PartOnRoll[];
  readonly manner: Manner;
  readonly selected: ReadonlySet<string>;
  readonly focused: string | null;
  readonly held: Held | null;
  /** The defect that is just being drawn. */
  readonly marking: DefectCorners | null;
  /** Where bites begin along the roll, mm. */
  readonly bites: readonly number[];
  /** The length of the lay, mm. */
  readonly length: number;
  readonly overlay: Overlay | null;
  /** Whether a long lay is shown in rows below each other. */
  readonly inRows: boolean;
}

/**
 * How far the roll is drawn, mm: to its end or, where it is said that there is enough of it, past the
 * lay.
 */
export function rollEnd({ roll, length }: Pick<Scene, 'roll' | 'length'>): number {
  return roll.length ?? Math.max(1.1 * length, length + 500, 2 * roll.width);
}

/** The extent of all that there is to see: the roll, and parts past its end. */
export function wholeExtent(scene: Pick<Scene, 'roll' | 'length'>): Extent {
  return [0, 0, Math.max(rollEnd(scene), scene.length), scene.roll.width];
}

/**
 * What the window shows at first: the lay and a little more, or the first metres of an empty roll.
 */
export function firstExtent(scene: Pick<Scene, 'roll' | 'length' | 'placed' | 'tried'>): Extent {
  const { roll, length } = scene;
  const reach = Math.max(length, lengthReached(scene.placed), lengthReached(scene.tried));
  const wanted = reach > 0 ? 1.03 * reach + 50 : (roll.length ?? 2.5 * roll.width);
  return [0, 0, Math.min(wanted, Math.max(wholeExtent(scene)[2], reach)), roll.width];
}

/** Whether two pictured rolls are the same roll, as far as the picture is concerned. */
export function sameRoll(a: PicturedRoll, b: PicturedRoll): boolean {
  return isOfCloth(a, b) && a.name === b.name && a.width === b.width;
}
