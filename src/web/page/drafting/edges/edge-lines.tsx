import type { JSX } from 'preact';
import type { EdgesView } from '../../../../drafting/edge-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import { edgeKinds } from '../../../../pattern/words.ts';
import type { Size, View } from '../../picture/view.ts';
import { toScreen } from '../../picture/view.ts';
import { strokeOf } from './edge-stroke.ts';
import { benchWords, stretchName, undecidedWords } from './edge-words.ts';
import { beginOfPath } from './path-along.ts';
import type { ShownStretch } from './shown-stretches.ts';

/** The outline of a piece stretch by stretch, and the line to cut outside it; mm, y up. */
export function StretchLines({
  stretches,
  cut,
  mirror,
  picked,
}: {
  readonly stretches: readonly ShownStretch[];
  readonly cut: EdgesView['cut'];
  readonly mirror: PieceView['mirror'];
  readonly picked: ReadonlySet<number>;
}): JSX.Element {
  return (
    <>
      {cut !== null && <path class="cut-line" d={cut} />}
      {mirror !== null && (
        <g class="other-side" transform={`matrix(${reflectionIn(mirror).join(' ')})`}>
          {[...picked].map((i) => (
            <path class="edge-reach" d={stretches[i]?.d ?? ''} />
          ))}
        </g>
      )}
      {stretches.map(({ d, kind }, i) => (
        <g
          class={`stretch ${kind === null ? 'undecided' : ''}${picked.has(i) ? ' picked' : ''}`}
          data-edge={i}
          key={i}
        >
          <path class="edge-reach" d={d} />
          <path class="edge-line" d={d} style={kind === null ? {} : strokeOf(kind)} />
        </g>
      ))}
    </>
  );
}

/** The mirror image in a line, as a, b, c, d, e and f of an SVG matrix. */
function reflectionIn([[x, y], [toX, toY]]: NonNullable<PieceView['mirror']>): number[] {
  const angle = 2 * Math.atan2(toY - y, toX - x);
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return [cos, sin, sin, -cos, x - cos * x - sin * y, y - sin * x + cos * y];
}

/** The place of a text in the window, in pixels. */
interface Label {
  readonly index: number;
  readonly words: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/** About how wide a letter is, and how high a line, pixels. */
const letter = 7.4;
const line = 18;

/** Between a label and its stretch, pixels. */
const gap = 12;

/**
 * The labels of stretches that have room: about as wide as their stretch is long, over no other, and not past the
 * sides of the window. Those that are chosen come first, then the long ones.
 */
function placedLabels(
  stretches: readonly ShownStretch[],
  picked: ReadonlySet<number>,
  view: View,
  { width: across }: Pick<Size, 'width'>,
): Label[] {
  const order = stretches
    .map((_, i) => i)
    .sort(
      (a, b) =>
        Number(picked.has(b)) - Number(picked.has(a)) ||
        stretches[b]!.length - stretches[a]!.length,
    );
  const placed: Label[] = [];
  for (const index of order) {
    const stretch = stretches[index]!;
    const { middle, outward, length, kind } = stretch;
    const words = `${kind === null ? '? ' : ''}${stretchName(stretch, index)}, ${Math.round(length)}`;
    const width = words.length * letter;
    if (!picked.has(index) && length * view.scale < Math.min(width, 60)) continue;
    const on = toScreen(view, { x: middle[0], y: middle[1] });
    const beside = on.x + outward[0] * (gap + width / 2);
    const x = Math.min(across - width / 2, Math.max(width / 2, beside));
    const y = on.y - outward[1] * (gap + line / 2);
    const isFree = placed.every(
      (one) => Math.abs(one.x - x) > (one.width + width) / 2 || Math.abs(one.y - y) > line,
    );
    if (isFree) placed.push({ index, words, x, y, width });
  }
  return placed;
}

/** Names and lengths at the stretches, upright, and where the one that is chosen begins. */
export function EdgeLabels({
  stretches,
  picked,
  view,
  size,
}: {
  readonly stretches: readonly ShownStretch[];
  readonly picked: ReadonlySet<number>;
  readonly view: View;
  readonly size: Size;
}): JSX.Element {
  const [first] = picked;
  const only = picked.size === 1 && first !== undefined ? stretches[first] : undefined;
  const begin = only === undefined ? null : beginOfPath(only.d);
  const dot = begin === null ? null : toScreen(view, { x: begin[0], y: begin[1] });
  return (
    <g class="edge-labels">
      {dot !== null && <circle class="edge-begin" cx={dot.x} cy={dot.y} r={6} />}
      {placedLabels(stretches, picked, view, size).map(({ index, words, x, y }) => (
        <text
          class={picked.has(index) ? 'picked' : stretches[index]!.kind === null ? 'undecided' : ''}
          data-edge={index}
          x={x}
          y={y}
        >
          {words}
        </text>
      ))}
    </g>
  );
}

/** A sample of how a kind of edge is drawn. */
export function EdgeSample({ kind }: { readonly kind: ShownStretch['kind'] }): JSX.Element {
  return (
    <svg
      class={`edge-sample${kind === null ? ' undecided' : ''}`}
      viewBox="0 0 40 12"
      aria-hidden="true"
    >
      <path d="M1 6H39" style={kind === null ? {} : strokeOf(kind)} />
    </svg>
  );
}

/** What the lines of an outline mean. */
export function EdgeKey({ isUndecided }: { readonly isUndecided: boolean }): JSX.Element {
  return (
    <ul class="edge-key" role="list" aria-label="How edges are drawn">
      {edgeKinds.map((kind) => (
        <li>
          <EdgeSample kind={kind} /> {benchWords[kind]}
        </li>
      ))}
      {isUndecided && (
        <li>
          <EdgeSample kind={null} /> {undecidedWords}
        </li>
      )}
      <li>
        <svg class="edge-sample cut" viewBox="0 0 40 12" aria-hidden="true">
          <path d="M1 6H39" />
        </svg>{' '}
        line to cut
      </li>
    </ul>
  );
}
