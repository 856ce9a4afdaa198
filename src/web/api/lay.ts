import { z } from 'zod';
import type { Finding } from '../../base/findings.ts';
import type { Placement } from '../../lay/lay.ts';
import type { PicturedLay, PicturedPart, PicturedRoll } from './pictured.ts';

/** All that the view Lay needs of a run. */
export interface LayTable {
  readonly run: string;
  readonly title: string;
  readonly version: string;
  readonly parts: readonly PicturedPart[];
  readonly rolls: readonly PicturedRoll[];
  /** The lays that are known. A roll on which nothing was ever laid has none. */
  readonly lays: readonly PicturedLay[];
  readonly findings: readonly Finding[];
  /** Rolls on which no set of the run can lie, each with a word about it. */
  readonly small: readonly {
    readonly material: string;
    readonly colour: string | null;
    readonly roll: string | null;
    readonly finding: Finding;
  }[];
  readonly search: SearchState | null;
  /** The last lays of each cloth, the newest first. */
  readonly earlier: readonly EarlierLay[];
  /** Whether a search has found lays that could not be written into the run file. */
  readonly isUnsaved: boolean;
}

/** A lay of a cloth that a search left, to which a person can go back. */
export interface EarlierLay {
  readonly id: string;
  /** When the search ended: ISO 8601, UTC. */
  readonly at: string;
  readonly material: string;
  readonly colour: string | null;
  /** Of the lays on all its rolls together, mm. */
  readonly length: number;
  readonly parts: number;
}

/** A lay that is to be put back, in the version of the run file that somebody looks at. */
export const layBackSchema = z.strictObject({ version: z.string(), id: z.string() });

/** A search that is under way. */
export interface SearchState {
  /** The cloth that is just being laid: its material, with the colour if it has one. */
  readonly cloth: string;
  /** Which of the cloths it is, counted from 1; `of` is how many there are. */
  readonly number: number;
  readonly of: number;
  readonly elapsed: number;
  /** Seconds that are left for all materials together. */
  readonly left: number;
  /** What seems to have no room on the rolls of the cloth, in sentences. */
  readonly unfit: readonly string[];
}

/** Where a part is to lie: see Placement. */
const placeSchema = z.strictObject({ x: z.number(), y: z.number(), rotation: z.number() });

/** A part that is moved by hand, or let go. */
export const partMoveSchema = z.strictObject({
  version: z.string().describe('of the run file that the person looks at'),
  material: z.string(),
  colour: z.string().nullable(),
  roll: z.string().nullable(),
  label: z.string(),
  to: placeSchema
    .nullable()
    .describe('null: the pin is taken out, and the part lies where it lies'),
  dry: z.boolean().describe('true: it is only asked whether the part may lie there'),
});

/** A search for shorter lays. */
export const searchWishSchema = z.strictObject({
  seconds: z.number().min(0).max(86_400),
  cloth: z.string().optional().describe('left out: all that the run has parts of'),
});

/** `seconds` are for all materials together. */
export type SearchWish = Readonly<z.infer<typeof searchWishSchema>>;
export type PartMove = Readonly<z.infer<typeof partMoveSchema>>;
/** Where a part lies: turned counter-clockwise about its own origin, then moved; mm and degrees. */
export type PartPlace = Omit<Placement, 'label'>;

export interface PartMoved {
  /** Why the part may not lie there. Where there is none it may, and unless it was only asked, it does. */
  readonly findings: readonly Finding[];
  /** The nearest place within a few mm where it may lie; null: there is none. */
  readonly near: PartPlace | null;
  /** Of the run file as it stands now. */
  readonly version: string;
}
