import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { hatchesIn, hatchNumber } from '../roll-picture/drawing/hatch.ts';
import { inksOf, onThemeChange } from '../roll-picture/drawing/inks.ts';

/** Which hatch stands for which order in the picture. */
export function OrderKey({ orders }: { orders: readonly string[] }): JSX.Element | null {
  if (orders.length < 2) return null;
  return (
    <ul class="order-key" role="list" aria-label="Orders by their hatch">
      {orders.map((order) => (
        <li>
          <Swatch number={hatchNumber(orders, order)} />
          order {order}
        </li>
      ))}
    </ul>
  );
}

function Swatch({ number }: { number: number }): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const draw = (): void => {
      const ctx = canvas.current!.getContext('2d')!;
      const inks = inksOf(canvas.current!);
      ctx.fillStyle = inks.part;
      ctx.fillRect(0, 0, 64, 36);
      ctx.fillStyle = hatchesIn(inks.soft, 12, 1.5)[number] ?? inks.part;
      ctx.fillRect(0, 0, 64, 36);
    };
    draw();
    return onThemeChange(draw);
  }, [number]);
  return <canvas ref={canvas} class="swatch" width={64} height={36} aria-hidden="true" />;
}
