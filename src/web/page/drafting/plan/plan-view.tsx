import type { JSX } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Point } from '../../../../geometry/paths/point.ts';
import type { Spot } from '../../../../drafting/edge-view.ts';
import type { Question } from '../../../../drafting/questions.ts';
import type { DraftHead, PieceView, ThingView } from '../../../../drafting/view.ts';
import { watchPointers } from '../../picture/pointer-gestures.ts';
import { useFittedView } from '../../picture/use-fitted-view.ts';
import type { View } from '../../picture/view.ts';
import { toDrawn, toScreen, viewMatrix } from '../../picture/view.ts';
import { AskedRing, GapLine } from '../asked-marks.tsx';
import { PictureBar } from '../picture-bar.tsx';
import { nextPlace, takePictureKey } from '../picture-keys.ts';
import type { SentEdit } from '../../server/calls.ts';
import { extentOfPlan, placedPieces } from './placed.ts';
import type { PieceOnPlan } from './placed.ts';
import type { OverlapWith } from './overlaps.ts';
import { overlapsWith } from './overlaps.ts';
import { snappedMove } from './snapping.ts';

/** Pixels within which a piece that is dragged clicks in. */
const clickIn = 12;

/** Pixels that a piece must be dragged at least. */
const leastDrag = 10;

/** Pixels between the vehicle and the edge of its picture. */
const margin = 40;

/** All pieces as they lie in the vehicle, its front at the top; they are dragged into their places. */
export function PlanView({
  head,
  pieces,
  asked,
  chosen,
  onChoose,
  edit,
}: {
  readonly head: DraftHead;
  readonly pieces: ReadonlyMap<string, PieceView>;
  /** The question about the set that is being answered. */
  readonly asked: Question | null;
  /** The piece that is chosen on the plan. */
  readonly chosen: string | null;
  readonly onChoose: (piece: string | null) => void;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
}): JSX.Element {
  const [drag, setDrag] = useState<{ readonly name: string; readonly by: Spot } | null>(null);
  const placed = useMemo(() => placedPieces(pieces.values()), [pieces]);
  const extent = useMemo(
    () =>
      extentOfPlan(
        placed,
        head.leftOut.map(({ at }) => at),
      ),
    [placed, head.leftOut],
  );
  const {
    window: box,
    size,
    view,
    fit,
    pan,
    zoomAt,
    zoom,
  } = useFittedView(extent, margin, placed.length === 0);
  const latest = useRef({ view, placed, edit, onChoose });
  latest.current = { view, placed, edit, onChoose };

  const overlaps = drag !== null || chosen === null ? [] : overlapsWith(head.overlaps, chosen);

  useEffect(() => {
    let held: { readonly piece: PieceOnPlan; readonly from: Point; by: Spot } | null = null;
    const at = (spot: Point): PieceOnPlan | null => pieceUnder(box.current!, spot, latest.current);
    const gestures = {
      grab: (spot: Point) => {
        const piece = at(spot);
        if (piece === null) return 'pan' as const;
        held = { piece, from: toDrawn(latest.current.view!, spot), by: [0, 0] };
        return 'drag' as const;
      },
      dragTo: (spot: Point) => {
        if (held === null) return;
        const now = latest.current;
        const to = toDrawn(now.view!, spot);
        const others = now.placed.filter(({ view: one }) => one.name !== held!.piece.view.name);
        const by: Spot = [to.x - held.from.x, to.y - held.from.y];
        // A hand that trembles in a click moves nothing, however near something is to click in to.
        if (Math.hypot(...by) * now.view!.scale < leastDrag) return;
        held.by = snappedMove(held.piece, by, others, clickIn / now.view!.scale);
        setDrag({ name: held.piece.view.name, by: held.by });
      },
      release: () => {
        if (held === null) return;
        const { piece, by } = held;
        held = null;
        if (by[0] === 0 && by[1] === 0) return latest.current.onChoose(piece.view.name);
        const change = moveOnPlan(piece.view.name, by);
        latest.current.onChoose(piece.view.name);
        void latest.current.edit(change).then(() => setDrag(null));
      },
      cancel: () => {
        const name = held?.piece.view.name ?? null;
        held = null;
        setDrag(null);
        latest.current.onChoose(name);
      },
      tap: (spot: Point) => latest.current.onChoose(at(spot)?.view.name ?? null),
      hover: () => undefined,
      pan,
      zoom: zoomAt,
    };
    return watchPointers(box.current!, () => gestures);
  }, []);

  const keys = (event: KeyboardEvent): void =>
    takePictureKey(event, {
      size,
      pan,
      zoom,
      fit,
      walk: (by) => {
        const names = placed.map((one) => one.view.name);
        if (names.length === 0) return;
        onChoose(names[nextPlace(names.indexOf(chosen ?? ''), by, names.length)]!);
      },
      leave: () => onChoose(null),
      move: chosen === null ? null : (x, y) => void edit(moveOnPlan(chosen, [x, y])),
      turn: chosen === null ? null : () => void edit({ kind: 'turn', piece: chosen, quarters: 1 }),
    });

  return (
    <div class="piece-picture">
      <div
        class="canvas plan-canvas"
        ref={box}
        tabindex={0}
        role="application"
        aria-roledescription="plan of the vehicle"
        aria-label={
          chosen === null
            ? `Plan: ${placed.length} pieces, none is chosen`
            : `Plan: ${placeWords(pieces.get(chosen))}`
        }
        aria-describedby="plan-keys"
        onKeyDown={keys}
      >
        {view !== null && size.width > 0 && (
          <svg width={size.width} height={size.height} aria-hidden="true">
            <g transform={`matrix(${viewMatrix(view, 1).join(' ')})`}>
              <path class="thing axis" d={`M0 ${extent[1] - 200}V${extent[3] + 200}`} />
              {placed.map((piece) => (
                <PlanPiece
                  piece={piece}
                  by={drag?.name === piece.view.name ? drag.by : [0, 0]}
                  isChosen={piece.view.name === chosen}
                />
              ))}
              {head.leftOut.map((thing) => (
                <LeftOut thing={thing} />
              ))}
              {asked?.gap && <GapLine gap={asked.gap} />}
              {asked?.at && <AskedRing at={asked.at} scale={view.scale} />}
              {overlaps.map(({ box: [minX, minY, maxX, maxY] }) => (
                <path class="overlap" d={`M${minX} ${minY}H${maxX}V${maxY}H${minX}Z`} />
              ))}
            </g>
            <PlanNames placed={placed} view={view} />
            <OverlapNames overlaps={overlaps} view={view} />
            {head.leftOut.map(({ text, at: [x, y] }) => {
              if (text === null) return null;
              const on = toScreen(view, { x, y });
              return (
                <text class="drawn-text" x={on.x} y={on.y}>
                  {text.words}
                </text>
              );
            })}
            <text class="plan-front" x={size.width / 2} y={20}>
              front of the vehicle
            </text>
          </svg>
        )}
      </div>
      <p id="plan-keys" class="unseen">
        N and P choose the pieces one after the other, Escape none. Arrow keys move the one that is
        chosen by 10 millimetres, with Shift by 1, with Alt by 100; R turns it by a quarter. Plus
        and minus zoom, 0 shows all of it. All of it stands under “Places in the vehicle” too.
      </p>
      <p class="unseen" aria-live="polite">
        {chosen === null ? '' : placeWords(pieces.get(chosen))}
      </p>
      <PictureBar spot={null} isFraming={false} onFraming={null} onFit={fit} onZoom={zoom} />
    </div>
  );
}

