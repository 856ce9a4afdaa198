/** What was made of facts that several orders share, by these facts and a name for what it is. */
const made = new WeakMap<object, Map<string, unknown>>();

/**
 * Makes something of facts, or gives what was made of the same facts before: orders with the same choices share theirs,
 * and their pictures are drawn once. `what` names what is made, with all that it depends on besides the facts.
 */
export function once<T>(facts: object, what: string, make: () => T): T {
  const own = made.get(facts) ?? new Map<string, unknown>();
  made.set(facts, own);
  if (!own.has(what)) own.set(what, make());
  return own.get(what) as T;
}
