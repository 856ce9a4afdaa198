import type { ComponentChildren, JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Point } from '../../../geometry/paths/point.ts';
import type { Spot } from '../../../drafting/edge-view.ts';
import type { Gap } from '../../../drafting/gaps.ts';
import type { PieceView, ThingView } from '../../../drafting/view.ts';
import { useFittedView } from '../picture/use-fitted-view.ts';
import type { Extent, View } from '../picture/view.ts';
import { toDrawn, toScreen, viewMatrix } from '../picture/view.ts';
import { watchPointers } from '../picture/pointer-gestures.ts';
import type { Chosen } from './chosen.ts';
import { EdgeKey, EdgeLabels, StretchLines } from './edges/edge-lines.tsx';
import type { ShownStretch } from './edges/shown-stretches.ts';
import { AskedRing, GapLine } from './asked-marks.tsx';
import { PictureBar } from './picture-bar.tsx';
import { nextPlace, takePictureKey } from './picture-keys.ts';
import type { Pointed } from './pointed-at.ts';
import { edgeAt, edgesBetween, underPointer } from './pointed-at.ts';

/** Pixels between the piece and the edge of its picture, and at its sides, where the labels of edges stand. */
const margin = 56;
const sides = 100;

interface Props {
  readonly piece: PieceView;
  /** Its outline, as it is divided. */
  readonly stretches: readonly ShownStretch[];
  readonly chosen: Chosen;
  /** Where the question lies that is being answered. */
  readonly asked: Spot | null;
  /** The gap that is asked about. */
  readonly gap: Gap | null;
  /** Whether the pointer frames things instead of moving the picture. */
  readonly isFraming: boolean;
  /** What a click does instead of choosing: takes a place in the frame of the block. null: it chooses. */
  readonly onPlace: ((at: Spot) => void) | null;
  /** Where a place comes to lie that is nearer to the outline than `reach` mm. null: where it is pointed at. */
  readonly snap: ((at: Spot, reach: number) => Spot) | null;
  /** What is chosen was dragged by so much, mm. */
  readonly onMove: (by: Spot) => void;
  readonly onPoint: (at: Pointed | null, add: boolean) => void;
  /** Stretches are swept over, one after the other. */
  readonly onSweep: (edges: readonly number[]) => void;
  readonly onFrame: (things: readonly number[]) => void;
  readonly onFraming: (on: boolean) => void;
  /** What is drawn over the piece, in mm in the frame of its block, y up. */
  readonly children?: ComponentChildren;
  /** What is drawn over all of it, in pixels. */
  readonly over?: (view: View) => ComponentChildren;
}

/**
 * A piece as the bench will see it, large. It can be moved and zoomed with pointer, wheel, fingers and
 * buttons; what is pointed at is chosen. All of it stands in lists beside the picture too.
 */
