import { decimal } from '../base/numbers.ts';
import { nearestOnPath } from '../geometry/measuring/nearest.ts';
import type { Path } from '../geometry/paths/path.ts';
import { alongPath, pathLength } from '../geometry/paths/path.ts';
import { distance } from '../geometry/paths/point.ts';
import { lengthAt, stretchOf } from '../geometry/paths/stretch.ts';
import type { Action, Program } from '../program/reading/actions.ts';
import { isMotion } from '../program/reading/actions.ts';
import type { HeadSentence } from '../program/reading/heading.ts';
import type { Comparable, Item } from './comparable.ts';
import type { ProgramStroke } from './strokes.ts';
import { notesIn, strokedProgram } from './strokes.ts';

/**
 * Reads a program for comparison, as strokes: what the tip of the blade does between two rapid motions. x is counted
 * from the start of the roll, over all feeds, and the roll lies face up. The comment before a stroke is its label.
 * Throws a Refusal.
 */
export function comparableProgram(text: string, file: string): Comparable {
  const { program, head, strokes, limit } = strokedProgram(text, file);
  const named = new Set(strokes.flatMap(({ note }) => (note === null ? [] : [note.line])));
  const messages = program.actions.flatMap((action) =>
    action.kind === 'message' ? [`message: ${action.text}`] : [],
  );
  const known = new Set(head.map((sentence) => sentence.text));
  const texts = [
    ...strangeHead(program, known),
    ...head.flatMap(({ subject, values }) =>
      subject === 'run' ? values[5]!.split(' ').slice(1).join(' ') || [] : [],
    ),
    ...notesIn(program).flatMap((note) => (named.has(note.line) ? [] : [note.text])),
  ];
  return {
    kind: 'program',
    items: strokes.map(strokeItem),
    words: { ...headWords(head), ...programWords(program) },
    texts: [...texts, ...messages],
    limits: limit === null ? [] : [limit],
  };
}

function strokeItem({ way, note, moves }: ProgramStroke, rank: number): Item {
  const outline = closedContour(way);
  return {
    label: note?.text ?? null,
    what: 'stroke',
    side: null,
    outline,
    details: [],
    rank,
    words: {},
    sheet: '',
    moves,
  };
}

/** The sentences of a head, as facts. Cautions are what every program says. */
function headWords(head: readonly HeadSentence[]): Record<string, string> {
  const words: Record<string, string> = {};
  for (const { subject, text, values } of head) {
    switch (subject) {
      case 'run':
        words['machine'] = machineIn(values);
        words['head the run and the material'] = text.slice(0, text.lastIndexOf(', CUTTER'));
        break;
      case 'dry':
      case 'cut':
        words['program kind'] = subject === 'dry' ? 'goes the way with the knife up' : 'cuts';
        break;
      case 'up':
      case 'down':
        words['face'] = subject === 'up' ? 'pile up' : 'pile down';
        break;
      case 'trailing':
      case 'tangential':
        words['knife'] = text.replace(/^KNIFE /, '');
        break;
      case 'units':
        break;
      default:
        words[`head ${headSubjects[subject] ?? subject}`] = text;
    }
  }
  return words;
}

/** The machine that a head names. What follows its name in the same sentence is another comment. */
function machineIn(values: readonly string[]): string {
  return values[5]!.split(' ')[0]!;
}

const headSubjects: Partial<Record<HeadSentence['subject'], string>> = {
  bite: 'which bite it cuts',
  roll: 'the roll',
  lay: 'the size of the work',
  turnTrue: 'turning the knife before the start',
  turnByEye: 'turning the knife before the start',
  heading: 'the heading of the knife',
  arcs: 'the arcs',
  reachMm: 'the reach in mm',
  reachInches: 'the reach in inches',
  noSafety: 'safety',
  guards: 'the guards',
  isolate: 'isolating the machine',
  rules: 'the rules of the workplace',
};

/** Comments of the head that are no sentence of this product. */
function strangeHead({ head }: Program, known: ReadonlySet<string>): string[] {
  const said = [...known].join(' ');
  return head.flatMap(({ text }) => (said.includes(text) ? [] : [text]));
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
function programWords({ actions, lines, units }: Program): Record<string, string> {
  const count = (is: (action: Action) => boolean): string => String(actions.filter(is).length);
  const dwells = actions.flatMap((action) => (action.kind === 'dwell' ? [action.seconds] : []));
  return {
    units: units === 'mm' ? 'mm' : 'inch',
    modes: modesIn(lines, actions.find(isMotion)?.line ?? lines.length),
    'oscillation on': count((a) => a.kind === 'spindle' && a.on),
    'oscillation off': count((a) => a.kind === 'spindle' && !a.on),
    stops: count((a) => a.kind === 'stop'),
    punched: count((a) => a.kind === 'punch'),
    waits: decimal(
      dwells.reduce((a, b) => a + b, 0),
      3,
    ),
  };
}

/** The codes before the first motion, but those of motions and units. */
function modesIn(lines: readonly string[], firstMotion: number): string {
  const code = lines
    .slice(0, firstMotion)
    .map((line) => line.replaceAll(/\(.*?\)/g, ''))
    .join(' ');
  const codes = code.toUpperCase().match(/[GT]\d+(?:\.\d+)?/g) ?? [];
  const left = new Set(['G0', 'G00', 'G1', 'G01', 'G20', 'G21']);
  return [...new Set(codes.filter((one) => !left.has(one)))].sort().join(' ');
}
