import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Plan, PlanShape } from '../../api.ts';
import { handWords } from '../shared/words.ts';

/** mm in the vehicle, round the plan and above it for front and driver. */
const margin = { side: 120, head: 330, foot: 80 };

/**
 * The vehicle from above, front at the top. What moved with the hand is hatched, what is there for one
 * hand only is dashed, pads are cross-hatched. Of its height the upper `drawnShare` percent shows the
 * hand as drawn, the rest as ordered.
 */
export function PlanPicture({ plan, drawnShare }: { plan: Plan; drawnShare: number }): JSX.Element {
  const id = useId();
  const [minX, minY, maxX, maxY] = plan.box;
  const half = Math.max(Math.abs(minX), Math.abs(maxX)) + margin.side;
  const top = -maxY - margin.head;
  const height = maxY - minY + margin.head + margin.foot;
  const line = top + (height * drawnShare) / 100;
  const isBoth = drawnShare > 0 && drawnShare < 100;
  const shown = drawnShare >= 50 ? plan.drawn : plan.hand;
  return (
    <svg
      class="plan"
      role="img"
      aria-label={`Plan of the vehicle from above: ${handWords(shown)}${isBoth ? ', and the other hand above the line' : ''}`}
      viewBox={`${-half} ${top} ${2 * half} ${height}`}
    >
      <defs>
        <Hatch id={`${id}-moved`} size={34} both={false} />
        <Hatch id={`${id}-pad`} size={26} both={true} />
        <clipPath id={`${id}-drawn`}>
          <rect x={-half} y={top} width={2 * half} height={Math.max(0, line - top)} />
        </clipPath>
        <clipPath id={`${id}-ordered`}>
          <rect x={-half} y={line} width={2 * half} height={Math.max(0, top + height - line)} />
        </clipPath>
      </defs>
      <line class="centreline" x1={0} x2={0} y1={top + 200} y2={top + height - 20} />
      {drawnShare > 0 && (
        <g clip-path={`url(#${id}-drawn)`}>
          <Shapes shapes={plan.before} id={id} />
          <Driver hand={plan.drawn} half={half} top={top} />
        </g>
      )}
      {drawnShare < 100 && (
        <g clip-path={`url(#${id}-ordered)`}>
          <Shapes shapes={plan.after} id={id} />
          {drawnShare === 0 && <Driver hand={plan.hand} half={half} top={top} />}
        </g>
      )}
      {isBoth && <line class="divider" x1={-half} x2={half} y1={line} y2={line} />}
      <g class="front">
        <path d={`M0 ${top + 170}V${top + 40}M-34 ${top + 84}L0 ${top + 34}L34 ${top + 84}`} />
        <text x={60} y={top + 90}>
          FRONT
        </text>
        <text x={-half + 30} y={top + 90}>
          LEFT
        </text>
        <text x={half - 30} y={top + 90} text-anchor="end">
          RIGHT
        </text>
      </g>
    </svg>
  );
}

function Hatch({ id, size, both }: { id: string; size: number; both: boolean }): JSX.Element {
  return (
    <pattern id={id} width={size} height={size} patternUnits="userSpaceOnUse">
      <path class="hatch" d={`M0 ${size}L${size} 0${both ? `M0 0L${size} ${size}` : ''}`} />
    </pattern>
  );
}

/** Paths run forward up the page: y is turned over. */
function Shapes({ shapes, id }: { shapes: readonly PlanShape[]; id: string }): JSX.Element {
  return (
    <g transform="scale(1 -1)">
      {shapes.map(({ name, d, lines, kind, moved, alone }) => (
        <g class={`shape ${kind}${moved ? ' moved' : ''}${alone ? ' alone' : ''}`}>
          <title>{moved && kind !== 'pad' ? `${name}, changed over` : name}</title>
          <path class="body" d={d} />
          {(moved || kind === 'pad') && (
            <path
              d={d}
              fill={`url(#${id}-${kind === 'pad' ? 'pad' : 'moved'})`}
              fill-rule="evenodd"
            />
          )}
          <path class="outline" d={d} />
          {lines !== '' && <path class="lines" d={lines} />}
        </g>
      ))}
    </g>
  );
}

/** A wheel to steer by, where the driver sits. */
function Driver({
  hand,
  half,
  top,
}: {
  hand: 'RHD' | 'LHD';
  half: number;
  top: number;
}): JSX.Element {
  const x = (hand === 'LHD' ? -1 : 1) * half * 0.5;
  const y = top + 180;
  return (
    <g class="driver">
      <circle cx={x} cy={y} r={62} />
      <circle cx={x} cy={y} r={16} class="full" />
      <path d={`M${x - 62} ${y}H${x + 62}M${x} ${y}V${y + 62}`} />
      <text x={x} y={y + 128} text-anchor="middle">
        DRIVER
      </text>
    </g>
  );
}
