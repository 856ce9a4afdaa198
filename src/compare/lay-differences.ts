import { counted, metresUp, percent } from '../base/wording.ts';
import type { ComparedLay } from './comparable.ts';
import type { Difference } from './difference.ts';
import { difference } from './difference.ts';

type Lays = Readonly<Record<string, ComparedLay>>;

/** Lays of which length, density or bites differ, each with these as they were and as they are. */
export function layDifferences(before: Lays, after: Lays): Difference[] {
  return Object.entries(after).flatMap(([sheet, is]) => {
    const was = before[sheet];
    if (was === undefined || isSame(was, is)) return [];
    const message = `the lay took ${figures(was)}; it takes ${figures(is)} now.`;
    return [difference('lay', { sheet, label: null }, message)];
  });
}

/** The lays that take the same in both, in a sentence; null: there are none, or no lays at all. */
export function sameLays(before: Lays = {}, after: Lays = {}): string | null {
  const same = Object.entries(after).filter(([sheet, is]) => {
    const was = before[sheet];
    return was !== undefined && isSame(was, is);
  });
  if (same.length === 0) return null;
  const words = same.map(([sheet, is]) => `${sheet} ${figures(is)}`);
  return `Lays that take the same as before: ${words.join('; ')}.`;
}

function isSame(was: ComparedLay, is: ComparedLay): boolean {
  return figures(was) === figures(is);
}

function figures({ length, density, bites }: ComparedLay): string {
  return `${metresUp(length)} at ${percent(density)} in ${counted(bites, 'bite')}`;
}
