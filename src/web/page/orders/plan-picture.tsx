import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Plan, PlanShape } from '../../api/orders.ts';
import { handWords } from '../words.ts';

/**
 * Sizes as shares of the plan's height: of the type, of the room beside the plan, and of the room above
 * it for the marks of front and driver.
 */
const shares = { type: 0.026, side: 0.02, head: 0.1 };

/**
 * The vehicle from above, with its front at the top. What moved with the hand of drive is hatched, what
 * is there for one hand only is dashed, and pads are cross-hatched. The left `drawnShare` percent of
 * the picture show the set as drawn, the rest shows it as ordered.
 */
export function PlanPicture({ plan, drawnShare }: { plan: Plan; drawnShare: number }): JSX.Element {
  const id = useId();
  const [minX, minY, maxX, maxY] = plan.box;
  const long = maxY - minY;
  const unit = long * shares.type;
  const half = Math.max(Math.abs(minX), Math.abs(maxX)) + long * shares.side + 3 * unit;
  const top = -maxY - long * shares.head;
  const height = long * (1 + shares.head + shares.side);
  const line = half * ((2 * drawnShare) / 100 - 1);
  const isBoth = drawnShare > 0 && drawnShare < 100;
  const shown = drawnShare >= 50 ? plan.drawn : plan.hand;
  return (
    <svg
      class="plan"
      role="img"
      aria-label={`Plan of the vehicle from above: ${handWords(shown)}${isBoth ? ', and the other hand beside the line' : ''}`}
      viewBox={`${-half} ${top} ${2 * half} ${height}`}
    >
      <defs>
        <Hatch id={`${id}-moved`} size={34} both={false} />
        <Hatch id={`${id}-pad`} size={26} both={true} />
        <clipPath id={`${id}-drawn`}>
          <rect x={-half} y={top} width={line + half} height={height} />
        </clipPath>
        <clipPath id={`${id}-ordered`}>
          <rect x={line} y={top} width={half - line} height={height} />
        </clipPath>
      </defs>
      <line class="centreline" x1={0} x2={0} y1={top + 3 * unit} y2={top + height - 20} />
      {drawnShare > 0 && (
        <g clip-path={`url(#${id}-drawn)`}>
          <Shapes shapes={plan.before} id={id} />
        </g>
      )}
      {drawnShare < 100 && (
        <g clip-path={`url(#${id}-ordered)`}>
          <Shapes shapes={plan.after} id={id} />
        </g>
      )}
      {drawnShare > 0 && (
        <Driver hand={plan.drawn} isNamed={isBoth} half={half} top={top} unit={unit} />
      )}
      {drawnShare < 100 && (
        <Driver hand={plan.hand} isNamed={isBoth} half={half} top={top} unit={unit} />
      )}
      {isBoth && <line class="divider" x1={line} x2={line} y1={top} y2={top + height} />}
      <g class="front" font-size={unit} stroke-width={unit / 6}>
        <path d={frontArrow(top + 0.5 * unit, unit)} />
        <text x={unit} y={top + 1.4 * unit}>
          FRONT
        </text>
        <text x={-half + unit / 2} y={top + 1.4 * unit}>
          LEFT
        </text>
        <text x={half - unit / 2} y={top + 1.4 * unit} text-anchor="end">
          RIGHT
        </text>
      </g>
    </svg>
  );
}

/** The arrow that points to the front: SVG path data, from its tip down. */
function frontArrow(tip: number, unit: number): string {
  const barb = 0.6 * unit;
  return `M0 ${tip + 2.4 * unit}V${tip}M${-barb} ${tip + barb}L0 ${tip}L${barb} ${tip + barb}`;
}

function Hatch({ id, size, both }: { id: string; size: number; both: boolean }): JSX.Element {
  return (
    <pattern id={id} width={size} height={size} patternUnits="userSpaceOnUse">
      <path class="hatch" d={`M0 ${size}L${size} 0${both ? `M0 0L${size} ${size}` : ''}`} />
    </pattern>
  );
}

/**
 * The shapes of the plan. In the vehicle +y is forward, on the page it is down, so y is turned over.
 */
function Shapes({ shapes, id }: { shapes: readonly PlanShape[]; id: string }): JSX.Element {
  return (
    <g transform="scale(1 -1)">
      {shapes.map(({ name, d, lines, kind, moved, alone, left }) => (
        <g
          class={`shape ${kind}${moved ? ' moved' : ''}${alone ? ' alone' : ''}${left ? ' left' : ''}`}
        >
          <title>{titleOf(name, kind, moved, left)}</title>
          <path class="body" d={d} />
          {!left && (moved || kind === 'pad') && (
            <path
              class="fill"
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

function titleOf(name: string, kind: PlanShape['kind'], moved: boolean, left: boolean): string {
  if (left) return `${name}, not ordered`;
  return moved && kind !== 'pad' ? `${name}, changed over` : name;
}

/** A wheel to steer by, where the driver sits. */
function Driver({
  hand,
  isNamed,
  half,
  top,
  unit,
}: {
  hand: 'RHD' | 'LHD';
  /** Whether the hand of drive is written beside it, as where both hands are seen. */
  isNamed: boolean;
  half: number;
  top: number;
  unit: number;
}): JSX.Element {
  const x = (hand === 'LHD' ? -1 : 1) * half * 0.52;
  const y = top + 1.1 * unit;
  const r = 0.8 * unit;
  return (
    <g class="driver" font-size={unit} stroke-width={unit / 5}>
      <circle cx={x} cy={y} r={r} />
      <circle cx={x} cy={y} r={0.2 * unit} class="full" />
      <path d={`M${x - r} ${y}H${x + r}M${x} ${y}V${y + r}`} />
      <text x={x} y={y + 1.9 * unit} text-anchor="middle">
        {isNamed ? `DRIVER ${hand}` : 'DRIVER'}
      </text>
    </g>
  );
}
