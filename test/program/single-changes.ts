import type { Cutter } from '../../src/knife/cutter.ts';
import { axisOf, readProgram } from '../../src/program/reading/read.ts';
import { nearestOnSegment } from '../../src/geometry/paths/segment.ts';
import type { Stroke } from '../../src/program/reading/trace.ts';
import { traceProgram } from '../../src/program/reading/trace.ts';
import type { RunRecord } from '../../src/program/record/run-record.ts';
import { fingerprintOf } from '../../src/program/record/fingerprint.ts';
import type { Random } from '../support/random.ts';
import type { RunFiles } from './run-folder.ts';

/** One thing changed in one file of a run folder. */
export interface SingleChange {
  readonly file: string;
  /** What was done, in words: "a word dropped". */
  readonly kind: string;
  /** Where: the line, or the way to the value in run.json. */
  readonly place: string;
  readonly before: string;
  readonly after: string;
  readonly files: RunFiles;
}

type Changed = Omit<SingleChange, 'file' | 'files'> & { readonly text: string };

/** A change that is drawn for a file; undefined where the draw changes nothing. */
export function drawChange(
  files: RunFiles,
  file: string,
  random: Random,
): SingleChange | undefined {
  const text = files[file]!;
  if (file === 'run.json') return recordChange(files, random);
  const change = file.endsWith('.dxf') ? dxfChange(text, random) : programChange(text, random);
  if (change === undefined || change.text === text) return undefined;
  const { text: after, ...what } = change;
  return { ...what, file, files: { ...files, [file]: after } };
}

/** Another number that is not near it: a digit, a sign, or by so much that no rounding hides it. */
function otherNumber(text: string, { below, pick }: Random): string {
  const value = Number(text);
  const decimals = text.split('.')[1]?.length ?? 0;
  return pick([
    () => (value * 1.1 + 1).toFixed(decimals),
    () => (value - 0.5 - below(90) / 10).toFixed(Math.max(decimals, 1)),
    () => String(-value || 1),
    () => `${below(9) + 1}${text.replace('-', '')}`,
  ])();
}

function linesChanged(lines: readonly string[], at: number, into: readonly string[]): string {
  return [...lines.slice(0, at), ...into, ...lines.slice(at + 1)].join('\n');
}

function programChange(text: string, random: Random): Changed | undefined {
  const lines = text.split('\n');
  const at = random.below(lines.length - 1);
  const line = lines[at]!;
  const place = `line ${at + 1}`;
  const next = lines[at + 1] ?? '';
  const words = line.split(' ');
  const w = random.below(words.length);
  const reworded = (kind: string, into: readonly string[]): Changed => ({
    kind,
    place,
    before: line,
    after: into.join(' '),
    text: linesChanged(lines, at, [into.join(' ')]),
  });
  const numbers = [...line.matchAll(/-?\d+(?:\.\d+)?/g)];
  return random.pick<() => Changed | undefined>([
    () => {
      if (numbers.length === 0) return undefined;
      const { 0: old, index } = random.pick(numbers);
      const after =
        line.slice(0, index) + otherNumber(old, random) + line.slice(index + old.length);
      return reworded('a number changed', [after]);
    },
    () => {
      const kept = [...words.slice(0, w), ...words.slice(w + 1)];
      return reworded('a word dropped', kept);
    },
    () => reworded('a word doubled', [...words.slice(0, w), words[w]!, ...words.slice(w)]),
    () => {
      if (words.length < 2) return undefined;
      const i = random.below(words.length - 1);
      const swapped = [...words];
      [swapped[i], swapped[i + 1]] = [words[i + 1]!, words[i]!];
      return reworded('two words swapped', swapped);
    },
    () => {
      const letters = [...line.matchAll(/[A-Za-z]/g)];
      if (letters.length === 0) return undefined;
      const { index } = random.pick(letters);
      const letter = random.pick([...'AXGMZFPJbqe']);
      return reworded('a letter changed', [line.slice(0, index) + letter + line.slice(index + 1)]);
    },
    () => ({
      kind: 'a line dropped',
      place,
      before: line,
      after: '',
      text: linesChanged(lines, at, []),
    }),
    () => ({
      kind: 'a line doubled',
      place,
      before: line,
      after: `${line} / ${line}`,
      text: linesChanged(lines, at, [line, line]),
    }),
    () => ({
      kind: 'two lines swapped',
      place,
      before: `${line} / ${next}`,
      after: `${next} / ${line}`,
      text: [...lines.slice(0, at), next, line, ...lines.slice(at + 2)].join('\n'),
    }),
  ])();
}

