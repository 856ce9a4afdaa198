import type { Point } from '../../../../geometry/paths/point.ts';
import type { PartPlace } from '../../../api/lay.ts';
import type { Held } from '../holding/holding.ts';
import { canGlide, eases, gliding, glideTime } from '../places/glide.ts';
import type { PartOnRoll } from '../places/placing.ts';
import { placeBetween, placePart } from '../places/placing.ts';
import type { Rows, Stretch } from '../places/rows.ts';
import {
  isReadable,
  oneBand,
  rowAlong,
  rowAt,
  rowsFor,
  rowsSeen,
  rowView,
  sheetExtent,
  sheetView,
  stretchesSeen,
} from '../places/rows.ts';
import type { Extent, Size, View } from '../../picture/view.ts';
import {
  broughtIn,
  fittedView,
  isFarOff,
  keptOver,
  panned,
  sameView,
  toDrawn,
  toScreen,
  zoomed,
} from '../../picture/view.ts';
import type { Brush, Tones } from './brush.ts';
import { tonesIn } from './brush.ts';
import { drawParts, drawTried } from './draw-parts.ts';
import { drawRoll } from './draw-roll.ts';
import {
  drawBites,
  drawEnd,
  drawFocused,
  drawHeld,
  drawMarking,
  drawRuler,
  drawSelected,
  rulerHeight,
} from './draw-top.ts';
import type { Inks } from './inks.ts';
import { inksOf, onThemeChange } from './inks.ts';
import { createPainting } from './painting.ts';
import type { Scene } from './scene.ts';
import { firstExtent, rollEnd, sameRoll, wholeExtent } from './scene.ts';

/**
 * A canvas that shows a scene and whose view can be moved. Points are pixels of the page, from the
 * corner of the canvas.
 */
export interface Stage {
  readonly show: (scene: Scene) => void;
  /** The view of the roll where it shows the place `x` along it, mm. */
  readonly viewAt: (x: number) => View;
  /** The place on the roll that is at a point, mm. */
  readonly spotAt: (at: Point) => Point;
  /** What of the roll is in the window. */
  readonly seen: () => readonly Stretch[];
  readonly size: () => Size;
  readonly zoom: (at: Point | null, factor: number) => void;
  readonly pan: (by: Point) => void;
  readonly fit: () => void;
  /** Whether there are rows above or below the window. */
  readonly isHigh: () => boolean;
  /** Moves the view by as little as shows all of an extent. */
  readonly bringIn: (extent: Extent) => void;
  /** Moves the view so that the place `x` along the roll, mm, is in the middle. */
  readonly goAlong: (x: number) => void;
  /** Draws the next frame anew. */
  readonly redraw: () => void;
  readonly close: () => void;
}

/**
 * Times in ms: spent on painting in a frame while the view rests (`slice`) and while it moves
 * (`moving`); without a move until the view counts as resting; after a change until the picture of the
 * whole lay is painted again.
 */
const times = { slice: 11, moving: 7, rest: 120, whole: 400 };
/** The room between the lay and the window's edge where the lay is fitted into it, pixels. */
const margin = 16;
/** The size of the picture of the whole lay, pixels. */
const wholeSize: Size = { width: 4000, height: 1500 };
/** Where more parts than this glide, they are drawn without hatches. */
const mostHatchedGliding = 150;

