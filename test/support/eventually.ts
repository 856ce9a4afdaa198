import { vi } from 'vitest';

/** Waits until a check passes: long enough for a machine that is busy with other things. */
export function eventually<T>(check: () => T | Promise<T>): Promise<T> {
  return vi.waitFor(check, { timeout: 20_000 });
}
