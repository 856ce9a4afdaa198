import type { RefObject } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { Point } from '../../../../geometry/paths/point.ts';
import type { Stage } from '../drawing/stage.ts';
import type { Holding } from '../holding/holding.ts';
import type { DefectCorners } from '../places/defect.ts';
import { drawnDefect } from '../places/defect.ts';
import { partAt } from '../places/hit.ts';
import type { PartOnRoll } from '../places/placing.ts';
import { inPart, placeWith, roundedPlace } from '../places/placing.ts';
import type { RollPictureProps } from '../roll-props.ts';
import { chosen } from '../selecting.ts';
import type { PointerGestures } from '../../picture/pointer-gestures.ts';

interface Given extends RollPictureProps {
  readonly placed: readonly PartOnRoll[];
  readonly stage: RefObject<Stage | null>;
  readonly holding: Holding;
  readonly pointed: (at: Point | null) => void;
  readonly focus: (label: string | null) => void;
}

/**
 * What pointers do to the picture of a roll, and the outline of a defect that is just being drawn.
 */
export function usePointerGestures(given: Given): {
  readonly now: () => PointerGestures;
  readonly marking: DefectCorners | null;
} {
  const [marking, setMarking] = useState<DefectCorners | null>(null);
  const from = useRef<Point | null>(null);
  const hovered = useRef<string | null>(null);
  const latest = useRef(given);
  latest.current = given;

  const spotAt = (at: Point): Point => latest.current.stage.current!.spotAt(at);
  const below = (at: Point): PartOnRoll | null => partAt(latest.current.placed, spotAt(at));
  const tellHover = (label: string | null): void => {
    if (label === hovered.current) return;
    hovered.current = label;
    latest.current.onHover?.(label);
  };
  const dragPart = (spot: Point): void => {
    const { holding } = latest.current;
    const held = holding.now();
    if (held === null || held.grip === null) return;
    holding.move(roundedPlace(placeWith(held.grip, held.to.rotation, spot)));
  };
  const defectTo = (spot: Point): DefectCorners | null => {
    const { defectTool, roll } = latest.current;
    if (from.current === null || !defectTool) return null;
    return drawnDefect(defectTool.shape, from.current, spot, roll, defectTool.lineWidth);
  };
  const letGoOfDefect = (spot: Point): void => {
    const polygon = defectTo(spot);
    from.current = null;
    setMarking(null);
    if (polygon !== null) latest.current.defectTool?.onDefect(polygon);
  };
  const gestures: PointerGestures = {
    grab: (at) => {
      const { defectTool, drag, holding, placed } = latest.current;
      const spot = spotAt(at);
      if (defectTool) {
        from.current = spot;
        return 'mark';
      }
      const one = partAt(placed, spot);
      if (one === null || !drag) return 'pan';
      // A part that keys have moved and not yet laid down stays held.
      if (holding.now() !== null) return 'pan';
      holding.take(one.part.label, one.place, inPart(one.place, spot));
      return 'drag';
    },
    dragTo: (at) => {
      const spot = spotAt(at);
      latest.current.pointed(at);
      if (from.current === null) dragPart(spot);
      else setMarking(defectTo(spot));
    },
    release: (at) => {
      if (from.current === null) void latest.current.holding.release();
      else letGoOfDefect(spotAt(at));
    },
    cancel: () => {
      from.current = null;
      setMarking(null);
      latest.current.holding.putBack();
    },
    tap: (at, add) => {
      const { selected, onSelect, focus } = latest.current;
      const label = below(at)?.part.label ?? null;
      focus(null);
      onSelect(chosen(selected, label, add));
    },
    hover: (at) => {
      latest.current.pointed(at);
      tellHover(at === null ? null : (below(at)?.part.label ?? null));
    },
    pan: (by) => latest.current.stage.current?.pan(by),
    zoom: (at, factor) => latest.current.stage.current?.zoom(at, factor),
    isHigh: () => latest.current.stage.current?.isHigh() === true,
  };
  const kept = useRef(gestures);
  return { now: () => kept.current, marking };
}
