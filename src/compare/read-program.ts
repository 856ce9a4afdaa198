import type { Path } from '../geometry/paths/path.ts';
import { alongPath, pathLength, pathOf } from '../geometry/paths/path.ts';
import { distance } from '../geometry/paths/point.ts';
import type { Segment } from '../geometry/paths/segment.ts';
import { nearestOnPath } from '../geometry/measuring/nearest.ts';
import { lengthAt, stretchOf } from '../geometry/paths/stretch.ts';
import { decimal } from '../base/numbers.ts';
import type { Action, MotionAction } from '../program/reading/actions.ts';
import { isMotion, movesOverBed } from '../program/reading/actions.ts';
import { readProgram } from '../program/reading/read.ts';
import { feedLength, segmentsOfMotion } from '../program/reading/trace.ts';
import type { Comparable, Item } from './comparable.ts';

/**
 * Reads a program for comparison, as strokes: what the axis does between two rapid motions. x is counted
 * from the start of the roll, over all feeds. The comment before a stroke is its label. Height, feed and
 * heading of the knife are words. Throws a Refusal.
 */
export function comparableProgram(text: string, file: string): Comparable {
  const lines = text.split(/\r?\n/);
  const program = readProgram(text, file, axisIn(lines));
  const comments = lines.flatMap((line, i) => {
    const words = /^\s*(?:N\d+\s*)?\((?!MSG,)(.*)\)\s*$/i.exec(line)?.[1];
    return words === undefined ? [] : [{ line: i + 1, words }];
  });
  const strokes = strokesIn(program.actions);
  const named = new Set<number>();
  const items = strokes.map((stroke, rank): Item => {
    const comment = comments.findLast(({ line }) => line < stroke.line);
    // Comments before the first motion are about the program and name no stroke.
    const label =
      comment !== undefined && comment.line > (strokes[0]?.preamble ?? 0) ? comment : undefined;
    if (label !== undefined) named.add(label.line);
    return strokeItem(stroke, rank, label?.words ?? null);
  });
  const messages = program.actions.flatMap((action) =>
    action.kind === 'message' ? [`message: ${action.text}`] : [],
  );
  const texts = comments.filter(({ line }) => !named.has(line)).map(({ words }) => words);
  return {
    kind: 'program',
    items,
    words: programWords(program.actions, program.units),
    texts: [...texts, ...messages],
  };
}

/** The letter of the axis that turns the knife; undefined if the program moves none. */
function axisIn(lines: readonly string[]): 'A' | 'B' | 'C' | undefined {
  const code = lines.map((line) => line.replaceAll(/\(.*?\)/g, '')).join('\n');
  return (['A', 'B', 'C'] as const).find((letter) =>
    new RegExp(`${letter}[-+]?[\\d.]`, 'i').test(code),
  );
}

interface StrokeMotions {
  readonly motions: readonly MotionAction[];
  readonly fed: number;
  /** The line of the program where the stroke begins; `preamble` is the line of the very first motion. */
  readonly line: number;
  readonly preamble: number;
}

function strokesIn(actions: readonly Action[]): StrokeMotions[] {
  const strokes: StrokeMotions[] = [];
  const preamble = actions.find(isMotion)?.line ?? 0;
  let current: MotionAction[] = [];
  let fed = 0;
  const close = (): void => {
    const [first] = current;
    if (first !== undefined) strokes.push({ motions: current, fed, line: first.line, preamble });
    current = [];
  };
  for (const action of actions) {
    if (action.kind === 'message') {
      close();
      fed += feedLength(action.text) ?? 0;
    }
    if (!isMotion(action)) continue;
    if (action.kind === 'rapid' && (movesOverBed(action) || action.from.z !== action.to.z)) close();
    else if (action.kind !== 'rapid' && movesOverBed(action)) current.push(action);
  }
  close();
  return strokes;
}

function strokeItem({ motions, fed }: StrokeMotions, rank: number, label: string | null): Item {
  const segments = motions.flatMap(segmentsOfMotion).map(({ from, to, bulge }): Segment => ({
    from: { x: from.x + fed, y: from.y },
    to: { x: to.x + fed, y: to.y },
    bulge,
  }));
  const path = pathOf(segments, false);
  const outline = closedContour(path);
  const { x, y } = path.vertices[0]!;
  const feeds = motions.flatMap((motion) =>
    motion.kind === 'rapid' ? [] : [decimal(motion.feed, 1)],
  );
  return {
    label,
    what: 'stroke',
    side: null,
    outline,
    details: [],
    rank,
    words: {
      ...(outline.closed ? { 'begins at': `${decimal(x, 2)}, ${decimal(y, 2)}` } : {}),
      height: distinct(motions.map(({ to }) => `${decimal(to.z, 3)} mm`)),
      feed: distinct(feeds.map((feed) => `${feed} mm/min`)),
      ...Object.fromEntries(
        motions.map(({ to }, i) => [
          `heading after move ${i + 1}`,
          `${decimal(to.deg, 3)} degrees`,
        ]),
      ),
    },
    sheet: '',
  };
}

function distinct(words: readonly string[]): string {
  return [...new Set(words)].join(', ');
}

/**
 * How far a closed contour may be cut again past its start, and how far start and end of the overlap may
 * be from each other, mm.
 */
const longestOverlap = 25;
const missed = 0.02;

/**
 * A stroke that comes back to its start, as the closed contour that it cuts: without what it cuts twice.
 * Any other stroke as it is.
 */
function closedContour(path: Path): Path {
  const length = pathLength(path);
  const end = path.vertices.at(-1)!;
  const first = stretchOf({ ...path, closed: false }, 0, Math.min(longestOverlap, length / 2));
  const back = nearestOnPath(first, end);
  if (back.distance > missed) return path;
  const again = lengthAt(first, back.station);
  if (distance(alongPath(path, length - again).point, path.vertices[0]!) > missed) return path;
  const round = stretchOf({ ...path, closed: false }, 0, length - again);
  return { closed: true, vertices: round.vertices.slice(0, -1) };
}

/** What a program does besides motions, in words. */
function programWords(actions: readonly Action[], units: string): Record<string, string> {
  const count = (is: (action: Action) => boolean): string => String(actions.filter(is).length);
  const dwells = actions.flatMap((action) => (action.kind === 'dwell' ? [action.seconds] : []));
  return {
    units,
    'oscillation switched on, times': count((a) => a.kind === 'spindle' && a.on),
    'oscillation switched off, times': count((a) => a.kind === 'spindle' && !a.on),
    'stops, times': count((a) => a.kind === 'stop'),
    'punch worked, times': count((a) => a.kind === 'punch'),
    'waits, seconds in all': decimal(
      dwells.reduce((a, b) => a + b, 0),
      3,
    ),
  };
}
