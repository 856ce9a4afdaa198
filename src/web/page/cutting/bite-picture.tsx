import type { JSX } from 'preact';
import type { PicturedPart } from '../../api/pictured.ts';
import { turnedPoints } from './on-bed.ts';
import type { PartOnBed } from './on-bed.ts';
import { partsOnBed } from './on-bed.ts';
import { fittedText } from './part-text.ts';
import type { RollAtMachine } from './step-words.ts';
import { partsOfBite } from './step-words.ts';

/** How much is shown around what lies on the bed, mm. */
const aside = 60;

/** Type must be no smaller than this share of the picture's width to be read. */
const smallestType = 100;

/**
 * A bite as it lies on the bed, seen from the operator's side: X to the right, Y upwards. What is cut now is filled; all
 * else is only drawn. `bite` is its number; null: the whole lay.
 */
export function BitePicture({
  at,
  parts,
  bite,
}: {
  readonly at: RollAtMachine;
  readonly parts: readonly PicturedPart[];
  readonly bite: number | null;
}): JSX.Element {
  const { roll, lay, work, machine } = at;
  const shown = bite === null ? null : work.bites[bite - 1]!;
  const start = shown?.start ?? 0;
  const end = shown === null ? lay.length : Math.min(lay.length, start + machine.bed);
  const now = new Set(shown?.labels ?? lay.placements.map(({ label }) => label));
  const on = new Set(bite === null ? [] : partsOfBite(bite, work).on);
  const { width, selvedge } = roll;
  const whole = roll.length ?? lay.length + machine.bed;
  const isOfMany = new Set(parts.map(({ order }) => order)).size > 1;
  const cross = (place: readonly [number, number] | null | undefined, words: string) =>
    place === null || place === undefined ? null : (
      <Cross x={start + place[0]} y={width - place[1]} words={words} isLow={2 * place[1] < width} />
    );
  return (
    <svg
      class="bite-picture"
      viewBox={`${start - aside} ${-aside} ${end - start + 2 * aside} ${width + 2 * aside}`}
      role="img"
      aria-label={
        bite === null
          ? `The whole lay of ${at.key}`
          : `Bite ${bite} as it lies on the bed: ${now.size} parts`
      }
    >
      <rect class="bite-cloth" x={0} y={0} width={whole} height={width} />
      {[0, width - selvedge].map((y) => (
        <rect class="bite-selvedge" x={0} y={y} width={whole} height={selvedge} />
      ))}
      {roll.outline !== null && <Outline corners={roll.outline} at={at} kind="bite-remnant" />}
      {roll.defects.map((corners) => (
        <Outline corners={corners} at={at} kind="bite-defect" />
      ))}
      {partsOnBed(parts, lay.placements, width, machine.face).map((one) => (
        <Part
          one={one}
          kind={!now.has(one.part.label) ? 'else' : on.has(one.part.label) ? 'on' : 'now'}
          order={isOfMany}
          least={(end - start) / smallestType}
        />
      ))}
      {shown !== null && start > 0 && (
        <line class="bite-edge" x1={start} y1={0} x2={start} y2={width} />
      )}
      {shown !== null && end < lay.length && (
        <line class="bite-edge" x1={end} y1={0} x2={end} y2={width} />
      )}
      {cross(shown?.check, 'look here')}
      {cross(shown?.mark, 'next feed')}
    </svg>
  );
}

function Outline({
  corners,
  at: { roll, machine },
  kind,
}: {
  readonly corners: readonly number[];
  readonly at: RollAtMachine;
  readonly kind: string;
}): JSX.Element {
  return <polygon class={kind} points={turnedPoints(corners, roll.width, machine.face)} />;
}

function Part({
  one: { part, transform, box, spot },
  kind,
  order,
  least,
}: {
  readonly one: PartOnBed;
  readonly kind: 'now' | 'on' | 'else';
  /** Whether its order is named too. */
  readonly order: boolean;
  /** The smallest type that can be read, mm. */
  readonly least: number;
}): JSX.Element {
  const [minX, minY, maxX, maxY] = box;
  const [x, y] = spot;
  const room = [Math.min(x - minX, maxX - x), Math.min(y - minY, maxY - y)].map(
    (half) => 1.7 * half,
  );
  const words = order ? `${part.name} ${part.order}` : part.name;
  const text = kind === 'else' ? null : fittedText(words, room[0]!, room[1]!, least);
  return (
    <g class={`bite-part ${kind}`}>
      <path d={part.d} transform={transform} fill-rule="evenodd" />
      {text !== null && (
        <text font-size={text.size} text-anchor="middle">
          {text.lines.map((line, i) => (
            <tspan
              x={x}
              y={y + (i - (text.lines.length - 1) / 2) * 1.15 * text.size + 0.35 * text.size}
            >
              {line}
            </tspan>
          ))}
        </text>
      )}
    </g>
  );
}

/** A cross on the cloth, with a word about it on the side where there is more room. */
function Cross({
  x,
  y,
  words,
  isLow,
}: {
  readonly x: number;
  readonly y: number;
  readonly words: string;
  /** Whether it lies in the lower half of the picture. */
  readonly isLow: boolean;
}): JSX.Element {
  return (
    <g class="bite-cross">
      <path d={`M${x - 30} ${y}H${x + 30}M${x} ${y - 30}V${y + 30}`} />
      <circle cx={x} cy={y} r={55} />
      <text x={x + 60} y={isLow ? y - 50 : y + 100} font-size={72}>
        {words}
      </text>
    </g>
  );
}
