import type { Placement } from '../../../lay/lay.ts';
import type { PicturedPart, PicturedRoll } from '../../api/pictured.ts';
import type { Drag } from './holding/holding.ts';
import type { Overlay } from './drawing/scene.ts';

/** What the picture of a roll is given. Lengths in mm. */
export interface RollPictureProps {
  /** What the picture is called, for those who do not see it. */
  readonly label: string;
  readonly roll: PicturedRoll;
  /** All parts of the run: those that are placed are drawn. */
  readonly parts: readonly PicturedPart[];
  readonly placements: readonly Placement[];
  readonly pinned: ReadonlySet<string>;
  /** Of the lay; left out, how far its parts reach. */
  readonly length?: number;
  /** Where bites begin. */
  readonly bites?: readonly number[];
  /** What the search is trying: x, y, rotation, x, y, rotation ... of `labels`. */
  readonly trying?: {
    readonly labels: readonly string[];
    readonly places: readonly number[];
  } | null;
  readonly selected: ReadonlySet<string>;
  readonly onSelect: (labels: ReadonlySet<string>) => void;
  readonly onHover?: (label: string | null) => void;
  /** Left out: nothing can be moved. */
  readonly drag?: Drag | null;
  /** There: a drag draws a rectangle, told as a polygon of whole mm. */
  readonly defectTool?: { readonly onDefect: (polygon: [number, number][]) => void } | null;
  /** Parts are drawn thin and empty, for the overlay to stand out. */
  readonly faint?: boolean;
  readonly overlay?: Overlay;
  /** Is given what draws the next frame, for an overlay that moves. */
  readonly redraw?: { current: (() => void) | null };
}
