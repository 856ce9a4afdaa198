import type { Placement } from '../../../lay/lay.ts';
import type { PicturedPart, PicturedRoll } from '../../api/pictured.ts';
import type { Overlay } from './drawing/scene.ts';
import type { DefectCorners, DefectShape } from './places/defect.ts';
import type { Drag } from './holding/holding.ts';

/** What can be done in the picture from outside it. */
export interface RollTools {
  /** Brings a part into the window. */
  readonly show: (label: string) => void;
  /** Turns a part to where it may lie next, and lays it down if it may lie so. */
  readonly turn: (label: string) => void;
}

/** What the picture of a roll is given. Lengths in mm. */
export interface RollPictureProps {
  /** What the picture is called, for those who do not see it. */
  readonly label: string;
  readonly roll: PicturedRoll;
  /** All parts of the run; those that have a placement are drawn. */
  readonly parts: readonly PicturedPart[];
  readonly placements: readonly Placement[];
  readonly pinned: ReadonlySet<string>;
  /** The length of the lay; left out: how far its parts reach. */
  readonly length?: number;
  /** Where bites begin along the roll. */
  readonly bites?: readonly number[];
  /**
   * What the search is just trying: `places` has three numbers (x, y and rotation) for each of the
   * `labels`.
   */
  readonly trying?: {
    readonly labels: readonly string[];
    readonly places: readonly number[];
  } | null;
  readonly selected: ReadonlySet<string>;
  readonly onSelect: (labels: ReadonlySet<string>) => void;
  readonly onHover?: (label: string | null) => void;
  /** Answers where a part may lie; left out: nothing can be moved. */
  readonly drag?: Drag | null;
  /** Where it is given, dragging draws a defect. */
  readonly defectTool?: {
    readonly shape: DefectShape;
    /** How wide a line is kept, mm. */
    readonly lineWidth: number;
    readonly onDefect: (corners: DefectCorners) => void;
  } | null;
  /** Whether a long lay may be shown in rows below each other, and the whole of it in a strip below. */
  readonly canBeInRows?: boolean;
  /** Is filled with what buttons beside the picture do in it. */
  readonly tools?: { current: RollTools | null };
  /** Whether parts are drawn thin and empty, so that the overlay stands out. */
  readonly faint?: boolean;
  readonly overlay?: Overlay;
  /** Is filled with what draws the next frame, for an overlay that moves. */
  readonly redraw?: { current: (() => void) | null };
}
