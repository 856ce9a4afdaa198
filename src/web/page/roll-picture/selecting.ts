/**
 * What is selected after a part was picked (null: none). With `add` the part is added to what is
 * selected, or taken out of it.
 */
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
