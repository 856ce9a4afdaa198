import type { JSX } from 'preact';
import { useEffect, useId, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Point } from '../../../../geometry/paths/point.ts';
import type { DrawingSight, SightBox, SightPiece } from '../../../api/sight.ts';
import type { KeyAct } from '../../roll-picture/input/keys.ts';
import { keyAct, zoomStep } from '../../roll-picture/input/keys.ts';
import { watchPointers } from '../../picture/pointer-gestures.ts';
import type { Extent, Size, View } from '../../picture/view.ts';
import {
  broughtIn,
  fittedView,
  keptOver,
  panned,
  toDrawn,
  viewMatrix,
  zoomed,
} from '../../picture/view.ts';
import { counted } from '../../words.ts';
import { LeftOutHalos, ScaleBar, SightTexts } from './overlays.tsx';
import { sizeWords } from './sizes.ts';

/** Room between the drawing and the edge of its window, pixels. */
const margin = 28;

/** A thing that is gone to fills no more than this share of the window. */
const shareOfThing = 0.35;

/** Where the picture is to go; another one each time somebody asks for it. */
export interface Goal {
  readonly box: SightBox;
}

/** The whole drawing as it was read: to zoom, to move about in, and to see one layer of. */
export function DrawingPicture({
  sight,
  name,
  shapeId,
  layer,
  goal,
}: {
  readonly sight: DrawingSight;
  /** The name of the drawing's file. */
  readonly name: string;
  /** The id of the shape of a layer, by its place in the list. */
  readonly shapeId: (index: number) => string;
  /** The layer that is shown strongly; null: all are shown alike. */
  readonly layer: string | null;
  readonly goal: Goal | null;
}): JSX.Element {
  const ids = useId();
  const stage = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<Size>({ width: 800, height: 600 });
  const [placed, setPlaced] = useState<View | null>(null);
  const [under, setUnder] = useState<SightPiece | null>(null);
  const [walked, setWalked] = useState<number | null>(null);
  const [said, setSaid] = useState('');
  const extent: Extent = [0, 0, ...sight.size];
  const fit = fittedView(extent, size, margin, 0);
  const view = placed ?? fit;

  const zoom = (at: Point, factor: number): void =>
    setPlaced((now) => keptOver(zoomed(now ?? fit, at, factor, fit.scale / 2), extent, size));
  const pan = (by: Point): void =>
    setPlaced((now) => keptOver(panned(now ?? fit, by), extent, size));
  const hover = (at: Point | null): void =>
    setUnder(at === null ? null : pieceAt(sight.pieces, toDrawn(view, at)));
  const gestures = useRef({ zoom, pan, hover });
  gestures.current = { zoom, pan, hover };
  const bodies = useMemo(() => sight.pieces.map(({ d }) => d).join(''), [sight.pieces]);

  useLayoutEffect(() => {
    const element = stage.current!;
    const measure = (): void =>
      setSize({ width: element.clientWidth, height: element.clientHeight });
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  useEffect(
    () =>
      watchPointers(stage.current!, () => ({
        grab: () => 'pan',
        dragTo: () => {},
        release: () => {},
        cancel: () => {},
        tap: () => {},
        hover: (at) => gestures.current.hover(at),
        pan: (by) => gestures.current.pan(by),
        zoom: (at, factor) => gestures.current.zoom(at, factor),
      })),
    [],
  );
  // In other units it is another size, and all of it is shown anew.
  useEffect(() => setPlaced(null), [...sight.size]);
  useEffect(() => {
    if (goal !== null) setPlaced(viewOfThing(goal.box, fit, size, extent));
  }, [goal]);

  const walk = (by: 1 | -1): void => {
    const count = sight.pieces.length;
    if (count === 0) return setSaid('There is no piece.');
    const next = walked === null ? (by === 1 ? 0 : count - 1) : (walked + by + count) % count;
    const piece = sight.pieces[next]!;
    setWalked(next);
    setSaid(`${piece.name}: ${sizeWords(sizeOf(piece))}.`);
    setPlaced((now) => broughtIn(now ?? fit, piece.box, size, margin));
  };
  const middle = { x: size.width / 2, y: size.height / 2 };
  const act = (what: KeyAct): void => {
    if (what.what === 'walk') walk(what.by);
    if (what.what === 'zoom') zoom(middle, what.factor);
    if (what.what === 'fit') setPlaced(null);
    if (what.what === 'pan') pan({ x: -what.x * size.width, y: what.y * size.height });
    if (what.what === 'leave') setWalked(null);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const what = keyAct(event, { focused: walked !== null, movable: false, holding: false });
    if (what === null) return;
    event.preventDefault();
    act(what);
  };
  const shown = under ?? (walked === null ? null : (sight.pieces[walked] ?? null));
  return (
    <section class="sight-picture">
      <div
        ref={stage}
        class="roll-stage sight-stage"
        tabindex={0}
        role="application"
        aria-roledescription="picture of a drawing"
        aria-label={`${name} as it was read: ${counted(sight.pieces.length, 'piece')}, ${sizeWords(sight.size)}`}
        aria-describedby={`${ids}-help`}
        onKeyDown={onKeyDown}
      >
        <svg class="sight-lines" width={size.width} height={size.height} aria-hidden="true">
          <g transform={`matrix(${viewMatrix(view, 1).join(' ')})`}>
            <path class="sight-piece" d={bodies} />
            {shown !== null && <path class="sight-piece shown" d={shown.d} />}
            {sight.layers.map((one, i) => (
              <g key={one.name} class={`thread thread-${i % threads}${strength(one.name, layer)}`}>
                <use href={`#${shapeId(i)}`} />
              </g>
            ))}
          </g>
          <SightTexts layers={sight.layers} view={view} size={size} layer={layer} />
          <LeftOutHalos things={sight.leftOut} view={view} size={size} />
        </svg>
      </div>
      <div class="roll-bar">
        <ScaleBar scale={view.scale} />
        <output class="roll-readout" aria-live="off" data-test="under">
          {shown === null ? (
            `All of it: ${sizeWords(sight.size)}${thinnedWords(sight)}`
          ) : (
            <span>
              <strong>{shown.name}</strong> {sizeWords(sizeOf(shown))}
            </span>
          )}
        </output>
        <button
          class="roll-button"
          aria-label="Farther away"
          onClick={() => zoom(middle, 1 / zoomStep)}
        >
          −
        </button>
        <button class="roll-button" aria-label="Closer" onClick={() => zoom(middle, zoomStep)}>
          +
        </button>
        <button
          class="roll-button"
          aria-label="Fit: show the whole drawing"
          onClick={() => setPlaced(null)}
        >
          Fit
        </button>
      </div>
      <p id={`${ids}-help`} class="unseen">
        Plus and minus zoom, 0 shows all of it, arrow keys move it, N and P go from piece to piece.
      </p>
      <div class="unseen" aria-live="polite">
        {said}
      </div>
    </section>
  );
}

/** The smallest piece under a point of the picture. */
function pieceAt(pieces: readonly SightPiece[], { x, y }: Point): SightPiece | null {
  const canvas = document.createElement('canvas').getContext('2d');
  const within = pieces.filter(
    ({ d, box: [x0, y0, x1, y1] }) =>
      x0 <= x &&
      x <= x1 &&
      y0 <= y &&
      y <= y1 &&
      canvas?.isPointInPath(new Path2D(d), x, y, 'evenodd'),
  );
  const area = ({ box: [x0, y0, x1, y1] }: SightPiece): number => (x1 - x0) * (y1 - y0);
  return within.toSorted((a, b) => area(a) - area(b))[0] ?? null;
}

/** So many ways there are to draw a layer: colours and dashes. */
export const threads = 8;

/** How far lines are drawn from where they are, where a screen would not show all of them. */
function thinnedWords({ thinned }: DrawingSight): string {
  return thinned === 0
    ? ''
    : `; drawn here to ${thinned < 1 ? thinned.toFixed(1) : Math.ceil(thinned)} mm`;
}

function strength(name: string, layer: string | null): string {
  if (layer === null) return '';
  return name === layer ? ' strong' : ' faint';
}

function sizeOf({ box: [x0, y0, x1, y1] }: SightPiece): [number, number] {
  return [x1 - x0, y1 - y0];
}

/** The view that shows a thing in the middle, with as much round it as tells where it is. */
function viewOfThing(box: SightBox, fit: View, size: Size, extent: Extent): View {
  const [x0, y0, x1, y1] = box;
  const long = Math.max(x1 - x0, y1 - y0, 1e-9);
  const wanted = (shareOfThing * Math.min(size.width, size.height)) / long;
  const scale = Math.min(wanted, 6 * fit.scale);
  const at = { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
  const view = { scale, left: at.x - size.width / 2 / scale, top: at.y + size.height / 2 / scale };
  return keptOver(view, extent, size);
}
