import type { Action } from '../../src/program/reading/actions.ts';
import { isMotion, movesOverBed } from '../../src/program/reading/actions.ts';
import { readProgram } from '../../src/program/reading/read.ts';
import type { Cutter } from '../../src/knife/cutter.ts';

/** Whole numbers below a bound, drawn from a seed: the generator of Park and Miller with the factor of 1993. */
function generator(seed: number): (below: number) => number {
  let state = (seed % 2147483646) + 1;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return Math.floor(((state - 1) / 2147483646) * below);
  };
}

type Draw = (below: number) => number;

/** What a way of breaking a program works on. */
interface Lines {
  readonly lines: readonly string[];
  readonly cutter: Cutter;
  /** The action of each line that does something that can be seen in the cloth. */
  readonly actions: ReadonlyMap<number, Action>;
  readonly draw: Draw;
}

/** The broken lines; undefined where there is nothing to break this way. */
type Break = (program: Lines) => string[] | undefined;

/** Less than this is no fault that the cloth would show: mm, and degrees. */
const visible = { mm: 0.3, deg: 2 };

function matters(action: Action): boolean {
  if (!isMotion(action)) return action.kind !== 'end';
  const { from, to } = action;
  const way =
    action.kind === 'arc' ? Infinity : Math.hypot(to.x - from.x, to.y - from.y, to.z - from.z);
  return way > visible.mm || Math.abs(to.deg - from.deg) > visible.deg;
}

function pick<T>(items: readonly T[], draw: Draw): T | undefined {
  return items.length === 0 ? undefined : items[draw(items.length)];
}

/** One of the lines that pass a test, changed. */
function change(
  { lines, draw }: Lines,
  isFit: (line: string, index: number) => boolean,
  into: (line: string) => string[],
): string[] | undefined {
  const hit = pick(
    lines.flatMap((line, i) => (isFit(line, i) ? [i] : [])),
    draw,
  );
  return hit === undefined
    ? undefined
    : lines.flatMap((line, i) => (i === hit ? into(line) : [line]));
}

function hasWord(letter: string): (line: string) => boolean {
  return (line) => !line.startsWith('(') && new RegExp(`(^|\\s)${letter}-?[\\d.]+`).test(line);
}

/** A word's number by a function of it, in as many decimals as programs have. */
function reworded(line: string, letter: string, by: (value: number) => number): string {
  return line.replace(
    new RegExp(`(^|\\s)${letter}(-?[\\d.]+)`),
    (_, space: string, value: string) => `${space}${letter}${by(Number(value)).toFixed(4)}`,
  );
}

