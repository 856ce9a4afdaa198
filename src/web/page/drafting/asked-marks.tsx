import type { JSX } from 'preact';
import type { Spot } from '../../../drafting/edge-view.ts';
import type { Gap } from '../../../drafting/gaps.ts';

/** A ring round the place that a question is about. */
export function AskedRing({
  at: [x, y],
  scale,
}: {
  readonly at: Spot;
  readonly scale: number;
}): JSX.Element {
  return <circle class="asked-ring" cx={x} cy={y} r={22 / scale} />;
}

/** The straight line that would close a gap. */
export function GapLine({ gap: { from, to } }: { readonly gap: Gap }): JSX.Element {
  return <path class="gap-line" d={`M${from[0]} ${from[1]}L${to[0]} ${to[1]}`} />;
}
