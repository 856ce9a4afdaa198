import { afterEach, beforeEach } from 'vitest';
import type { Workshop } from '../../src/web/workshop/workshop.ts';
import { workshopIn } from '../../src/web/workshop/workshop.ts';
import { openWorkshop, wren } from '../support/wren.ts';

/** A workshop with the Wren in it. */
interface Shop {
  readonly shop: Workshop;
  readonly root: string;
}

/** Opens a workshop of its own for each test of a file, and gives what gives it. */
export function shopForEach(): () => Shop {
  let now: (Shop & { readonly close: () => void }) | null = null;
  beforeEach(() => {
    const { root, close } = openWorkshop(wren);
    now = { shop: workshopIn(root), root, close };
  });
  afterEach(() => now?.close());
  return () => now!;
}
