import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Path } from '../geometry/paths/path.ts';
import { pathOf } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Segment } from '../geometry/paths/segment.ts';
import { transformDeg, transformPath, transformPoint } from '../geometry/paths/transform.ts';
import { turnedOver } from '../lay/face-down.ts';
import type { Action, MotionAction, Program } from '../program/reading/actions.ts';
import { isMotion, movesOverBed } from '../program/reading/actions.ts';
import type { HeadSentence } from '../program/reading/heading.ts';
import { readHead } from '../program/reading/heading.ts';
import { readProgram } from '../program/reading/read.ts';
import { dragged, feedLength, segmentsOfMotion } from '../program/reading/trace.ts';
import type { Dragged } from '../program/reading/tractrix.ts';
import { readRunRecord } from '../program/record/record.ts';
import type { StrokeMoves } from './comparable.ts';

/** What the knife does between two rapid motions, in mm. */
export interface ProgramStroke {
  /** What the last comment before it says; null: there is none but at the head. */
  readonly note: { readonly line: number; readonly text: string } | null;
  /** The way of the blade's tip (of its axis where how far it trails is not known), x from the start of the roll, the roll face up. */
  readonly way: Path;
  readonly moves: StrokeMoves;
}

/** A program, as the strokes that it cuts. */
export interface StrokedProgram {
  readonly program: Program;
  readonly head: readonly HeadSentence[];
  readonly strokes: readonly ProgramStroke[];
  /** Why the tip's way is not known, in a sentence; null: it is. */
  readonly limit: string | null;
}

/** Reads a program as strokes. Throws a Refusal. */
export function strokedProgram(text: string, file: string): StrokedProgram {
  const lines = text.split(/\r?\n/);
  const axis = axisIn(lines);
  const program = readProgram(text, file, axis);
  const head = readHead(program).sentences;
  const offset = offsetOf(head, file);
  const isKnown = offset !== null || axis !== undefined || says(head, 'tangential') !== undefined;
  return {
    program,
    head,
    strokes: strokesIn(program, head, offset),
    limit: isKnown
      ? null
      : `${file} does not say what knife it is for: it is compared by the way of the knife’s axis, not of its tip.`,
  };
}

function says(
  head: readonly HeadSentence[],
  subject: HeadSentence['subject'],
): HeadSentence | undefined {
  return head.find((one) => one.subject === subject);
}

/** How far the tip trails its axis, mm, by the head or by the record beside the program; null: it does not, or nobody says it. */
function offsetOf(head: readonly HeadSentence[], file: string): number | null {
  const trailing = says(head, 'trailing');
  if (trailing !== undefined) return Number(trailing.values[0]);
  if (says(head, 'tangential') !== undefined) return null;
  const record = join(dirname(file), 'run.json');
  if (!existsSync(record)) return null;
  const { knife } = readRunRecord(record).cutter;
  return knife.kind === 'trailing' ? knife.offset : null;
}

/** The letter of the axis that turns the knife; undefined if the program moves none. */
function axisIn(lines: readonly string[]): 'A' | 'B' | 'C' | undefined {
  const code = lines.map((line) => line.replaceAll(/\(.*?\)/g, '')).join('\n');
  return (['A', 'B', 'C'] as const).find((letter) =>
    new RegExp(`${letter}[-+]?[\\d.]`, 'i').test(code),
  );
}

/** The motions of a stroke, and those on the way to it. */
interface Motions {
  readonly line: number;
  readonly fed: number;
  readonly over: readonly MotionAction[];
  readonly before: readonly MotionAction[];
}

function strokesIn(
  program: Program,
  head: readonly HeadSentence[],
  offset: number | null,
): ProgramStroke[] {
  const notes = notesIn(program);
  const fedBefore = Number(says(head, 'bite')?.values[2] ?? 0);
  // A lay that is cut face down is looked at from its face, so that it can be held against any other.
  const width = says(head, 'down') === undefined ? undefined : says(head, 'roll')?.values[0];
  const onFace = width === undefined ? null : turnedOver(Number(width));
  let knife: Dragged = { axis: { x: 0, y: 0 }, heading: 0 };
  return motionsIn(program.actions, fedBefore).map(({ line, fed, over, before }) => {
    const segments = over.flatMap((motion): Segment[] => {
      if (offset === null) return segmentsOfMotion(motion);
      const tip = dragged(motion, { ...knife, axis: motion.from }, { offset });
      knife = tip.knife;
      return tip.segments;
    });
    const from = over[0]!.from;
    const bare = segments.length === 0 ? [{ from, to: over.at(-1)!.to, bulge: 0 }] : segments;
    const way = pathOf(
      bare.map(({ from: a, to: b, bulge }) => ({ from: fedOn(a, fed), to: fedOn(b, fed), bulge })),
      false,
    );
    const moves = movesOf(over, before, way.vertices[0]!);
    return {
      note: notes.findLast((one) => one.line < line) ?? null,
      way: onFace === null ? way : transformPath(onFace, way),
      moves:
        onFace === null
          ? moves
          : {
              ...moves,
              start: transformPoint(onFace, moves.start),
              headings: moves.headings.map((deg) => transformDeg(onFace, deg)),
            },
    };
  });
}

function fedOn({ x, y }: Point, fed: number): Point {
  return { x: x + fed, y };
}

/** The comments after the head: those before the first motion are about the program and name no stroke. */
export function notesIn({ actions, lines }: Program): { line: number; text: string }[] {
  const first = actions.find(isMotion)?.line ?? 0;
  return lines.flatMap((line, i) => {
    const text = /^\s*(?:N\d+\s*)?\((?!MSG,)(.*)\)\s*$/i.exec(line)?.[1];
    return text === undefined || i + 1 <= first ? [] : [{ line: i + 1, text }];
  });
}

function motionsIn(actions: readonly Action[], fedBefore: number): Motions[] {
  const strokes: Motions[] = [];
  let [over, before]: [MotionAction[], MotionAction[]] = [[], []];
  let fed = fedBefore;
  const close = (): void => {
    if (over.length > 0) {
      strokes.push({ over, before, fed, line: over[0]!.line });
      [over, before] = [[], []];
    }
  };
  for (const action of actions) {
    if (action.kind === 'message') {
      close();
      fed += feedLength(action.text) ?? 0;
    }
    if (!isMotion(action)) continue;
    const isOver = movesOverBed(action);
    if (action.kind === 'rapid' && (isOver || action.from.z !== action.to.z)) {
      close();
      before.push(action);
    } else if (action.kind !== 'rapid' && isOver) over.push(action);
    else before.push(action);
  }
  close();
  return strokes;
}

function movesOf(
  over: readonly MotionAction[],
  before: readonly MotionAction[],
  start: Point,
): StrokeMoves {
  const feedsOf = (motions: readonly MotionAction[]): number[] =>
    motions.flatMap((motion) => (motion.kind === 'rapid' ? [] : [motion.feed]));
  const rapids = before.filter(({ kind }) => kind === 'rapid');
  return {
    start,
    travels: rapids.filter(movesOverBed).map(({ to }) => to.z),
    plunges: feedsOf(before.filter(({ from, to }) => from.z !== to.z)),
    turns: feedsOf(before.filter(({ from, to }) => from.z === to.z)),
    heights: over.map(({ to }) => to.z),
    feeds: feedsOf(over),
    headings: over.map(({ to }) => to.deg),
  };
}
