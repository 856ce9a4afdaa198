import { z } from 'zod';
import type { Finding } from '../../base/findings.ts';
import type { CutProgress } from '../../jobs/cut-progress.ts';
import type { MachineCard, RollWork } from './cutting.ts';
import type { PicturedLay, PicturedPart, PicturedRoll } from './pictured.ts';
import type { KeptRoll } from './roll.ts';

/** How the making of a run's files stands. */
export interface CutState {
  readonly isUnderWay: boolean;
  /** What is just being done; null where nothing is. */
  readonly progress: CutProgress | null;
  /**
   * How it ended the last time since the server began: the files were made; they were these already; somebody
   * stopped it, or it was refused, and the files before, if any, are as they were. null: it has not ended.
   */
  readonly ended: 'made' | 'same' | 'stopped' | 'refused' | null;
  /** What was found the last time; empty while the files are being made. */
  readonly findings: readonly Finding[];
}

/** What the proof says of a run folder as it stands on the disk now. */
export interface ProofOfRun {
  readonly proven: boolean;
  readonly findings: readonly Finding[];
}

/** A run folder, out/<run>, with all that the page shows of it. */
export interface RunFolder extends ProvenFolder, RunStanding {}

/** What a run folder says by itself, and its proof. */
export interface ProvenFolder extends ProofOfRun {
  readonly name: string;
  readonly title: string;
  readonly fingerprint: string;
  readonly recutOf: string | null;
  readonly files: readonly FolderFile[];
  readonly parts: readonly PicturedPart[];
  readonly rolls: readonly PicturedRoll[];
  readonly lays: readonly PicturedLay[];
  /** How each roll is loaded and cut, in the order of the lays. */
  readonly work: readonly RollWork[];
  readonly machine: MachineCard;
}

/** A run folder as it stands beside the run, the other run folders and the rolls of the shop. */
export interface RunStanding {
  /**
   * What has changed of the run since its files were made, as `changedSince` says it. Where anything has, they
   * must not be cut.
   */
  readonly changes: readonly string[];
  /** What is left of the rolls once the run and its recuts are cut, where a roll has a name and a length. */
  readonly rests: readonly Rest[];
}

/** What is left of a roll. */
export interface Rest extends KeptRoll {
  /** How long the roll was, mm, when the run and its recuts were laid on it: one length for each. */
  readonly laidOn: readonly number[];
}

/** A roll of a run, what is left of which is to be remembered. */
export const restWishSchema = z.strictObject({
  material: z.string(),
  colour: z.string().nullable().describe('null: the material is kept in none'),
  name: z.string(),
});

export type RestWish = Readonly<z.infer<typeof restWishSchema>>;

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
   * wrong and the run has not changed since.
   */
  readonly offered: boolean;
}

/** Whether a machine takes such a file: it is given out only where it may be cut. */
export function isForMachine(what: FolderFile['what']): boolean {
  return ['program', 'dry', 'bite', 'drawing'].includes(what);
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
