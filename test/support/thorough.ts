/**
 * How hard tests search for faults. PILEWAY_THOROUGH in the environment is not set in everyday work, 1 in the
 * gate (npm run test:all sets it), and a larger number where somebody wants so many times the gate's searches.
 */
const effort = Number(process.env['PILEWAY_THOROUGH'] ?? 0);

/** Whether somebody looks for what no run has found yet. */
export const isSearch = effort > 1;

/** How often a random search tries: `quick` times in everyday work, `full` times in the gate. */
export function tries(quick: number, full: number): number {
  return effort >= 1 ? Math.round(full * effort) : quick;
}
