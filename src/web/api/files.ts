import { z } from 'zod';
import type { Finding } from '../../base/findings.ts';
import type { PicturedLay, PicturedPart, PicturedRoll } from './pictured.ts';
import type { KeptRoll } from './roll.ts';

/** How the making of a run's files stands. */
export interface CutState {
  readonly isUnderWay: boolean;
  /** What was found the last time; empty while the files are being made. */
  readonly findings: readonly Finding[];
}

/** What the proof says of a run folder as it stands on the disk now. */
export interface ProofOfRun {
  readonly proven: boolean;
  readonly findings: readonly Finding[];
}

/** A run folder, out/<run>, with all that the page shows of it. */
export interface RunFolder extends ProofOfRun {
  readonly name: string;
  readonly title: string;
  readonly fingerprint: string;
  readonly recutOf: string | null;
  readonly files: readonly FolderFile[];
  readonly parts: readonly PicturedPart[];
  readonly rolls: readonly PicturedRoll[];
  readonly lays: readonly PicturedLay[];
  /** Whether the run file would give these very bytes today; null where that is not known. */
  readonly upToDate: boolean | null;
  /** What is left of the rolls once the run is cut, where a roll has a name and a length. */
  readonly rests: readonly KeptRoll[];
}

export interface FolderFile {
  readonly name: string;
  readonly size: number;
  readonly what:
    | 'drawing'
    | 'program'
    | 'dry'
    | 'bite'
    | 'sheet'
    | 'labels'
    | 'paper'
    | 'picture'
    | 'record';
  /** The lay or the order that the file belongs to; null where it belongs to the whole run. */
  readonly of: string | null;
  /**
   * Whether the page gives the file out: programs and drawings only where the proof finds nothing
   * wrong.
   */
  readonly offered: boolean;
}

/** Parts of a run that are to be cut once more. */
export const recutWishSchema = z.strictObject({
  labels: z.array(z.string()).min(1),
  remnant: z.string().nullable().describe('a roll of the shop; null: what the run left on its own'),
});

export type RecutWish = Readonly<z.infer<typeof recutWishSchema>>;

/** A recut that was made: the name of its run folder, and what is worth a look. */
export interface RecutMade {
  readonly name: string;
  readonly findings: readonly Finding[];
}