export function PiecePicture(props: Props): JSX.Element {
  const { piece, stretches, chosen, asked, gap, isFraming, children } = props;
  const pickedEdges = new Set(chosen.kind === 'edges' ? chosen.edges : []);
  const {
    window: box,
    size,
    view,
    fit,
    pan,
    zoomAt,
    zoom,
  } = useFittedView(piece.box, margin, piece.name, sides);
  const [frame, setFrame] = useState<Extent | null>(null);
  const [spot, setSpot] = useState<Spot | null>(null);
  const [moved, setMoved] = useState<Spot | null>(null);
  const [isSeveral, setSeveral] = useState(false);
  const latest = useRef({ ...props, view, isSeveral });
  latest.current = { ...props, view, isSeveral };

  useEffect(() => {
    const from = { at: null as Point | null, isMove: false };
    /** The stretches that were swept over since the pointer was pressed on one. null: it was not. */
    const sweep = { last: { x: 0, y: 0 }, edges: null as number[] | null };
    const gestures = {
      grab: (at: Point) => {
        const { isFraming: frames, onPlace, chosen: now } = latest.current;
        const isFree = onPlace === null && !frames;
        const on = isFree ? underPointer(box.current!, at) : null;
        const edge = isFree ? edgeAt(box.current!, at) : null;
        sweep.edges = null;
        from.at = at;
        from.isMove =
          on?.kind === 'things' && now.kind === 'things' && now.things.includes(on.index);
        if (from.isMove) return 'drag' as const;
        if (edge === null) return frames ? ('mark' as const) : ('pan' as const);
        sweep.edges = [edge];
        sweep.last = at;
        return 'drag' as const;
      },
      dragTo: (at: Point, isStraight: boolean) => {
        if (from.isMove) {
          setMoved(movedBy(from.at!, at, latest.current.view!, isStraight));
          return;
        }
        if (sweep.edges === null) return setFrame(frameOf(from.at!, at));
        const found = edgesBetween(box.current!, sweep.last, at);
        sweep.edges = [...new Set([...sweep.edges, ...found])];
        sweep.last = at;
        latest.current.onSweep(sweep.edges);
      },
      release: (at: Point, isStraight: boolean) => {
        if (sweep.edges !== null) return;
        const { view: now, piece: on, onFrame, onMove } = latest.current;
        setFrame(null);
        setMoved(null);
        if (from.isMove) onMove(movedBy(from.at!, at, now!, isStraight));
        else onFrame(thingsIn(on, frameOf(from.at!, at), now!));
      },
      cancel: () => {
        setFrame(null);
        setMoved(null);
      },
      tap: (at: Point, add: boolean) => {
        const { onPlace, onPoint, snap, view: now, isSeveral: adds } = latest.current;
        if (onPlace === null) return onPoint(underPointer(box.current!, at), add || adds);
        const place = spotAt(now!, at);
        onPlace(snap === null ? place : snap(place, snapReach / now!.scale));
      },
      hover: (at: Point | null) => {
        const { view: now } = latest.current;
        setSpot(at === null || now === null ? null : spotAt(now, at));
      },
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
        const now = chosen.kind === 'edges' ? chosen.edges.at(-1)! : -1;
        if (stretches.length === 0) return;
        props.onPoint({ kind: 'edges', index: nextPlace(now, by, stretches.length) }, false);
      },
      leave: () => props.onPoint(null, false),
      move: chosen.kind === 'things' ? (x, y) => props.onMove([x, y]) : null,
      turn: null,
    });

  return (
    <div class="piece-picture">
      <div
        class="canvas"
        ref={box}
        tabindex={0}
        role="application"
        aria-roledescription="picture of a piece"
        aria-label={`${piece.name}: ${stretches.length} stretches round it, ${piece.things.length} things on it`}
        aria-describedby="piece-keys"
        onKeyDown={keys}
      >
        {view !== null && size.width > 0 && (
          <svg width={size.width} height={size.height} aria-hidden="true">
            <g transform={`matrix(${viewMatrix(view, 1).join(' ')})`}>
              <Drawn piece={piece} chosen={chosen} moved={moved}>
                <StretchLines
                  stretches={stretches}
                  cut={piece.cut}
                  mirror={piece.mirror}
                  picked={pickedEdges}
                />
              </Drawn>
              {children}
              {props.onPlace !== null && spot !== null && (
                <PlacingCross
                  at={props.snap === null ? spot : props.snap(spot, snapReach / view.scale)}
                  scale={view.scale}
                />
              )}
              {gap !== null && <GapLine gap={gap} />}
              {asked !== null && <AskedRing at={asked} scale={view.scale} />}
            </g>
            <Texts piece={piece} view={view} chosen={chosen} />
            <EdgeLabels stretches={stretches} picked={pickedEdges} view={view} size={size} />
            {props.over?.(view)}
            {frame !== null && (
              <rect
                class="frame"
                x={frame[0]}
                y={frame[1]}
                width={frame[2] - frame[0]}
                height={frame[3] - frame[1]}
              />
            )}
          </svg>
        )}
      </div>
      <p id="piece-keys" class="unseen">
        N and P choose the stretches one after the other, Escape none. Plus and minus zoom, 0 shows
        all of it, arrow keys move it; a thing that is chosen they move by 10 millimetres, with
        Shift by 1. All of it stands in the lists of edges and things too.
      </p>
      {stretches.length > 0 && (
        <EdgeKey isUndecided={stretches.some(({ kind }) => kind === null)} />
      )}
      <PictureBar
        spot={spot}
        isFraming={isFraming}
        onFraming={props.onFraming}
        several={{ isOn: isSeveral, onChange: setSeveral }}
        onFit={fit}
        onZoom={zoom}
      />
    </div>
  );
}

function spotAt(view: View, at: Point): Spot {
  const { x, y } = toDrawn(view, at);
  return [Math.round(x * 100) / 100, Math.round(y * 100) / 100];
}

/** So near to the outline (pixels) a place is taken to be on it. */
const snapReach = 8;

/** How far a pointer has gone, mm; `isStraight`: along the one direction in which it went further. */
function movedBy(from: Point, to: Point, { scale }: View, isStraight: boolean): Spot {
  const [dx, dy] = [(to.x - from.x) / scale, (from.y - to.y) / scale];
  const isAcross = Math.abs(dx) >= Math.abs(dy);
  const whole = (mm: number): number => Math.round(mm * 10) / 10;
  return [isStraight && !isAcross ? 0 : whole(dx), isStraight && isAcross ? 0 : whole(dy)];
}

function PlacingCross({ at: [x, y], scale }: { at: Spot; scale: number }): JSX.Element {
  const arm = 14 / scale;
  const d = `M${x - arm} ${y}L${x + arm} ${y}M${x} ${y - arm}L${x} ${y + arm}`;
  return <path class="placing-cross" d={d} />;
}