function dxfChange(text: string, random: Random): Changed | undefined {
  const lines = text.split('\n');
  const tags = Math.floor(lines.length / 2);
  const tag = random.below(tags);
  const [code, value] = [lines[2 * tag]!, lines[2 * tag + 1]!];
  const place = `line ${2 * tag + 1}`;
  const before = `${code.trim()} ${value}`;
  const put = (kind: string, into: readonly string[], after: string, count = 2): Changed => ({
    kind,
    place,
    before,
    after,
    text: [...lines.slice(0, 2 * tag), ...into, ...lines.slice(2 * tag + count)].join('\n'),
  });
  /** From the record that holds the tag to the next. */
  let from = tag;
  while (from > 0 && lines[2 * from]!.trim() !== '0') from--;
  let to = from + 1;
  while (to < tags && lines[2 * to]!.trim() !== '0') to++;
  const record = lines.slice(2 * from, 2 * to);
  const withRecord = (kind: string, into: readonly string[]): Changed => ({
    kind,
    place: `line ${2 * from + 1}`,
    before: record[1]!,
    after: '',
    text: [...lines.slice(0, 2 * from), ...into, ...lines.slice(2 * to)].join('\n'),
  });
  return random.pick<() => Changed | undefined>([
    () => {
      const isNumber = /^-?\d+(\.\d+)?$/.test(value);
      const other = isNumber ? otherNumber(value, random) : `${value}X`;
      return put('a value changed', [code, other], other);
    },
    () => put('a group code changed', [String(Number(code) + 1 + random.below(60)), value], '?'),
    () => put('a group dropped', [], ''),
    () => put('a group doubled', [code, value, code, value], 'twice'),
    () => {
      const next = lines.slice(2 * tag + 2, 2 * tag + 4);
      return put('two groups swapped', [...next, code, value], next.join(' '), 4);
    },
    () => withRecord('a record dropped', []),
    () => withRecord('a record doubled', [...record, ...record]),
  ])();
}

type Way = readonly (string | number)[];

/** The ways to all values in a value, with those that hold others. */
function waysIn(value: unknown, way: Way = []): Way[] {
  if (typeof value !== 'object' || value === null) return [way];
  const inner = Object.entries(value).flatMap(([key, one]) =>
    waysIn(one, [...way, Array.isArray(value) ? Number(key) : key]),
  );
  return way.length === 0 ? inner : [way, ...inner];
}

function valueAt(value: unknown, way: Way): unknown {
  return way.reduce((inside, key) => (inside as Record<string | number, unknown>)[key], value);
}

/** The words for values of one kind: another of them is drawn. */
const kinds: readonly (readonly string[])[] = [
  ['RHD', 'LHD'],
  ['left', 'right'],
  ['piece', 'pad', 'board', 'underlay'],
  ['bound', 'seam', 'tuck', 'turned', 'raw'],
  ['CUTOUT', 'HOLE'],
  ['FOLD', 'STITCH', 'MARK', 'PAD', 'DRILL'],
  ['one-way', 'two-way', 'any'],
  ['carpet', 'underlay', 'board', 'rubber'],
  ['mm', 'inch'],
  ['r12', 'r2007'],
  ['up', 'down'],
  ['driver', 'both', 'none'],
  ['A', 'B', 'C'],
  ['M7', 'M8'],
  ['slit', 'mark'],
];

