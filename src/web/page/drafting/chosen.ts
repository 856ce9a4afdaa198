/** What is chosen on the desk. */
export type Chosen =
  | { readonly kind: 'nothing' }
  /** Things of the block of the piece that is shown, by their places. */
  | { readonly kind: 'things'; readonly things: readonly number[] }
  /** Stretches of its outline, by their numbers. */
  | { readonly kind: 'edges'; readonly edges: readonly number[] };

export const nothingChosen: Chosen = { kind: 'nothing' };

/** What is chosen after something is pointed at; `add`: besides what is chosen already. */
export function chosenWith(
  before: Chosen,
  at: { readonly kind: 'things' | 'edges'; readonly index: number } | null,
  add: boolean,
): Chosen {
  if (at === null) return add ? before : nothingChosen;
  const own =
    before.kind === 'things' && at.kind === 'things'
      ? before.things
      : before.kind === 'edges' && at.kind === 'edges'
        ? before.edges
        : [];
  const list = !add
    ? [at.index]
    : own.includes(at.index)
      ? own.filter((one) => one !== at.index)
      : [...own, at.index];
  if (list.length === 0) return nothingChosen;
  return at.kind === 'things' ? { kind: 'things', things: list } : { kind: 'edges', edges: list };
}
