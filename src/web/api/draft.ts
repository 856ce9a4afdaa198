import { z } from 'zod';
import type { Finding } from '../../base/findings.ts';
import { draftEditSchema, seamEditSchema } from '../../drafting/draft-edit.ts';
import type { BothHands } from '../../drafting/both-hands.ts';
import type { OtherHalf } from '../../drafting/halves.ts';
import { followsWords } from '../../pattern/layers.ts';
import type { Question } from '../../drafting/questions.ts';
import type { RunNaming } from '../../drafting/runs-naming.ts';
import type { SeamView } from '../../drafting/seam-view.ts';
import type { DraftHead, PieceView } from '../../drafting/view.ts';

/** A draft, or what changed of it. */
export interface SentDraft {
  readonly head: DraftHead;
  /** The pieces that are not as the page knows them. */
  readonly pieces: readonly PieceView[];
  /** Why the set cannot be read as it stands; empty where it can. */
  readonly findings: readonly Finding[];
  /** What the last edit left as it was, and why. */
  readonly told: readonly Finding[];
}

export interface SentQuestions {
  readonly version: string;
  readonly questions: readonly Question[];
}

export interface SentSeams {
  readonly version: string;
  readonly seams: readonly SeamView[];
}

/** A seam that somebody asks about before it is made. */
export const askedSeamSchema = z.strictObject({ edit: seamEditSchema });

/** An edit, and the version of the files that the page had before it. */
export const sentEditSchema = z.strictObject({ version: z.string(), edit: draftEditSchema });

/** The version of the files in which a step is undone, or done again. */
export const sentVersionSchema = z.strictObject({ version: z.string() });

/** The version that the page knows; left out: none. */
export const knownVersionSchema = z.object({ version: z.string().optional() });

/** What is asked about both hands: a piece, some of its things, and what these may go with. */
export const askedHandsSchema = z.strictObject({
  piece: z.string().min(1).max(200),
  things: z.array(z.number().int().min(0)).max(1000),
  follows: z.array(z.enum(followsWords).nullable()).min(1).max(12),
});

export interface SentHands {
  readonly version: string;
  readonly hands: readonly BothHands[];
}

/** The piece whose other half is looked for. */
export const askedHalvesSchema = z.object({ piece: z.string().min(1).max(200) });

/** The piece of which runs may speak. */
export const askedRunsSchema = z.object({ piece: z.string().min(1).max(200) });

export interface SentRuns {
  readonly runs: readonly RunNaming[];
}

export interface SentHalves {
  readonly version: string;
  readonly halves: readonly OtherHalf[];
}