function otherValue(value: unknown, random: Random): unknown {
  switch (typeof value) {
    case 'number':
      return random.pick([value + 1, value - 1, value * 1.5 + 0.5, -value - 1]);
    case 'boolean':
      return !value;
    case 'string': {
      const kin = kinds.find((some) => some.includes(value))?.filter((one) => one !== value);
      if (kin !== undefined) return random.pick(kin);
      if (/^[0-9a-f]{64}$/.test(value)) return `${value[0] === '0' ? '1' : '0'}${value.slice(1)}`;
      return random.pick([`${value}x`, value.slice(1) || 'x', value.toUpperCase()]);
    }
    default:
      return null;
  }
}

/** A value of the record changed, and the fingerprint in the heads of the programs with it. */
function recordChange(files: RunFiles, random: Random): SingleChange | undefined {
  const record = JSON.parse(files['run.json']!) as RunRecord;
  // Every key is drawn as often as any other, however many values there are of it.
  const ways = new Map<string, Way[]>();
  for (const way of waysIn(record)) {
    const key = keyOf(way);
    ways.set(key, [...(ways.get(key) ?? []), way]);
  }
  const way = random.pick([...ways.values()][random.below(ways.size)]!);
  const last = way.at(-1)!;
  const around = valueAt(record, way.slice(0, -1)) as Record<string | number, unknown>;
  const value = around[last];
  const before = JSON.stringify(value).slice(0, 60);
  let kind = 'a value changed';
  if (Array.isArray(around) && random.below(2) === 0) {
    const at = Number(last);
    const dropped = random.below(2) === 0;
    kind = dropped ? 'an element dropped' : 'an element doubled';
    around.splice(at, dropped ? 1 : 0, ...(dropped ? [] : [value]));
  } else if (Array.isArray(value)) {
    if (value.length < 2) return undefined;
    kind = 'the elements turned round';
    around[last] = value.toReversed();
  } else if (typeof value === 'object') {
    return undefined;
  } else {
    around[last] = otherValue(value, random);
  }
  const text = `${JSON.stringify(record)}\n`;
  if (text === `${JSON.stringify(JSON.parse(files['run.json']!))}\n`) return undefined;
  const after = JSON.stringify(around[last])?.slice(0, 60) ?? '';
  return {
    file: 'run.json',
    kind,
    place: way.join('.'),
    before,
    after,
    files: withFingerprint({ ...files, 'run.json': text }, fingerprintOf(files['run.json']!)),
  };
}

/** A way without its numbers: `parts.*.label`. */
function keyOf(way: Way): string {
  return way.map((key) => (typeof key === 'number' ? '*' : key)).join('.');
}

/** The programs with the fingerprint of the record as it is now, so that their heads tell nothing. */
export function withFingerprint(files: RunFiles, old: string): RunFiles {
  const now = fingerprintOf(files['run.json']!);
  return Object.fromEntries(
    Object.entries(files).map(([name, text]) => [
      name,
      name.endsWith('.nc') ? text.replace(old, now) : text,
    ]),
  );
}

/** Whether two programs say and do the same, however their lines are written. */
function saysTheSame(text: string, other: string, cutter: Cutter): boolean {
  const said = (program: string): string => {
    const { actions, head } = readProgram(program, 'p', axisOf(cutter));
    const words = (line: string): string => line.replaceAll(/\s/g, '');
    const moves = actions.filter(
      (action) => !('to' in action) || JSON.stringify(action.from) !== JSON.stringify(action.to),
    );
    return JSON.stringify([
      words(head.map((one) => one.text).join('')),
      moves.map((action) => ({ ...action, line: 0 })),
    ]);
  };
  try {
    return said(text) === said(other);
  } catch {
    return false;
  }
}

