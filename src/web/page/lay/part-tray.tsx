import type { JSX } from 'preact';
import type { PicturedPart } from '../../api/pictured.ts';
import { counted } from '../words.ts';

/** Parts that lie on no roll, by order. Pressing one puts it beside the lay, from where it is moved in. */
export function PartTray({
  parts,
  isBegun,
  picked,
  onPick,
}: {
  readonly parts: readonly PicturedPart[];
  /** Whether anything of the cloth is laid: before that, all parts lie nowhere, and nobody need look at them. */
  readonly isBegun: boolean;
  readonly picked: string | null;
  /** null: nothing can be moved now. */
  readonly onPick: ((label: string | null) => void) | null;
}): JSX.Element | null {
  if (parts.length === 0) return null;
  const orders = [...new Set(parts.map(({ order }) => order))];
  return (
    <details class="part-tray" open={isBegun || picked !== null}>
      <summary>On no roll: {counted(parts.length, 'part')}</summary>
      {orders.map((order) => {
        const own = parts.filter((part) => part.order === order);
        return (
          <details open={orders.length === 1 || own.some(({ label }) => label === picked)}>
            <summary>
              order {order}: {counted(own.length, 'part')}
            </summary>
            <ul role="list" aria-label={`Parts of order ${order} on no roll`}>
              {own.map(({ label, d, box: [minX, minY, maxX, maxY] }) => (
                <li>
                  <button
                    class="tray-part"
                    aria-pressed={label === picked}
                    disabled={onPick === null}
                    onClick={() => onPick?.(label === picked ? null : label)}
                  >
                    <svg
                      viewBox={`${minX} ${-maxY} ${maxX - minX} ${maxY - minY}`}
                      aria-hidden="true"
                    >
                      <path transform="scale(1 -1)" d={d} />
                    </svg>
                    {label}
                  </button>
                </li>
              ))}
            </ul>
          </details>
        );
      })}
      <p class="quiet">
        {picked === null
          ? 'Press one: it lies beside the lay then, and is dragged in from there.'
          : `${picked} lies at the end of the lay, off it: drag it in, or walk to it with N and move it with the arrow keys.`}
      </p>
    </details>
  );
}