/** Where a piece lies, in words. */
function placeWords(piece: PieceView | undefined): string {
  if (piece === undefined) return '';
  const [x, y] = piece.said.at ?? [0, 0];
  return `${piece.name} at ${x.toFixed(0)}, ${y.toFixed(0)} mm, rightward and forward`;
}

/** Moves a piece in the vehicle, mm. */
export function moveOnPlan(piece: string, by: Spot): SentEdit {
  return { kind: 'place', piece, to: [null, null], by: [...by] };
}

function pieceUnder(
  box: HTMLElement,
  { x, y }: Point,
  { placed }: { readonly placed: readonly PieceOnPlan[] },
): PieceOnPlan | null {
  const { left, top } = box.getBoundingClientRect();
  for (const element of document.elementsFromPoint(left + x, top + y)) {
    const own = element.closest<SVGElement>('[data-piece]');
    if (own === null || !box.contains(own)) continue;
    return placed.find(({ view }) => view.name === own.dataset['piece']) ?? null;
  }
  return null;
}

function PlanPiece({
  piece: { view },
  by: [dx, dy],
  isChosen,
}: {
  readonly piece: PieceOnPlan;
  readonly by: Spot;
  readonly isChosen: boolean;
}): JSX.Element {
  const { frame, said, outline, things, pile } = view;
  const cuts = things.filter(({ role }) => role === 'CUTOUT' || role === 'HOLE');
  return (
    <>
      {said.side === 'pair' && (
        <g transform={`matrix(-1 0 0 1 0 0) translate(${dx} ${dy}) matrix(${frame.join(' ')})`}>
          <path class="plan-ghost" d={outline!} />
        </g>
      )}
      <g
        class={`plan-piece${isChosen ? ' picked' : ''}`}
        data-piece={view.name}
        transform={`translate(${dx} ${dy}) matrix(${frame.join(' ')})`}
      >
        <path class="body" d={outline!} />
        {cuts.map(({ d }) => (
          <path d={d} />
        ))}
        {pile !== null && (
          <path class="pile-arrow" d={`M${pile[0][0]} ${pile[0][1]}L${pile[1][0]} ${pile[1][1]}`} />
        )}
      </g>
    </>
  );
}

function LeftOut({ thing: { d, at, kind } }: { readonly thing: ThingView }): JSX.Element {
  const [x, y] = at;
  const line = kind === 'path' ? d : `M${x - 15} ${y}H${x + 15}M${x} ${y - 15}V${y + 15}`;
  return (
    <g class="thing unsaid">
      <path class="reach" d={line} />
      <path d={line} />
    </g>
  );
}

/** What the piece that is chosen lies on, where it does. */
function OverlapNames({
  overlaps,
  view,
}: {
  readonly overlaps: readonly OverlapWith[];
  readonly view: View;
}): JSX.Element {
  return (
    <>
      {overlaps.map(({ other, box: [minX, , maxX, maxY] }) => {
        const at = toScreen(view, { x: (minX + maxX) / 2, y: maxY });
        return (
          <text class="overlap-name" x={at.x} y={at.y + 16}>
            {other === null ? 'on its other half' : `on ${other}`}
          </text>
        );
      })}
    </>
  );
}

function PlanNames({
  placed,
  view,
}: {
  readonly placed: readonly PieceOnPlan[];
  readonly view: View;
}): JSX.Element {
  return (
    <>
      {placed.map(({ view: piece, box: [minX, minY, maxX, maxY] }) => {
        const at = toScreen(view, { x: (minX + maxX) / 2, y: (minY + maxY) / 2 });
        const room = (maxX - minX) * view.scale;
        if (room < piece.name.length * 5) return null;
        return (
          <text class="plan-name" x={at.x} y={at.y}>
            {piece.name}
          </text>
        );
      })}
    </>
  );
}
