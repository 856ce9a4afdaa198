import { sha256 } from '../../base/sha256.ts';

/**
 * The first twelve hex digits of the SHA-256 of a run.json. Programs and papers of a run bear them, so
 * that nobody takes those of another run for them.
 */
export function fingerprintOf(record: string): string {
  return sha256(record).slice(0, 12);
}
