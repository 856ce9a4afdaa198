import { createHash } from 'node:crypto';

/** SHA-256 as 64 hex digits. */
export function sha256(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
