import type { RunSheet } from '../../run/run-file.ts';

/** A run file as it stands on the disk. */
export interface RunFile {
  readonly name: string;
  readonly sheet: RunSheet;
  /** Of its text: whoever saves says what it began with. */
  readonly version: string;
}
