import type { PicturedPart } from '../../../api/pictured.ts';
import { labelRoom } from '../places/hit.ts';
import type { PartOnRoll } from '../places/placing.ts';
import { onRoll } from '../places/placing.ts';
import type { Size } from '../../picture/view.ts';
import { toScreen } from '../../picture/view.ts';
import type { Brush } from './brush.ts';

/** The widths of a part's texts, in heights of the type. */
interface Measured {
  readonly family: string;
  readonly name: number;
  readonly set: number;
}

const measured = new WeakMap<PicturedPart, Measured>();
const rooms = new WeakMap<PartOnRoll, Size>();
/** Height of a line, in heights of the type. */
const lineHeight = 1.2;
/** Width of a pin beside text, in heights of the type. */
const pinRoom = 1.6;
/** The room between the text and the edge of the part, pixels. */
const clear = 4;

/**
 * What is written on a part: two lines, one or none, and whether a pin stands above or beside them.
 */
interface Writing {
  readonly lines: readonly string[];
  readonly pin: 'above' | 'beside' | null;
}

/**
 * Writes name, order and set of a part where its label is best written, on a plate of the part's colour. Where there is
 * no room it writes the name alone, the name along a narrow part, its order alone, or nothing. A pin comes
 * before words.
 */
export function drawPartLabel(
  brush: Brush,
  one: PartOnRoll,
  /** Whether there are several orders. */
  isTold: boolean,
  pinned: boolean,
  plate: string,
): void {
  const { type } = brush.inks;
  const room = roomOf(one);
  const { scale } = brush.view;
  const [width, height] = [room.width * scale - 2 * clear, room.height * scale - 2 * clear];
  if (height < type || width < type) return;
  const text = measuredOf(brush, one.part);
  const widthOf = (lines: number): number =>
    [0, text.name, Math.max(text.name, text.set)][lines]! * type;
  const { lines, pin } = writingOf(one.part, widthOf, width, height, type, pinned);
  if (lines.length === 0 && !pinned) {
    writeInLittle(brush, one, isTold, text.name * type, { width, height }, plate);
    return;
  }
  const widest = widthOf(lines.length);
  const at = toScreen(brush.view, onRoll(one.place, { x: one.part.at[0], y: one.part.at[1] }));
  const aside = pin === 'beside' ? (pinRoom / 2) * type : 0;
  if (lines.length > 0) writeLines(brush, lines, at.x + aside, at.y, widest, plate);
  const high = lines.length * lineHeight * type;
  if (pin === 'above') drawPin(brush, at.x, at.y - high / 2 - (high > 0 ? 0.7 * type : 0), plate);
  if (pin === 'beside') drawPin(brush, at.x - widest / 2, at.y, plate);
}

function writingOf(
  part: PicturedPart,
  widthOf: (lines: number) => number,
  width: number,
  height: number,
  type: number,
  pinned: boolean,
): Writing {
  const texts = [part.name, setText(part)];
  for (const count of [2, 1]) {
    const [wide, high] = [widthOf(count), count * lineHeight * type];
    if (wide > width || high > height) continue;
    const lines = texts.slice(0, count);
    if (!pinned) return { lines, pin: null };
    if (high + 3.2 * type <= height) return { lines, pin: 'above' };
    if (wide + pinRoom * type <= width) return { lines, pin: 'beside' };
  }
  return { lines: [], pin: pinned ? 'above' : null };
}

/** Writes the name upwards, or else only the order where there are several. */
function writeInLittle(
  brush: Brush,
  { part, place }: PartOnRoll,
  isTold: boolean,
  wide: number,
  { width, height }: Size,
  plate: string,
): void {
  const { ctx, ratio, inks } = brush;
  const { x, y } = toScreen(brush.view, onRoll(place, { x: part.at[0], y: part.at[1] }));
  if (wide <= height && width >= lineHeight * inks.type) {
    ctx.save();
    ctx.translate(x * ratio, y * ratio);
    ctx.rotate(-Math.PI / 2);
    writeLines(brush, [part.name], 0, 0, wide, plate);
    ctx.restore();
  } else if (isTold) {
    ctx.font = `600 100px ${inks.family}`;
    const long = (ctx.measureText(part.order).width / 100) * inks.type;
    if (long <= width) writeLines(brush, [part.order], x, y, long, plate);
  }
}

function setText({ order, set }: PicturedPart): string {
  return `${order} / ${set}`;
}

function roomOf(one: PartOnRoll): Size {
  const room = rooms.get(one) ?? labelRoom(one);
  rooms.set(one, room);
  return room;
}

function measuredOf({ ctx, inks: { family } }: Brush, part: PicturedPart): Measured {
  const known = measured.get(part);
  if (known?.family === family) return known;
  ctx.font = `600 100px ${family}`;
  const name = ctx.measureText(part.name).width / 100;
  ctx.font = `400 100px ${family}`;
  const set = ctx.measureText(setText(part)).width / 100;
  const fresh = { family, name, set };
  measured.set(part, fresh);
  return fresh;
}

/**
 * Writes lines on a plate of the part's own colour, so that hatches do not run through the text.
 */
function writeLines(
  { ctx, inks, ratio }: Brush,
  lines: readonly string[],
  x: number,
  y: number,
  width: number,
  plate: string,
): void {
  const step = lineHeight * inks.type;
  const high = lines.length * step;
  ctx.fillStyle = plate;
  ctx.fillRect(
    (x - width / 2 - 3) * ratio,
    (y - high / 2) * ratio,
    (width + 6) * ratio,
    high * ratio,
  );
  ctx.fillStyle = inks.ink;
  ctx.textAlign = 'center';
  ctx.textBaseline = 'middle';
  for (const [i, line] of lines.entries()) {
    ctx.font = `${i === 0 ? 600 : 400} ${inks.type * ratio}px ${inks.family}`;
    ctx.fillText(line, x * ratio, (y - high / 2 + (i + 0.5) * step) * ratio);
  }
}

/** Draws a pin seen from the side: a head and a needle. */
function drawPin({ ctx, inks, ratio }: Brush, x: number, y: number, plate: string): void {
  const r = 0.28 * inks.type * ratio;
  const [cx, cy] = [x * ratio, y * ratio];
  ctx.beginPath();
  ctx.arc(cx, cy, 2.4 * r, 0, 2 * Math.PI);
  ctx.fillStyle = plate;
  ctx.fill();
  ctx.beginPath();
  ctx.arc(cx, cy - 0.8 * r, 1.1 * r, 0, 2 * Math.PI);
  ctx.fillStyle = inks.ink;
  ctx.fill();
  ctx.beginPath();
  ctx.moveTo(cx, cy);
  ctx.lineTo(cx, cy + 2 * r);
  ctx.strokeStyle = inks.ink;
  ctx.lineWidth = 0.6 * r;
  ctx.stroke();
}
