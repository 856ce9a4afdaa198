/**
 * A function of two objects that is worked out once for both, as long as they are in use. It must be pure,
 * and the objects must not change.
 */
export function rememberedForBoth<A extends object, B extends object, R>(
  work: (a: A, b: B) => R,
): (a: A, b: B) => R {
  const known = new WeakMap<A, WeakMap<B, R>>();
  return (a, b) => {
    const ofFirst = known.get(a) ?? new WeakMap<B, R>();
    known.set(a, ofFirst);
    if (!ofFirst.has(b)) ofFirst.set(b, work(a, b));
    return ofFirst.get(b)!;
  };
}
