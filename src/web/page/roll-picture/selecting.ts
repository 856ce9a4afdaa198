/** Picks a part (null: none), or adds it to what is selected and takes it out again. */
export function chosen(
  selected: ReadonlySet<string>,
  label: string | null,
  add: boolean,
): ReadonlySet<string> {
  if (label === null) return add ? selected : new Set();
  if (!add) return new Set([label]);
  const next = new Set(selected);
  if (!next.delete(label)) next.add(label);
  return next;
}
