import type { PlanOverlap } from '../../../../drafting/overlaps.ts';

/** What a piece lies on in the vehicle, and where. */
export interface OverlapWith extends Pick<PlanOverlap, 'box'> {
  /** null: the other half of its own pair. */
  readonly other: string | null;
}

export function overlapsWith(overlaps: readonly PlanOverlap[], piece: string): OverlapWith[] {
  return overlaps
    .filter(({ pieces }) => pieces.includes(piece))
    .map(({ pieces: [one, second], box }) => ({
      box,
      other: one === second ? null : one === piece ? second : one,
    }));
}

/** `cab-floor, about 400 by 300 mm`. */
export function overlapWords({ other, box: [minX, minY, maxX, maxY] }: OverlapWith): string {
  const size = `${(maxX - minX).toFixed(0)} by ${(maxY - minY).toFixed(0)} mm`;
  return `${other ?? 'its own other half'}, about ${size}`;
}
