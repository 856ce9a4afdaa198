/** A name for a new piece that no other has. */
export function freePieceName(taken: readonly string[]): string {
  for (let n = 1; ; n++) if (!taken.includes(`piece-${n}`)) return `piece-${n}`;
}
