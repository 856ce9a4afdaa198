/**
 * A function of an object that is worked out once, as long as the object is in use. It must be pure, and the
 * object must not change.
 */
export function rememberedFor<A extends object, R>(work: (of: A) => R): (of: A) => R {
  const known = new WeakMap<A, { readonly result: R }>();
  return (of) => {
    const found = known.get(of) ?? { result: work(of) };
    known.set(of, found);
    return found.result;
  };
}

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

/**
 * Remembers what was worked out of an object as long as it is in use, for the last `most` keys: whatever else
 * the work depends on must be in the key. The work must be pure, and the object must not change.
 */
export function memoryByKey<A extends object, R>(
  most: number,
): (of: A, key: string, work: () => R) => R {
  const known = new WeakMap<A, Map<string, { readonly result: R }>>();
  return (of, key, work) => {
    const own = known.get(of) ?? new Map<string, { readonly result: R }>();
    known.set(of, own);
    const found = own.get(key) ?? { result: work() };
    own.delete(key);
    own.set(key, found);
    const [oldest] = own.keys();
    if (own.size > most) own.delete(oldest!);
    return found.result;
  };
}
