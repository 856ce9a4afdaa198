import { createHash } from 'node:crypto';

/**
 * The first twelve hex digits of the SHA-256 of a run.json. Programs and papers of a run bear them, so
 * that nobody takes those of another run for them.
 */
export function fingerprintOf(record: string): string {
  return createHash('sha256').update(record).digest('hex').slice(0, 12);
}
