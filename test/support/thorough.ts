/**
 * How hard tests search for faults. PILEWAY_THOROUGH in the environment is not set in everyday work and in the gate,
 * 1 in `npm run test:all`, and a larger number where somebody wants so many times its searches.
 */
const effort = Number(process.env['PILEWAY_THOROUGH'] ?? 0);

/** Whether somebody looks for what no run has found yet. */
export const isSearch = effort >= 1;

/** How often a random search tries: `quick` times in everyday work, `full` times in a search. */
export function tries(quick: number, full: number): number {
  return isSearch ? Math.round(full * effort) : quick;
}
