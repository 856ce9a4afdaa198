import type { Finding } from '../../../base/findings.ts';
import type { Shop } from '../../api/shop.ts';

/** The cutter that was last worked with. */
export function lastCutter({ runs, cutters }: Shop): string {
  return runs.find((run) => run.cutter !== null)?.cutter ?? cutters[0]?.name ?? '';
}

/** A name for a run that no run and no set has. */
export function freeRunName(wanted: string, { runs, sets }: Shop): string {
  const taken = new Set([...runs, ...sets].map((one) => one.name));
  const names = [wanted, ...Array.from({ length: 999 }, (_, i) => `${wanted}-${i + 2}`)];
  return names.find((one) => !taken.has(one))!;
}

/** Where a run is given no title. */
export const untitled: Finding = {
  severity: 'error',
  rule: 'title',
  message: 'a run has a title.',
  todo: 'Say what it is called.',
  where: {},
};
