import type { JSX } from 'preact';
import type { Spot } from '../../../../drafting/edge-view.ts';
import type { SeamFitView } from '../../../../drafting/seam-view.ts';
import type { View } from '../../picture/view.ts';
import { toScreen } from '../../picture/view.ts';

/** What meets on one of the two edges of a seam: where it is begun, notches with their numbers, and what is alone, ringed. */
export function SeamMarks({
  fit: { begin, met, unmet },
  edge,
  view,
}: {
  readonly fit: SeamFitView;
  readonly edge: 0 | 1;
  readonly view: View;
}): JSX.Element {
  const on = (at: readonly [Spot, Spot]): { x: number; y: number } => {
    const [x, y] = at[edge];
    return toScreen(view, { x, y });
  };
  const start = on(begin);
  return (
    <g class="seam-marks">
      <circle class="edge-begin" cx={start.x} cy={start.y} r={7} />
      {met.map(({ at }, i) => {
        const { x, y } = on(at);
        return (
          <g class="met">
            <circle cx={x} cy={y} r={11} />
            <text x={x} y={y}>
              {i + 1}
            </text>
          </g>
        );
      })}
      {unmet.map((one) => {
        const { x, y } = on(one.at);
        return (
          <g class={one.edge === edge ? 'unmet' : 'unmet missing'}>
            <circle cx={x} cy={y} r={15} />
            <text x={x} y={y - 24}>
              {one.edge === edge ? 'meets none' : 'none here'}
            </text>
          </g>
        );
      })}
    </g>
  );
}
