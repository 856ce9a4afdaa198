import type { RollEntry } from '../../../run/run-file.ts';
import { ringCorners } from '../roll-picture/places/defect.ts';
import { extent } from './rolls.ts';

/** How wide a fault that is drawn or typed as a line is kept, mm, where nobody says otherwise. */
export const defectLine = 20;

/** A defect in words: where it is, and how large. Its corners are [along, across], mm. */
export function defectWords(corners: RollEntry['defects'][number]): string {
  const { along, across, long, wide } = extent(corners);
  if (corners.length === ringCorners && Math.abs(long - wide) <= 2) {
    return `ring of ${Math.round(long)} mm about ${Math.round(along + long / 2)} mm from the start, ${Math.round(across + wide / 2)} mm from the edge`;
  }
  const where = `${Math.round(along)} mm from the start, ${Math.round(across)} mm from the edge: ${Math.round(long)} × ${Math.round(wide)} mm`;
  if (corners.length !== 4) return `${where}, ${corners.length} corners`;
  const isBox = corners.every(
    ([x, y]) => (x === along || x === along + long) && (y === across || y === across + wide),
  );
  return isBox ? where : `${where}, aslant`;
}