/** From a comment that names a part's cut up to the next such comment. */
function blockOf(
  { lines, draw }: Lines,
  head = /\(\S+\.1\.A1 \w+\)/,
): { start: number; end: number } | undefined {
  const heads = lines.flatMap((line, i) => (head.test(line) ? [i] : []));
  const start = pick(heads, draw);
  if (start === undefined) return undefined;
  const after = lines.findIndex(
    (line, i) =>
      i > start &&
      (/\(\S+\.1\.A1 \w+\)|\(registration|\(MSG/.test(line) || /(^|\s)M[025]$/.test(line)),
  );
  return { start, end: after };
}

function block(
  program: Lines,
  into: (lines: string[]) => string[],
  head?: RegExp,
): string[] | undefined {
  const found = blockOf(program, head);
  if (found === undefined) return undefined;
  const { start, end } = found;
  const { lines } = program;
  return [...lines.slice(0, start), ...into(lines.slice(start, end)), ...lines.slice(end)];
}

function shiftBy(draw: Draw, unit: number): number {
  return ((draw(2) === 0 ? -1 : 1) * (0.3 + draw(400) / 10)) / unit;
}

function unitOf({ program }: Cutter): number {
  return program.units === 'mm' ? 1 : 25.4;
}

/** The ways, by name; what the brief of the proof names first. */
export const breaks: Readonly<Record<string, Break>> = {
  'a dropped line': (p) =>
    change(
      p,
      (_, i) => p.actions.has(i),
      () => [],
    ),
  'I and J swapped': (p) =>
    change(
      p,
      (line) => /I-?[\d.]+ J-?[\d.]+/.test(line),
      (line) => [line.replace(/I(\S+) J(\S+)/, 'I$2 J$1')],
    ),
  'an arc the other way round': (p) =>
    change(
      p,
      (line) => /(^|\s)G[23] /.test(line),
      (line) => [line.replace(/G([23]) /, (_, code: string) => (code === '2' ? 'G3 ' : 'G2 '))],
    ),
  'the knife left down': (p) =>
    change(
      p,
      (line) => /(^|\s)G0 Z/.test(line),
      () => [],
    ),
  'a block shifted along the roll': (p) => {
    const by = shiftBy(p.draw, unitOf(p.cutter));
    return block(p, (lines) =>
      lines.map((line) => (line.startsWith('(') ? line : reworded(line, 'X', (x) => x + by))),
    );
  },
  'a block shifted across the roll': (p) => {
    const by = shiftBy(p.draw, unitOf(p.cutter));
    return block(p, (lines) =>
      lines.map((line) => (line.startsWith('(') ? line : reworded(line, 'Y', (y) => y + by))),
    );
  },
  // Of the parts that are not their own mirror image.
  'a part mirrored': (p) =>
    block(
      p,
      (lines) => {
        const ys = lines.flatMap((line) => /(?:^|\s)Y(-?[\d.]+)/.exec(line)?.[1] ?? []).map(Number);
        const sum = Math.min(...ys) + Math.max(...ys);
        const axis = p.cutter.knife.kind === 'tangential' ? p.cutter.knife.axis.letter : 'C';
        return lines.map((line) => {
          if (line.startsWith('(')) return line;
          const turned = line.replace(/G([23]) /, (_, code: string) =>
            code === '2' ? 'G3 ' : 'G2 ',
          );
          const over = reworded(
            reworded(turned, 'Y', (y) => sum - y),
            'J',
            (j) => -j,
          );
          return reworded(over, axis, (deg) => -deg);
        });
      },
      /\((mat|flap)\S* outline\)/,
    ),
  'the wrong unit': (p) =>
    change(
      p,
      (line) => /G2[01] /.test(line),
      (line) => [line.replace(/G2([01]) /, (_, unit: string) => (unit === '0' ? 'G21 ' : 'G20 '))],
    ),
  'a figure changed': (p) => {
    const letter = ['X', 'Y', 'I', 'J'][p.draw(4)]!;
    const by = shiftBy(p.draw, unitOf(p.cutter));
    return change(
      p,
      (line) => hasWord(letter)(line) && !/(^|\s)G0 /.test(line),
      (line) => [reworded(line, letter, (value) => value + by)],
    );
  },
  'a travel to the wrong place': (p) => {
    const letter = ['X', 'Y'][p.draw(2)]!;
    const by = shiftBy(p.draw, unitOf(p.cutter));
    return change(
      p,
      (line) => /(^|\s)G0 X/.test(line),
      (line) => [reworded(line, letter, (value) => value + by)],
    );
  },
  'a cut at the wrong depth': (p) =>
    change(
      p,
      (line) => /(^|\s)G1 Z/.test(line),
      (line) => [reworded(line, 'Z', (z) => z + [3, -3, 0.5, 40][p.draw(4)]! / unitOf(p.cutter))],
    ),
  'a feed changed': (p) =>
    change(p, hasWord('F'), (line) => [
      reworded(line, 'F', (feed) => feed * [0.5, 2, 10][p.draw(3)]!),
    ]),
  'the knife turned aside': (p) => {
    const { knife } = p.cutter;
    if (knife.kind !== 'tangential') return undefined;
    const by = [3, -7, 45, 90, 180][p.draw(5)]!;
    return change(p, hasWord(knife.axis.letter), (line) => [
      reworded(line, knife.axis.letter, (deg) => deg + by),
    ]);
  },
  'a cut left out': (p) => block(p, () => []),
  'a cut made twice': (p) => block(p, (lines) => [...lines, ...lines]),
  'two cuts swapped': (p) => {
    const heads = p.lines.flatMap((line, i) => (/\(\S+\.1\.A1 \w+\)/.test(line) ? [i] : []));
    const outline = pick(
      heads.filter((i) => /outline\)/.test(p.lines[i]!)),
      p.draw,
    );
    if (outline === undefined) return undefined;
    const label = /\((\S+) outline/.exec(p.lines[outline]!)![1]!;
    const first = heads.find((i) => i < outline && p.lines[i]!.includes(`(${label} `));
    if (first === undefined) return undefined;
    const end = p.lines.findIndex(
      (line, i) =>
        i > outline &&
        (/\(\S+\.1\.A1 \w+\)|\(registration|\(MSG/.test(line) || /(^|\s)M[025]$/.test(line)),
    );
    const { lines } = p;
    return [
      ...lines.slice(0, first),
      ...lines.slice(outline, end),
      ...lines.slice(first, outline),
      ...lines.slice(end),
    ];
  },
  'a cut half turned about': (p) =>
    block(p, (lines) => {
      const at = (letter: string): number => {
        const all = lines
          .flatMap((line) => new RegExp(`(?:^|\\s)${letter}(-?[\\d.]+)`).exec(line)?.[1] ?? [])
          .map(Number);
        return Math.min(...all) + Math.max(...all);
      };
      const [x2, y2] = [at('X'), at('Y')];
      return lines.map((line) =>
        line.startsWith('(')
          ? line
          : reworded(
              reworded(
                reworded(
                  reworded(line, 'X', (x) => x2 - x),
                  'Y',
                  (y) => y2 - y,
                ),
                'I',
                (i) => -i,
              ),
              'J',
              (j) => -j,
            ),
      );
    }),
  'two strokes swapped': (p) => {
    const isStroke = (i: number): boolean => {
      const action = p.actions.get(i);
      return (
        action !== undefined && isMotion(action) && action.kind !== 'rapid' && movesOverBed(action)
      );
    };
    const at = pick(
      p.lines.flatMap((_, i) => (isStroke(i) && isStroke(i + 1) ? [i] : [])),
      p.draw,
    );
    if (at === undefined) return undefined;
    const lines = [...p.lines];
    [lines[at], lines[at + 1]] = [lines[at + 1]!, lines[at]!];
    return lines;
  },
  'a feed of the roll changed': (p) =>
    change(
      p,
      (line) => /\(MSG,\s*FEED/.test(line),
      (line) => [
        line.replace(
          /FEED ([\d.]+)/,
          (_, length: string) => `FEED ${(Number(length) + 5).toFixed(3)}`,
        ),
      ],
    ),
  'a stop left out': (p) =>
    change(
      p,
      (line) => /(^|\s)M0$/.test(line),
      () => [],
    ),
  'a stop too many': (p) =>
    change(
      p,
      (_, i) => p.actions.has(i),
      (line) => [line, 'M0'],
    ),
  'the knife not switched on, or off': (p) =>
    change(
      p,
      (line) => /(^|\s)M[35]$/.test(line),
      () => [],
    ),
  'a wait left out': (p) =>
    change(
      p,
      (line) => /(^|\s)G4 P/.test(line),
      () => [],
    ),
  'a program cut short': (p) => {
    const at = pick([...p.actions.keys()], p.draw);
    return at === undefined ? undefined : [...p.lines.slice(0, at), 'M2', ''];
  },
};

/** Whether two programs make the machine do the same, whatever their lines say; a program that is refused does not. */
function isSame(text: string, broken: string, cutter: Cutter): boolean {
  const axis = cutter.knife.kind === 'tangential' ? cutter.knife.axis.letter : undefined;
  const deeds = (program: string): string =>
    JSON.stringify(
      readProgram(program, 'p', axis).actions.map((action) => ({ ...action, line: 0 })),
    );
  try {
    return deeds(text) === deeds(broken);
  } catch {
    return false;
  }
}

/** A program broken in a way that makes it do something else; undefined where it cannot be broken so. */
export function brokenProgram(
  text: string,
  way: string,
  cutter: Cutter,
  seed: number,
): string | undefined {
  const axis = cutter.knife.kind === 'tangential' ? cutter.knife.axis.letter : undefined;
  const actions = new Map(
    readProgram(text, 'p', axis)
      .actions.filter(matters)
      .map((action) => [action.line - 1, action]),
  );
  const draw = generator(seed);
  // A draw may hit on a change of nothing: a figure by itself, a travel to where the knife stands.
  for (let tries = 0; tries < 20; tries++) {
    const lines = breaks[way]!({ lines: text.split('\n'), cutter, actions, draw });
    if (lines === undefined) return undefined;
    const result = lines.join('\n');
    if (!isSame(text, result, cutter)) return result;
  }
  return undefined;
}
