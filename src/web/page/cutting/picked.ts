import { chosen } from '../roll-picture/selecting.ts';

/**
 * What is chosen after a part was picked in the picture (`next`). A glove holds no key down, so each press adds a part or
 * takes it out again, and one beside the parts changes nothing; with a key (`isAdding`) the picture does that itself.
 */
export function picked(
  before: ReadonlySet<string>,
  next: ReadonlySet<string>,
  isAdding: boolean,
): ReadonlySet<string> {
  if (isAdding) return next;
  return [...next].reduce((kept, label) => chosen(kept, label, true), before);
}
