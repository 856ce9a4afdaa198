import type { z } from 'zod';
import type { Finding } from '../base/findings.ts';
import type { Block } from '../drawing/drawing.ts';
import type { setSchema } from '../pattern/set-file.ts';

/** What a set file says, as it is written: what has a default may be left out. */
export type SetSaid = z.input<typeof setSchema>;
export type PieceSaid = SetSaid['pieces'][string];

/** What an edit changes. */
export interface DraftContent {
  readonly said: SetSaid;
  /** The blocks of the set's drawing, in mm. */
  readonly blocks: readonly Block[];
}

/** The content after an edit, and what somebody must be told of it: what was left as it was. */
export interface AppliedEdit extends DraftContent {
  readonly told: readonly Finding[];
}