/** Why a change that the proof does not name does no harm. */
export interface Harmless {
  readonly reason: string;
  readonly holds: (change: SingleChange, files: RunFiles, cutter: Cutter) => boolean;
}

function inProgram(
  reason: string,
  holds: (change: SingleChange, text: string, cutter: Cutter) => boolean,
): Harmless {
  return {
    reason,
    holds: (change, files, cutter) =>
      change.file.endsWith('.nc') && holds(change, files[change.file]!, cutter),
  };
}

/** A value of run.json by its key; `*` is any number, and a key stands for all below it. */
function inRecord(
  reason: string,
  keys: string,
  more?: (change: SingleChange) => boolean,
): Harmless {
  const known = keys.split(' ');
  return {
    reason,
    holds: (change) => {
      if (change.file !== 'run.json') return false;
      const key = keyOf(change.place.split('.').map((one) => (/^\d+$/.test(one) ? 0 : one)));
      const isKnown = known.some((one) => key === one || key.startsWith(`${one}.`));
      return isKnown && (more === undefined || more(change));
    },
  };
}

const isTurnedRound = ({ kind }: SingleChange): boolean => kind === 'the elements turned round';
const isDoubled = ({ kind }: SingleChange): boolean => kind.endsWith('doubled');

/** Whether no part of a material has edges of the kind whose allowance was changed. */
function hasNoSuchEdge({ files, place }: SingleChange): boolean {
  const { materials, parts } = JSON.parse(files['run.json']!) as RunRecord;
  const [, at, , kind] = place.split('.');
  const { name } = materials[Number(at)]!;
  const there = parts
    .filter(({ material }) => material === name)
    .flatMap(({ stretches }) => stretches.map((stretch) => stretch.kind as string));
  return kind === 'turned' || !there.includes(kind!);
}

/**
 * All changes that may pass the proof, each with the reason. What stands here of run.json is what nothing
 * else in the folder says: a campaign against the proof need not try it.
 */
