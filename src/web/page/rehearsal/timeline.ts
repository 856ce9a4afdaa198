import type { Rehearsal, RehearsalMoves } from '../../api/rehearsal.ts';

/** Where the knife is at a moment. */
export interface Moment {
  /**
   * How many moves are over, which is the number of the one under way; at the end it is the number of
   * all moves.
   */
  readonly move: number;
  /** mm */
  readonly x: number;
  readonly y: number;
  /** 1: the knife cuts; 0: it is up; 2: it is held shallow; null: the program is at its end. */
  readonly down: number | null;
  /** The line of the program; 0 where the program has none. */
  readonly line: number;
}

/** How many moves are over at a moment, seconds from the start. */
export function movesOver({ at }: Pick<RehearsalMoves, 'at'>, seconds: number): number {
  let [low, high] = [0, at.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (at[middle]! <= seconds) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Where the knife is: between the ends of two moves on the straight line between them. */
export function momentAt(moves: RehearsalMoves, seconds: number): Moment {
  const { x, y, at, down, line } = moves;
  const count = at.length;
  const move = movesOver(moves, seconds);
  if (move === count) {
    const last = count - 1;
    return { move, x: x[last] ?? 0, y: y[last] ?? 0, down: null, line: line[last] ?? 0 };
  }
  const from = Math.max(0, move - 1);
  const begins = beginOf(moves, move);
  const share = Math.min(1, Math.max(0, (seconds - begins) / (at[move]! - begins)));
  return {
    move,
    x: x[from]! + share * (x[move]! - x[from]!),
    y: y[from]! + share * (y[move]! - y[from]!),
    down: down[move]!,
    line: line[move]!,
  };
}

/** Seconds from the start at which a move begins. */
export function beginOf({ at }: Pick<RehearsalMoves, 'at'>, move: number): number {
  return move <= 0 ? 0 : (at[Math.min(move, at.length) - 1] ?? 0);
}

/** The next moment at which a move ends, seconds; at the end it stays as it is. */
export function stepOn(moves: RehearsalMoves, seconds: number): number {
  const move = movesOver(moves, seconds);
  return moves.at[move] ?? seconds;
}

/** The last moment at which a move ended, seconds; 0 where there was none. */
export function stepBack({ at }: RehearsalMoves, seconds: number): number {
  let [low, high] = [0, at.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (at[middle]! < seconds) low = middle + 1;
    else high = middle;
  }
  return at[low - 1] ?? 0;
}

/** The bite of a move, counted from 0. */
export function biteOf({ bites }: Pick<Rehearsal, 'bites'>, move: number): number {
  return Math.max(
    0,
    bites.findLastIndex(({ firstMove }) => firstMove <= move),
  );
}

/**
 * When the bite before (-1) or after (1) begins, seconds; null where there is none. Going back leads to
 * the beginning of the present bite first.
 */
export function biteFrom(
  rehearsal: Pick<Rehearsal, 'bites'>,
  moves: RehearsalMoves,
  seconds: number,
  by: 1 | -1,
): number | null {
  const { bites } = rehearsal;
  const now = biteOf(rehearsal, movesOver(moves, seconds));
  const begun = seconds - beginOf(moves, bites[now]?.firstMove ?? 0);
  // Within two seconds of a bite's beginning, going back means the bite before it.
  const wanted = by === 1 ? now + 1 : begun > 2 ? now : now - 1;
  const bite = bites[wanted];
  return bite === undefined ? null : beginOf(moves, bite.firstMove);
}

/** The last message of the program to the operator; null where there was none yet. */
export function messageAt(
  { messages }: Pick<Rehearsal, 'messages'>,
  move: number,
): Rehearsal['messages'][number] | null {
  return messages.findLast((message) => message.move <= move) ?? null;
}

/** The part that the knife was sent to last. */
export function partAtMove(
  { parts }: Pick<Rehearsal, 'parts'>,
  move: number,
): Rehearsal['parts'][number] | null {
  let last: Rehearsal['parts'][number] | null = null;
  for (const part of parts) {
    if (part.move <= move && (last === null || part.move >= last.move)) last = part;
  }
  return last;
}

/** A time in words, as "2 min 14 s" or "1 h 5 min 0 s". */
export function spokenTime(seconds: number): string {
  const whole = Math.floor(seconds);
  const [h, min, s] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  const hours = h > 0 ? [`${h} h`] : [];
  return [...hours, ...(whole >= 60 ? [`${min} min`] : []), `${s} s`].join(' ');
}

/** A time in figures, as "2:14" or "1:05:00": figures that run are easier to read so. */
export function clockTime(seconds: number): string {
  const whole = Math.floor(seconds);
  const two = (value: number): string => String(value).padStart(2, '0');
  const [h, min, s] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  return h > 0 ? `${h}:${two(min)}:${two(s)}` : `${min}:${two(s)}`;
}

/** What the knife does, in words. */
export function knifeWords(down: number | null): string {
  if (down === null) return 'At the end: knife up';
  if (down === 1) return 'Knife down: cutting';
  return down === 2 ? 'Held shallow: turning' : 'Knife up: travelling';
}
