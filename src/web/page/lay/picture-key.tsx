import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import {
  barredHatch,
  crossedHatch,
  hatchesIn,
  hatchNumber,
} from '../roll-picture/drawing/hatch.ts';
import type { Inks } from '../roll-picture/drawing/inks.ts';
import { inksOf, onThemeChange, orderInk } from '../roll-picture/drawing/inks.ts';

/** Fills a little canvas with what stands for something in the picture. */
type Fill = (ctx: CanvasRenderingContext2D, inks: Inks) => void;

/** What stands for what in the picture: orders, cloth, lines. */
export function PictureKey({
  orders,
  isSearching,
}: {
  readonly orders: readonly string[];
  readonly isSearching: boolean;
}): JSX.Element {
  return (
    <details class="picture-key" open>
      <summary>What the picture shows</summary>
      {orders.length > mostShown && (
        <details>
          <summary>Orders ({orders.length})</summary>
          <OrderRows orders={orders} />
        </details>
      )}
      {orders.length > 1 && orders.length <= mostShown && <OrderRows orders={orders} />}
      <ul role="list" aria-label="What the picture shows">
        <Row fill={(ctx, inks) => plain(ctx, inks.waste)} words="waste between parts" />
        <Row fill={(ctx, inks) => plain(ctx, inks.cloth)} words="cloth that is left" />
        <Row
          fill={(ctx, inks) => {
            plain(ctx, inks.cloth);
            hatched(ctx, inks.soft, barredHatch);
          }}
          words="selvedge, and margin at the start"
        />
        <Row
          fill={(ctx, inks) => {
            plain(ctx, inks.cloth);
            hatched(ctx, inks.soft, crossedHatch);
          }}
          words="defect"
        />
        <Row fill={(ctx, inks) => line(ctx, inks.ink, [10, 4, 2, 4], 1.25)} words="a bite begins" />
        <Row fill={(ctx, inks) => line(ctx, inks.ink, [7, 4], 2)} words="end of the lay" />
        {isSearching && (
          <Row
            fill={(ctx, inks) => line(ctx, inks.accent, [4, 3], 1)}
            words="being tried, and may overlap"
          />
        )}
      </ul>
    </details>
  );
}

/** So many orders are shown without being asked for. */
const mostShown = 8;

function OrderRows({ orders }: { readonly orders: readonly string[] }): JSX.Element {
  return (
    <ul role="list" aria-label="Orders by their colour and hatch">
      {orders.map((order) => (
        <Row
          fill={(ctx, inks) => {
            plain(ctx, orderInk(inks, orders, order));
            hatched(ctx, inks.line, hatchNumber(orders, order));
          }}
          words={`order ${order}`}
        />
      ))}
    </ul>
  );
}

const size = { width: 64, height: 36 };

function plain(ctx: CanvasRenderingContext2D, colour: string): void {
  ctx.fillStyle = colour;
  ctx.fillRect(0, 0, size.width, size.height);
}

function hatched(ctx: CanvasRenderingContext2D, colour: string, number: number): void {
  const hatch = hatchesIn(colour, 12, 1.5)[number];
  if (hatch === null || hatch === undefined) return;
  ctx.fillStyle = hatch;
  ctx.fillRect(0, 0, size.width, size.height);
}

function line(
  ctx: CanvasRenderingContext2D,
  colour: string,
  dash: readonly number[],
  width: number,
): void {
  ctx.strokeStyle = colour;
  ctx.lineWidth = 2 * width;
  ctx.setLineDash(dash.map((length) => 2 * length));
  ctx.beginPath();
  ctx.moveTo(0, size.height / 2);
  ctx.lineTo(size.width, size.height / 2);
  ctx.stroke();
  ctx.setLineDash([]);
}

function Row({ fill, words }: { readonly fill: Fill; readonly words: string }): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const draw = (): void => {
      const ctx = canvas.current!.getContext('2d')!;
      ctx.clearRect(0, 0, size.width, size.height);
      fill(ctx, inksOf(canvas.current!));
    };
    draw();
    return onThemeChange(draw);
  }, [words]);
  return (
    <li>
      <canvas ref={canvas} class="swatch" {...size} aria-hidden="true" />
      {words}
    </li>
  );
}