export const harmless: readonly Harmless[] = [
  inProgram('the program says and does the same', ({ file, files }, text, cutter) =>
    saysTheSame(text, files[file]!, cutter),
  ),
  inProgram(
    'the tip keeps within 0.05 mm of its way, which the proof allows',
    ({ file, files }, text, cutter) => keepsItsWay(text, files[file]!, cutter),
  ),
  inProgram(
    'the knife is turned or switched on before it travels or after it: it is up in both cases',
    ({ kind, before }) =>
      kind === 'two lines swapped' &&
      before
        .split(' / ')
        .every((line) =>
          /^(?:N\d+ )?(?:G0 X\S+ Y\S+|G1 [ABC]\S+(?: F\S+)?|M3|G4 P\S+)$/.test(line),
        ),
  ),
  inProgram('the note before says the same', ({ kind, before, place }, text) => {
    const line = Number(place.replace('line ', '')) - 1;
    const earlier = text.split('\n').slice(0, line);
    return kind === 'a line dropped' && earlier.findLast((one) => one.startsWith('(')) === before;
  }),
  {
    reason: 'a point that stands twice changes no curve',
    holds: ({ file, kind, before, place }) =>
      kind === 'a record doubled'
        ? file.endsWith('.dxf') && before === 'VERTEX'
        : kind === 'an element doubled' && /(?:[cC]ontour|path)\.\d+$/.test(place),
  },
  inRecord(
    'parts, orders, inputs, lays, placements and contours stand in no order',
    'parts orders inputs lays lays.*.placements materials parts.*.inner parts.*.notches parts.*.marks parts.*.next lays.*.defects',
    isTurnedRound,
  ),
  inRecord(
    'a line may be drawn from either end, and a polygon round either way',
    'parts.*.marks.*.path parts.*.inner.*.contour lays.*.rollOutline lays.*.defects.*',
    isTurnedRound,
  ),
  inRecord('a material that nothing is cut from', 'materials', isDoubled),
  inRecord('a title, which only papers say', 'title orders.*.title materials.*.title cutter.title'),
  inRecord('papers alone: labels and inches', 'labelStock inches'),
  inRecord('a price, which only the cost sheet says', 'cutter.price materials.*.price bench'),
  inRecord('a colour as pictures show it, or its price', 'materials.*.colours', ({ place }) =>
    /\.(?:sample|price)$/.test(place),
  ),
  inRecord(
    'what an order says to people',
    'orders.*.thread orders.*.customer orders.*.due orders.*.benchNote orders.*.customerNote',
  ),
  inRecord(
    'a name that may be that of a group of the set, which the record does not have',
    'orders.*.alone orders.*.without',
  ),
  inRecord('an input lies outside the folder: nobody can say what it was', 'inputs'),
  inRecord('the first run lies outside the folder', 'recutOf'),
  inRecord(
    'a limit that all keeps to, before and after',
    'cutter.bed.width cutter.bed.overrun cutter.blade.smallestRadius cutter.knife.liftAboveDeg cutter.knife.swivelAboveDeg materials.*.bridge materials.*.punch materials.*.notchDepth materials.*.mitreLimit parts.*.tilt parts.*.turns cutter.punch.tolerance',
  ),
  inRecord(
    'the time estimate alone: the head still says the same minutes',
    'cutter.motion cutter.feeds.travel cutter.knife.axis.acceleration cutter.knife.oscillation',
  ),
  inRecord('the numbers have as few decimals as before', 'cutter.program.decimals'),
  inRecord(
    'the punch of a machine that punches nothing here',
    'cutter.punch',
    ({ files }) =>
      !Object.entries(files).some(
        ([name, text]) => name.endsWith('.nc') && /^(?:N\d+ )?M[78]$/m.test(text),
      ),
  ),
  inRecord(
    'what the roll is: the run file may say otherwise than the material, and parts keep clear of both',
    'materials.*.roll lays.*.startMargin lays.*.rollLength lays.*.rollOutline lays.*.defects lays.*.dyeLot',
  ),
  inRecord('what a material is for: its rules say how it is laid', 'materials.*.kind'),
  inRecord(
    'an allowance for edges that no part of the material has, or shaped ones',
    'materials.*.allowances',
    hasNoSuchEdge,
  ),
  inRecord('the seed of a run of one lay', 'lays.*.seed'),
  inRecord(
    'an option of an order that has no such parts, or has them either way',
    'orders.*.heelPads orders.*.boards orders.*.underlay orders.*.binding',
  ),
  inRecord(
    'the role of what is cut or drawn the same in either',
    'parts.*.inner.*.role parts.*.marks.*.role',
  ),
  inRecord('words for the bench about what goes with what', 'parts.*.next'),
  inRecord(
    'of an edge of a part that is there once: its name, and whether a raw one is on show',
    'parts.*.stretches.*.name parts.*.stretches.*.onShow',
  ),
];

/** How far the tip may be off its way, mm: the tolerance of the proof, and a little for steps. */
const offWay = 0.06;

/** Whether two programs cut the same strokes, each within the tolerance of the other, and say the same. */
function keepsItsWay(text: string, other: string, cutter: Cutter): boolean {
  try {
    const [one, two] = [text, other].map((program) => readProgram(program, 'p', axisOf(cutter)));
    const [a, b] = [traceProgram(one!, cutter).strokes, traceProgram(two!, cutter).strokes];
    return (
      a.length === b.length &&
      a.every(
        ({ note, steps }, i) =>
          note === b[i]!.note && liesAlong(steps, b[i]!.steps) && liesAlong(b[i]!.steps, steps),
      )
    );
  } catch {
    return false;
  }
}

function liesAlong(steps: Stroke['steps'], along: Stroke['steps']): boolean {
  return steps.every(({ segment }) =>
    [segment.from, segment.to].every((p) =>
      along.some((one) => nearestOnSegment(one.segment, p).distance <= offWay),
    ),
  );
}
