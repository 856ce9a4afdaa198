import { useEffect, useId, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Point } from '../../../geometry/paths/point.ts';
import type { Scene } from './drawing/scene.ts';
import type { Stage } from './drawing/stage.ts';
import { createStage } from './drawing/stage.ts';
import type { Held } from './holding/holding.ts';
import { useHolding } from './holding/use-holding.ts';
import type { KeyAct } from './input/keys.ts';
import { keyAct, zoomStep } from './input/keys.ts';
import { watchPointers } from '../picture/pointer-gestures.ts';
import { usePointerGestures } from './input/use-pointer-gestures.ts';
import { partAt } from './places/hit.ts';
import { layOut, layOutTried, lengthReached } from './places/placing.ts';
import type { Stretch } from './places/rows.ts';
import { placedWords, walkFrom } from './places/walk.ts';
import { useKept } from '../use-kept.ts';
import { RollBar } from './roll-bar.tsx';
import { RollHelp } from './roll-help.tsx';
import type { RollPictureProps } from './roll-props.ts';
import { RollStrip } from './strip.tsx';
import { chosen } from './selecting.ts';
import { VerdictBox, boxMover } from './verdict-box.tsx';

const none: readonly never[] = [];

/** The picture of a roll with its lay: to look at, to choose in, and to move parts on. */
export function RollPicture(props: RollPictureProps) {
  const { roll, parts, placements, pinned, trying = null, selected, onSelect } = props;
  const { faint = false, overlay = null, canBeInRows = false } = props;
  const [way, setWay] = useKept('roll-rows', 'rows');
  const inRows = canBeInRows && way === 'rows';
  const ids = useId();
  const canvas = useRef<HTMLCanvasElement>(null);
  const box = useRef<HTMLDivElement>(null);
  const stage = useRef<Stage | null>(null);
  const [focused, setFocused] = useState<string | null>(null);
  const [said, setSaid] = useState('');
  const [pointer, setPointer] = useState<Point | null>(null);

  const placed = useMemo(() => layOut(parts, placements), [parts, placements]);
  const tried = useMemo(
    () => (trying === null ? none : layOutTried(parts, trying)),
    [parts, trying],
  );
  const orders = useMemo(() => [...new Set(parts.map(({ order }) => order))], [parts]);
  const manner = useMemo(() => ({ pinned, orders, faint }), [pinned, orders, faint]);
  const { held, reason, holding, nudge, turn } = useHolding(props.drag ?? null, placed);
  const gestures = usePointerGestures({
    ...props,
    placed,
    stage,
    holding,
    pointed: setPointer,
    focus: setFocused,
  });

  const scene: Scene = {
    roll,
    placed,
    tried,
    manner,
    selected,
    focused,
    held,
    marking: gestures.marking,
    bites: props.bites ?? none,
    length: props.length ?? lengthReached(placed),
    overlay,
    inRows,
  };
  const anchor = held?.label ?? reason?.label ?? null;
  const anchorPart = placed.find(({ part }) => part.label === anchor) ?? null;
  const marks = useRef<(seen: readonly Stretch[]) => void>(null);
  const moveBox = useRef(boxMover(box, null, null));
  moveBox.current = boxMover(box, anchorPart, held?.to ?? null);

  useLayoutEffect(() => {
    const made = createStage(canvas.current!, () => {
      moveBox.current(made.viewAt, made.size());
      marks.current?.(made.seen());
    });
    stage.current = made;
    return () => made.close();
  }, []);
  useLayoutEffect(() => stage.current?.show(scene));
  useEffect(() => {
    const { redraw } = props;
    if (redraw !== undefined) redraw.current = () => stage.current?.redraw();
    return () => {
      if (redraw !== undefined) redraw.current = null;
    };
  }, [props.redraw]);
  useEffect(() => watchPointers(canvas.current!, () => gestures.now()), []);
  useEffect(() => {
    const { tools } = props;
    if (tools === undefined) return;
    tools.current = {
      show: (label) => {
        const one = placed.find(({ part }) => part.label === label);
        if (one !== undefined) stage.current?.bringIn(one.box);
      },
      turn: (label) => {
        turn(label, false);
        void holding.release();
      },
    };
    return () => {
      tools.current = null;
    };
  }, [props.tools, placed]);
  // The part that the walk by keyboard has come to is looked at as one under the pointer is.
  useEffect(() => props.onHover?.(focused), [focused]);

  const walk = (by: 1 | -1): void => {
    const lone = selected.size === 1 ? [...selected][0]! : null;
    const next = walkFrom(placed, focused ?? lone, by);
    setFocused(next?.part.label ?? null);
    if (next === null) {
      setSaid('Nothing is laid here.');
      return;
    }
    const { label } = next.part;
    setSaid(placedWords(next, pinned.has(label), selected.has(label)));
    stage.current?.bringIn(next.box);
  };
  const act = (what: KeyAct): void => {
    const at = stage.current;
    if (at === null) return;
    const { width, height } = at.size();
    if (what.what === 'walk') walk(what.by);
    if (what.what === 'select' && focused !== null) onSelect(chosen(selected, focused, what.add));
    if (what.what === 'zoom') at.zoom(null, what.factor);
    if (what.what === 'fit') at.fit();
    if (what.what === 'pan') at.pan({ x: -what.x * width, y: what.y * height });
    if (what.what === 'nudge' && focused !== null) nudge(focused, what);
    if (what.what === 'turn') turn(focused, what.quarter);
    if (what.what === 'drop') void holding.release();
    if (what.what === 'back') holding.putBack();
    if (what.what === 'leave') setFocused(null);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const what = keyAct(event, {
      focused: focused !== null,
      movable: (props.drag ?? null) !== null,
      holding: held?.phase === 'held',
    });
    if (what === null) return;
    event.preventDefault();
    act(what);
  };
  const onBlur = (): void => {
    setFocused(null);
    // A move that keys have begun could not be ended from elsewhere.
    if (held?.grip === null) holding.putBack();
  };
  const at = pointer === null || stage.current === null ? null : stage.current.spotAt(pointer);
  const below = at === null ? null : partAt(placed, at);

  return (
    <section class="roll">
      <div
        class="roll-stage"
        tabindex={0}
        role="application"
        aria-roledescription="picture of a roll"
        aria-label={props.label}
        aria-describedby={`${ids}-help`}
        onKeyDown={onKeyDown}
        onBlur={onBlur}
      >
        <canvas ref={canvas} class={`roll-canvas ${cursorOf(props, held, below !== null)}`} />
        <VerdictBox box={box} held={held} reason={reason} />
      </div>
      <RollBar
        spot={at}
        below={below}
        hasPile={parts.some(({ pileDeg }) => pileDeg !== null)}
        strip={
          canBeInRows && (
            <RollStrip scene={scene} marks={marks} onGoAlong={(x) => stage.current?.goAlong(x)} />
          )
        }
        isInRows={inRows}
        onRows={canBeInRows ? (on) => setWay(on ? 'rows' : 'band') : null}
        onCloser={() => act({ what: 'zoom', factor: zoomStep })}
        onFarther={() => act({ what: 'zoom', factor: 1 / zoomStep })}
        onFit={() => act({ what: 'fit' })}
      />
      <RollHelp id={`${ids}-help`} movable={(props.drag ?? null) !== null} />
      <div class="roll-unseen" aria-live="polite">
        {said}
      </div>
    </section>
  );
}

/** The class that gives the pointer its shape. */
function cursorOf(
  { defectTool = null, drag = null }: RollPictureProps,
  held: Held | null,
  isOver: boolean,
): string {
  if (defectTool !== null) return 'marking';
  if (held !== null && held.grip !== null) return 'held';
  if (!isOver) return '';
  return drag === null ? 'over' : 'movable';
}