/** Sets up a canvas inside an element that gives it its size. `drawn` is called after every frame. */
export function createStage(canvas: HTMLCanvasElement, drawn: () => void): Stage {
  const ctx = canvas.getContext('2d')!;
  const sharp = createPainting();
  const whole = createPainting();
  const ghosts = createPainting();
  let scene: Scene | null = null;
  let size: Size = { width: 0, height: 0 };
  let ratio = 1;
  let inks: Inks = inksOf(canvas);
  let tones: Tones = tonesIn(inks, ratio);
  let rows: Rows = oneBand(1);
  /** Of the sheet on which the rows are. */
  let view: View = { scale: 1, left: 0, top: 0 };
  let touched = false;
  let movedAt = -Infinity;
  let frame = 0;
  let timer: ReturnType<typeof setTimeout> | null = null;
  let glide: { readonly from: readonly PartOnRoll[]; readonly since: number } | null = null;
  let back: { readonly held: Held; readonly since: number } | null = null;
  /** Which pictures are out of date. */
  const stale = { sharp: true, whole: true, ghosts: true };
  let changedAt = -Infinity;

  const redraw = (): void => {
    if (frame === 0) frame = requestAnimationFrame(draw);
  };
  const redrawAfter = (ms: number): void => {
    if (timer !== null) clearTimeout(timer);
    timer = setTimeout(redraw, ms);
  };
  const brushFor = (on: CanvasRenderingContext2D, of: View, area: Size, by: number): Brush => ({
    ctx: on,
    view: of,
    size: area,
    ratio: by,
    inks,
    hatches: tones,
  });
  const repaint = (): void => {
    stale.sharp = true;
    stale.whole = true;
    stale.ghosts = true;
    changedAt = performance.now();
    redraw();
  };
  /** The room for the ruler. */
  const headOf = (): number => rulerHeight * inks.type;
  const wholeView = (of: Scene, area: Size, room: number, head: number): View =>
    fittedView(sheetExtent(rows, firstExtent(of)[2]), area, room, head);
  const least = (): number =>
    scene === null ? 0.001 : 0.5 * wholeView(scene, size, margin, headOf()).scale;
  /** The whole sheet or, where it is higher than the window, its first rows. */
  const fitView = (of: Scene): View => {
    const all = wholeView(of, size, margin, headOf());
    if (rows.count === 1 || isReadable(rows, all.scale)) return all;
    const scale = (size.width - 2 * margin) / rows.each;
    return { scale, left: -margin / scale, top: rows.width + (margin + headOf()) / scale };
  };
  const go = (next: View): void => {
    if (scene === null) return;
    const kept = keptOver(next, sheetExtent(rows, wholeExtent(scene)[2]), size);
    if (sameView(kept, view)) return;
    view = kept;
    movedAt = performance.now();
    stale.sharp = true;
    stale.ghosts = true;
    redraw();
  };
  const fit = (): void => {
    if (scene === null || size.width === 0) return;
    setOut(scene);
    go(fitView(scene));
    movedAt = -Infinity;
    touched = false;
  };
  const setOut = (of: Scene): void => {
    const { width } = of.roll;
    const next = of.inRows
      ? rowsFor(firstExtent(of)[2], width, size, margin, headOf() + 6)
      : oneBand(width);
    if (next.count === rows.count && next.each === rows.each && next.pitch === rows.pitch) return;
    rows = next;
    whole.clear();
    sharp.clear();
    ghosts.clear();
    repaint();
  };

  function draw(): void {
    frame = 0;
    if (scene === null || size.width === 0) return;
    const now = performance.now();
    const resting = now - movedAt >= times.rest;
    if (!resting) redrawAfter(times.rest);
    const isUnfinished = resting ? paint(scene, now) : paintOnTheWay(scene, now);
    ctx.fillStyle = inks.ground;
    ctx.fillRect(0, 0, canvas.width, canvas.height);
    const isMoving = drawLay(scene, now);
    for (const row of rowsIn(ctx, view, size, ratio)) drawTop(row, scene, now);
    const wantsMore = scene.overlay?.(ctx, view, { ...size, ratio, resting }) === true;
    if (rows.count === 1) drawRuler(brushFor(ctx, view, size, ratio), rollEnd(scene), 0);
    if (isUnfinished || isMoving || wantsMore || back !== null) redraw();
    drawn();
  }

  /** Brushes for the rows that are in the window, each of which draws in its own row alone. */
  function* rowsIn(
    on: CanvasRenderingContext2D,
    sheet: View,
    area: Size,
    by: number,
  ): Generator<Brush> {
    if (rows.count === 1) {
      yield brushFor(on, sheet, area, by);
      return;
    }
    for (const row of rowsSeen(rows, sheet, area)) {
      const of = rowView(rows, sheet, row);
      const [begin, end] = [row, row + 1].map((one) => (one * rows.each - of.left) * of.scale * by);
      const [top, bottom] = [rows.pitch, 0].map((y) => (of.top - y) * of.scale * by);
      on.save();
      on.beginPath();
      const right = row === rows.count - 1 ? area.width * by : end!;
      on.rect(begin!, top!, right - begin!, bottom! - top!);
      on.clip();
      yield brushFor(on, of, area, by);
      on.restore();
    }
  }

  /** Goes on painting pictures that are out of date. Says whether there is more to do at once. */
  function paint(of: Scene, now: number): boolean {
    const until = now + times.slice;
    if (stale.sharp) {
      stale.sharp = false;
      sharp.begin(view, size, ratio, layDrawer(of, view, size, ratio));
    }
    if (!sharp.goOn(until)) return true;
    if (stale.ghosts) {
      stale.ghosts = false;
      ghosts.begin(view, size, ratio, (on) => drawAllTried(on, view, of));
    }
    if (!ghosts.goOn(until)) return true;
    if (stale.whole) {
      const wait = changedAt + times.whole - now;
      if (wait > 0) {
        redrawAfter(wait);
        return false;
      }
      stale.whole = false;
      const all = wholeView(of, wholeSize, 0, 0);
      whole.begin(all, wholeSize, 1, layDrawer(of, all, wholeSize, 1));
    }
    return !whole.goOn(until);
  }

  /**
   * Goes on painting while the view moves: a picture is begun anew only where the last one is of little
   * use.
   */
  function paintOnTheWay(of: Scene, now: number): boolean {
    const made = sharp.view();
    if (!sharp.busy() && made !== null && isFarOff(made, view, size)) {
      sharp.begin(view, size, ratio, layDrawer(of, view, size, ratio));
    }
    return !sharp.goOn(now + times.moving);
  }

  function* drawAllTried(on: CanvasRenderingContext2D, at: View, of: Scene): Generator<void> {
    for (const row of rowsIn(on, at, size, ratio)) yield* drawTried(row, of.tried);
  }

  function* drawAll(brushes: Iterable<Brush>, of: Scene): Generator<void> {
    for (const brush of brushes) {
      drawRoll(brush, of.roll, of.length, rollEnd(of));
      yield;
      yield* drawParts(brush, of.placed, of.manner);
    }
  }

  function layDrawer(of: Scene, at: View, area: Size, by: number) {
    return (on: CanvasRenderingContext2D) => drawAll(rowsIn(on, at, area, by), of);
  }

  /** Draws the lay, copied from its pictures or gliding. Says whether it goes on moving. */
  function drawLay(of: Scene, now: number): boolean {
    const share = glide === null ? 1 : (now - glide.since) / glideTime;
    if (glide === null || share >= 1) {
      glide = null;
      if (!isWholeWindow()) whole.show(ctx, view, ratio);
      sharp.show(ctx, view, ratio);
      if (of.tried.length > 0) ghosts.show(ctx, view, ratio);
      return false;
    }
    const isPlain = of.placed.length > mostHatchedGliding;
    const manner = isPlain ? { ...of.manner, faint: true } : of.manner;
    const placed = gliding(glide.from, of.placed, share);
    for (const brush of rowsIn(ctx, view, size, ratio)) {
      drawRoll(brush, of.roll, of.length, rollEnd(of));
      for (const step of drawParts(brush, placed, manner)) void step;
    }
    return true;
  }

  function isWholeWindow(): boolean {
    const made = sharp.view();
    return made !== null && sameView(made, view);
  }

  function drawTop(brush: Brush, of: Scene, now: number): void {
    const edge = toScreen(brush.view, { x: 0, y: of.roll.width }).y;
    const isBand = rows.count === 1;
    if (!isBand) drawRuler(brush, rollEnd(of), Math.max(0, edge - headOf()));
    const words = isBand
      ? Math.max(headOf(), edge - 1.5 * inks.type)
      : Math.max(0, edge - headOf() + 2);
    drawBites(brush, of.bites, of.roll, words);
    drawEnd(brush, of.length, of.roll, words);
    const byLabel = (label: string): PartOnRoll | undefined =>
      of.placed.find(({ part }) => part.label === label);
    for (const one of of.placed) {
      const { label } = one.part;
      if (of.selected.has(label) && label !== of.held?.label)
        drawSelected(brush, one, of.manner.faint);
    }
    const focused = of.focused === null ? undefined : byLabel(of.focused);
    const held = of.held === null ? undefined : byLabel(of.held.label);
    if (of.held !== null && held !== undefined) {
      drawHeld(brush, of.held, held, placeNow(of.held, now));
    }
    if (focused !== undefined) {
      const at = of.held?.label === of.focused ? of.held?.to : undefined;
      drawFocused(brush, at === undefined ? focused : placePart(focused.part, at));
    }
    if (of.marking !== null) drawMarking(brush, of.marking);
  }

  /** Where a held part is drawn: one that goes back is somewhere on its way. */
  function placeNow(held: Held, now: number): PartPlace {
    if (held.phase !== 'back' || isCalm()) return held.phase === 'back' ? held.from : held.to;
    if (back?.held !== held) back = { held, since: now };
    return placeBetween(held.to, held.from, eases(Math.min(1, (now - back.since) / glideTime)));
  }

  const show = (next: Scene): void => {
    const last = scene;
    scene = next;
    if (next.held?.phase !== 'back') back = null;
    if (last === null || !sameRoll(last.roll, next.roll) || last.inRows !== next.inRows) {
      whole.clear();
      sharp.clear();
      fit();
      repaint();
      return;
    }
    const isLayNew = last.placed !== next.placed;
    if (isLayNew && !isCalm() && last.held === null && canGlide(last.placed, next.placed)) {
      glide = { from: last.placed, since: performance.now() };
    }
    const isOther = last.roll !== next.roll || last.manner !== next.manner;
    if (isLayNew || isOther || last.length !== next.length) repaint();
    if (last.tried !== next.tried) stale.ghosts = true;
    if (!touched && isOtherSize(last, next)) fit();
    redraw();
  };

  /**
   * Whether a lay has so much another length that it is fitted anew. One that is a little shorter stays
   * where it is in the window.
   */
  function isOtherSize(a: Scene, b: Scene): boolean {
    const [before, now] = [firstExtent(a)[2], firstExtent(b)[2]];
    if (rows.count > 1) return now > rows.count * rows.each || now < 0.85 * rows.count * rows.each;
    const shown = size.width / view.scale;
    return before !== now && (now > view.left + shown || now < 0.85 * shown);
  }

  const resize = (): void => {
    const box = canvas.parentElement!.getBoundingClientRect();
    const before = size;
    size = { width: Math.round(box.width), height: Math.round(box.height) };
    ratio = Math.min(2, window.devicePixelRatio || 1);
    canvas.width = Math.max(1, Math.round(size.width * ratio));
    canvas.height = Math.max(1, Math.round(size.height * ratio));
    look();
    if (touched && before.width > 0 && rows.count === 1) {
      go(
        panned(view, { x: (size.width - before.width) / 2, y: (size.height - before.height) / 2 }),
      );
    } else fit();
  };
  const look = (): void => {
    inks = inksOf(canvas);
    tones = tonesIn(inks, ratio);
    repaint();
  };
  const watch = new ResizeObserver(resize);
  watch.observe(canvas.parentElement!);
  const unwatchTheme = onThemeChange(look);
  resize();

  return {
    show,
    viewAt: (x) => rowView(rows, view, rowAlong(rows, x)),
    spotAt: (at) => toDrawn(rowView(rows, view, rowAt(rows, view, at)), at),
    seen: () => (scene === null ? [] : stretchesSeen(rows, view, size, wholeExtent(scene)[2])),
    size: () => size,
    zoom: (at, factor) => {
      touched = true;
      go(zoomed(view, at ?? { x: size.width / 2, y: size.height / 2 }, factor, least()));
    },
    pan: (by) => {
      touched = true;
      go(panned(view, by));
    },
    fit,
    isHigh: () => rows.count > 1 && (rows.count - 1) * rows.pitch * view.scale > size.height,
    bringIn: (extent) => {
      const row = rowAlong(rows, (extent[0] + extent[2]) / 2);
      touched = true;
      go(sheetView(rows, broughtIn(rowView(rows, view, row), extent, size, 3 * inks.type), row));
    },
    goAlong: (x) => {
      const row = rowAlong(rows, x);
      const at = rowView(rows, view, row);
      const { x: left, y: top } = toScreen(at, { x, y: rows.width / 2 });
      touched = true;
      go(panned(view, { x: size.width / 2 - left, y: size.height / 2 - top }));
    },
    redraw,
    close: () => {
      if (frame !== 0) cancelAnimationFrame(frame);
      if (timer !== null) clearTimeout(timer);
      watch.disconnect();
      unwatchTheme();
      scene = null;
    },
  };
}

function isCalm(): boolean {
  return matchMedia('(prefers-reduced-motion: reduce)').matches;
}
