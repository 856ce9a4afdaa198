import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import { Choices, NumberField } from '../controls/fields.tsx';

/** Where the pile leans: a word, degrees counter-clockwise from the vehicle's right, or not said. */
export type PileSaid = 'forward' | 'rearward' | 'left' | 'right' | number | null;

const words = { right: 0, forward: 90, left: 180, rearward: 270 } as const;

/** Degrees of what is said about the pile. */
function pileDegrees(said: PileSaid): number | null {
  return said === null || typeof said === 'number' ? said : words[said];
}

function wordOf(degrees: number): PileSaid {
  const turned = ((degrees % 360) + 360) % 360;
  const found = Object.entries(words).find(([, deg]) => deg === turned);
  return found === undefined ? turned : (found[0] as keyof typeof words);
}

/** An arrow over the vehicle that is turned by its head; the same by words and by degrees. */
export function PileDial({
  value,
  onChange,
}: {
  readonly value: PileSaid;
  readonly onChange: (value: PileSaid) => void;
}): JSX.Element {
  const dial = useRef<SVGSVGElement>(null);
  const degrees = pileDegrees(value);
  const turnTo = (event: PointerEvent): void => {
    const { left, top, width, height } = dial.current!.getBoundingClientRect();
    const [dx, dy] = [event.clientX - left - width / 2, top + height / 2 - event.clientY];
    if (Math.hypot(dx, dy) < 8) return;
    const exact = (Math.atan2(dy, dx) * 180) / Math.PI;
    // The arrow clicks in at the quarters, and else goes by steps of 5 degrees.
    const near = Math.round(exact / 90) * 90;
    const taken = Math.abs(exact - near) <= 8 ? near : Math.round(exact / 5) * 5;
    onChange(wordOf(taken));
  };
  return (
    <div class="pile-dial">
      <svg
        ref={dial}
        viewBox="-50 -50 100 100"
        aria-hidden="true"
        onPointerDown={(event) => event.currentTarget.setPointerCapture(event.pointerId)}
        onPointerUp={turnTo}
      >
        <path class="vehicle" d="M-24 44 V-30 Q-24 -44 0 -44 Q24 -44 24 -30 V44 Z" />
        <text y={-34}>front</text>
        {degrees !== null && (
          <g transform={`rotate(${-degrees})`}>
            <path class="arrow" d="M-26 0 H26 M14 -9 L26 0 L14 9" />
            <circle class="handle" cx={30} cy={0} r={7} />
          </g>
        )}
      </svg>
      <div class="stack">
        <Choices
          label="The pile leans"
          value={typeof value === 'string' ? value : ''}
          choices={[
            { value: 'forward', words: 'forward' },
            { value: 'rearward', words: 'to the rear' },
            { value: 'left', words: 'left' },
            { value: 'right', words: 'right' },
          ]}
          onChange={(word) => onChange(word as PileSaid)}
        />
        <NumberField
          label="or by degrees from the right, counter-clockwise"
          value={degrees}
          unit="°"
          min={-360}
          max={360}
          optional
          onChange={(deg) => onChange(deg === null ? null : wordOf(deg))}
        />
      </div>
    </div>
  );
}
