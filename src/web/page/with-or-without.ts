/** A set with something in it, or without it. */
export function withOrWithout<T>(set: ReadonlySet<T>, one: T, isIn: boolean): ReadonlySet<T> {
  const next = new Set(set);
  if (isIn) next.add(one);
  else next.delete(one);
  return next;
}
