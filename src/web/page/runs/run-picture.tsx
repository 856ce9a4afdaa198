import type { JSX } from 'preact';
import type { LayGlance } from '../../api/runs.ts';

/** So many widths of the roll are shown of a long lay, from its start. */
const mostShown = 4;

/** A lay in little, from its start on; an empty stretch of cloth where nothing is laid. */
export function RunPicture({ picture }: { readonly picture: LayGlance | null }): JSX.Element {
  if (picture === null) return <div class="run-picture empty" aria-hidden="true" />;
  const { length, width, parts } = picture;
  const [long, wide] = [mostShown * width, width].map((mm) => mm / 10);
  return (
    <svg
      class="run-picture"
      viewBox={`0 ${-wide!} ${long} ${wide}`}
      preserveAspectRatio="xMinYMid slice"
      aria-hidden="true"
    >
      <rect class="cloth" x={0} y={-wide!} width={long} height={wide} />
      <rect class="waste" x={0} y={-wide!} width={length / 10} height={wide} />
      <g transform="scale(1 -1)">
        {parts
          .filter(({ corners }) => corners[0]! < long! * 1.2)
          .map(({ order, corners }) => (
            <polygon class={`of-order-${order % 8}`} points={corners.join(' ')} />
          ))}
      </g>
    </svg>
  );
}
