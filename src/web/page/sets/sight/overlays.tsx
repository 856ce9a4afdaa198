import type { JSX } from 'preact';
import type { SightLayer, SightText, SightThing } from '../../../api/sight.ts';
import type { Size, View } from '../../picture/view.ts';
import { toScreen } from '../../picture/view.ts';
import { figure } from './sizes.ts';

/** Letters of fewer pixels cannot be read: a line stands for them. */
const readable = 5;

/** About how wide a letter is, as a share of its height. */
const letterWidth = 0.6;

/** The texts of a drawing, upright as they are drawn; a line for each that is too small to be read. */
export function SightTexts({
  layers,
  view,
  size,
  layer,
}: {
  readonly layers: readonly SightLayer[];
  readonly view: View;
  readonly size: Size;
  readonly layer: string | null;
}): JSX.Element {
  return (
    <>
      {layers
        .filter(({ texts }) => texts.length > 0)
        .map(({ name, texts }) => {
          const seen = texts.filter((text) => isSeen(text, view, size));
          const large = seen.filter(({ height }) => height * view.scale >= readable);
          const small = seen.filter(({ height }) => height * view.scale < readable);
          return (
            <g
              key={name}
              class={`sight-texts${layer === null ? '' : name === layer ? ' strong' : ' faint'}`}
            >
              {large.map((text) => (
                <OneText text={text} view={view} />
              ))}
              <path d={small.map((text) => standIn(text, view)).join('')} />
            </g>
          );
        })}
    </>
  );
}

function OneText({
  text: { at, text, height, deg },
  view,
}: {
  readonly text: SightText;
  readonly view: View;
}): JSX.Element {
  const { x, y } = toScreen(view, { x: at[0], y: at[1] });
  const px = height * view.scale;
  return (
    <text
      transform={`translate(${x.toFixed(1)} ${y.toFixed(1)}) rotate(${(-deg).toFixed(2)})`}
      font-size={px * 1.35}
    >
      {text.split('\n').map((line, i) => (
        <tspan x={0} y={i * px * 1.6}>
          {line}
        </tspan>
      ))}
    </text>
  );
}

function isSeen({ at, text, height }: SightText, view: View, size: Size): boolean {
  const { x, y } = toScreen(view, { x: at[0], y: at[1] });
  const reach = (text.length + 2) * height * view.scale;
  return x > -reach && y > -reach && x < size.width + reach && y < size.height + reach;
}

function standIn({ at, text, height, deg }: SightText, view: View): string {
  const { x, y } = toScreen(view, { x: at[0], y: at[1] });
  const long = Math.max(2, text.length * height * view.scale * letterWidth);
  const angle = (deg * Math.PI) / 180;
  return `M${x.toFixed(1)} ${y.toFixed(1)}l${(long * Math.cos(angle)).toFixed(1)} ${(-long * Math.sin(angle)).toFixed(1)}`;
}

/** How far a halo stands off the thing that it is round, pixels. */
const halo = 9;

/** A broken line that glows, round everything that lies in no outline; texts that stand alone are no trouble. */
export function LeftOutHalos({
  things,
  view,
  size,
}: {
  readonly things: readonly SightThing[];
  readonly view: View;
  readonly size: Size;
}): JSX.Element {
  const d = things
    .filter(({ isText }) => !isText)
    .map(({ box: [x0, y0, x1, y1] }) => {
      const from = toScreen(view, { x: x0, y: y1 });
      const to = toScreen(view, { x: x1, y: y0 });
      const [left, top] = [from.x - halo, from.y - halo];
      const [right, bottom] = [to.x + halo, to.y + halo];
      if (right < 0 || bottom < 0 || left > size.width || top > size.height) return '';
      return `M${left.toFixed(1)} ${top.toFixed(1)}H${right.toFixed(1)}V${bottom.toFixed(1)}H${left.toFixed(1)}Z`;
    })
    .join('');
  return (
    <>
      <path class="halo-glow" d={d} />
      <path class="halo" d={d} />
    </>
  );
}

/** A length that can be seen: the longest round one of no more than so many pixels. */
const longestBar = 130;

export function ScaleBar({ scale }: { readonly scale: number }): JSX.Element {
  const most = longestBar / scale;
  const ten = 10 ** Math.floor(Math.log10(most));
  const length = [5, 2, 1].map((times) => times * ten).find((one) => one <= most) ?? ten;
  return (
    <div class="scale-bar">
      <span class="bar-line" style={{ width: `${length * scale}px` }} />
      <span>
        {figure(length, length < 1 ? 1 : 0)} mm, {figure(length / 25.4, length < 254 ? 1 : 0)} in
      </span>
    </div>
  );
}