function frameOf(from: Point, to: Point): Extent {
  return [
    Math.min(from.x, to.x),
    Math.min(from.y, to.y),
    Math.max(from.x, to.x),
    Math.max(from.y, to.y),
  ];
}

/** The things whose middles lie in a frame of the window. */
function thingsIn(piece: PieceView, frame: Extent, view: View): number[] {
  const [minX, minY, maxX, maxY] = frame;
  return piece.things
    .filter(({ role }) => role !== 'OUTLINE')
    .filter(({ at: [x, y] }) => {
      const on = toScreen(view, { x, y });
      return on.x >= minX && on.x <= maxX && on.y >= minY && on.y <= maxY;
    })
    .map(({ index }) => index);
}

const traceRoles: ReadonlySet<string> = new Set(['BOUND', 'SEAM', 'TUCK', 'TURNED', 'RAW']);

/** The lines of a piece. Traces of its edge are shown by the edge itself. */
function Drawn({
  piece,
  chosen,
  moved,
  children,
}: {
  readonly piece: PieceView;
  readonly chosen: Chosen;
  /** How far what is chosen is dragged now, mm. */
  readonly moved: Spot | null;
  /** Its edge, under what lies on it. */
  readonly children: ComponentChildren;
}): JSX.Element {
  const picked = new Set(chosen.kind === 'things' ? chosen.things : []);
  return (
    <>
      {piece.outline !== null && <path class="body" d={piece.outline} />}
      {piece.other.length > 0 && (
        <g class="other-half">
          {piece.other.map(({ d }) => (
            <path d={d} />
          ))}
        </g>
      )}
      {children}
      {piece.things
        .filter(({ role, kind }) => kind !== 'text' && !traceRoles.has(role ?? ''))
        .filter(({ role }) => role !== 'OUTLINE' || piece.stretches.length === 0)
        .map((thing) => (
          <g
            transform={
              moved !== null && picked.has(thing.index)
                ? `translate(${moved[0]} ${moved[1]})`
                : undefined
            }
          >
            <Thing thing={thing} isPicked={picked.has(thing.index)} />
          </g>
        ))}
      {piece.pile !== null && <PileArrow line={piece.pile} />}
    </>
  );
}

function Thing({ thing, isPicked }: { thing: ThingView; isPicked: boolean }): JSX.Element {
  const { index, role, d, at, kind } = thing;
  const name = role === null ? 'unsaid' : role.toLowerCase();
  const own = `thing ${name}${isPicked ? ' picked' : ''}`;
  // The outline is pointed at by its edge.
  const mark = role === 'OUTLINE' ? {} : { 'data-thing': index };
  if (kind === 'point') {
    const [x, y] = at;
    const cross = `M${x - 5} ${y}L${x + 5} ${y}M${x} ${y - 5}L${x} ${y + 5}`;
    return (
      <g class={own} {...mark}>
        <path class="reach" d={cross} />
        <path d={cross} />
      </g>
    );
  }
  return (
    <g class={own} {...mark}>
      <path class="reach" d={d} />
      <path d={d} />
    </g>
  );
}

function PileArrow({ line: [from, to] }: { line: readonly [Spot, Spot] }): JSX.Element {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const long = Math.hypot(dx, dy) || 1;
  const [ux, uy] = [dx / long, dy / long];
  const wing = (side: number): string => {
    const x = to[0] - ux * 28 + side * uy * 14;
    const y = to[1] - uy * 28 - side * ux * 14;
    return `M${x} ${y}L${to[0]} ${to[1]}`;
  };
  return (
    <path class="pile-arrow" d={`M${from[0]} ${from[1]}L${to[0]} ${to[1]}${wing(1)}${wing(-1)}`} />
  );
}

/** Texts stand upright on the screen, whatever the drawing's y is. */
function Texts({
  piece,
  view,
  chosen,
}: {
  piece: PieceView;
  view: View;
  chosen: Chosen;
}): JSX.Element {
  const picked = new Set(chosen.kind === 'things' ? chosen.things : []);
  return (
    <>
      {piece.things.map(({ index, role, text, at: [x, y] }) => {
        // The names of edges are shown by the edges.
        if (text === null || traceRoles.has(role ?? '')) return null;
        const on = toScreen(view, { x, y });
        const size = Math.max(10, Math.min(30, text.height * view.scale));
        return (
          <text
            class={`drawn-text${picked.has(index) ? ' picked' : ''}`}
            data-thing={index}
            x={on.x}
            y={on.y}
            font-size={size}
            transform={`rotate(${-text.deg} ${on.x} ${on.y})`}
          >
            {text.words}
          </text>
        );
      })}
    </>
  );
}
