import { describe, expect, it } from 'vitest';
import { longBay, smallTable } from '../../knife/sample-parts.ts';
import { changed, goodRun, rulesFound } from '../good-run.ts';
import type { RunFiles } from '../run-folder.ts';

const oscillating = goodRun(longBay);
const trailing = goodRun(smallTable);

/** `rule`: what the proof must name, of several one. */
type Fault = readonly [name: string, change: (lines: string[]) => string[], rule: RegExp];

/** The lines with the n-th that matches replaced. */
function edited(pattern: RegExp, change: (line: string) => string[], n = 0) {
  return (lines: string[]): string[] => {
    const hits = lines.flatMap((line, i) => (pattern.test(line) ? [i] : []));
    const hit = hits.at(n);
    if (hit === undefined) throw new Error(`no line like ${pattern}`);
    return lines.flatMap((line, i) => (i === hit ? change(line) : [line]));
  };
}

function dropped(pattern: RegExp, n = 0) {
  return edited(pattern, () => [], n);
}

function replaced(pattern: RegExp, by: string, n = 0) {
  return edited(pattern, (line) => [line.replace(pattern, by)], n);
}

function isHead(line: string): boolean {
  return /^\(\S+\.1\.A1 /.test(line);
}

/** From the n-th comment that names a cut up to the next such comment. */
function blockOf(lines: readonly string[], name: RegExp, n = 0): [start: number, end: number] {
  const start = lines.flatMap((line, i) => (isHead(line) && name.test(line) ? [i] : []))[n]!;
  const after = lines.findIndex(
    (line, i) => i > start && (isHead(line) || /^M[025]|^\(MSG/.test(line)),
  );
  return [start, after];
}

function withoutBlock(name: RegExp, n = 0) {
  return (lines: string[]): string[] => {
    const [start, end] = blockOf(lines, name, n);
    return [...lines.slice(0, start), ...lines.slice(end)];
  };
}

function changedBlock(name: RegExp, change: (line: string) => string, n = 0) {
  return (lines: string[]): string[] => {
    const [start, end] = blockOf(lines, name, n);
    return lines.map((line, i) => (i >= start && i < end ? change(line) : line));
  };
}

/** A block cut out and put in again before another. */
function movedBlock(name: RegExp, before: RegExp) {
  return (lines: string[]): string[] => {
    const [start, end] = blockOf(lines, name);
    const block = lines.slice(start, end);
    const rest = [...lines.slice(0, start), ...lines.slice(end)];
    const [to] = blockOf(rest, before);
    return [...rest.slice(0, to), ...block, ...rest.slice(to)];
  };
}

function shiftedX(line: string, by: number): string {
  return line.replace(/X(-?[\d.]+)/, (_, x: string) => `X${(Number(x) + by).toFixed(3)}`);
}

const common: readonly Fault[] = [
  ['the units dropped', replaced(/ G21/, ''), /program/],
  ['inches', replaced(/G21/, 'G20'), /units|program/],
  ['relative coordinates', replaced(/G90/, 'G91'), /program/],
  ['the end dropped', dropped(/^M2$/), /program/],
  ['a program cut short', (lines) => lines.slice(0, lines.length / 2), /program/],
  ['something after the end', (lines) => [...lines, 'G0 X0 Y0'], /program/],
  ['the first lift dropped', dropped(/^G0 Z/), /start/],
  [
    'a lift dropped between contours',
    (lines) => {
      const lift = lines.findIndex(
        (line, i) => line.startsWith('G0 Z') && /^\(\S+ outline/.test(lines[i + 1]!),
      );
      return lines.filter((_, i) => i !== lift);
    },
    /knife-down/,
  ],
  ['a lowering dropped', dropped(/^G1 Z-/, 2), /depth|swivel/],
  ['a cut too shallow', replaced(/^G1 Z-0\.\d/, 'G1 Z0.5', 3), /depth/],
  ['a cut too deep', replaced(/^G1 Z-0\.\d/, 'G1 Z-4', 3), /depth/],
  ['a cut dropped', dropped(/^G1 X/, 5), /missing-cut|program/],
  ['an arc dropped', dropped(/^G3 X/, -1), /missing-cut|extra-cut/],
  [
    'I and J exchanged',
    edited(/^G3.*I-?[1-9]\d.* J-?[1-9]\d/, (line) => [line.replace(/I(\S+) J(\S+)/, 'I$2 J$1')]),
    /program/,
  ],
  ['an arc run the other way round', replaced(/^G3(?= X.*I-?[1-9]\d)/, 'G2'), /extra-cut/],
  ['an arc by its radius', replaced(/I\S+ J\S+/, 'R50'), /program/],
  [
    'a centre off by 0.01 mm',
    edited(/^G3 X.*I-?[1-9]\d/, (line) => [
      line.replace(/I(-?\d+\.\d+|-?\d+)/, (_, i: string) => `I${(Number(i) + 0.01).toFixed(3)}`),
    ]),
    /program/,
  ],
  [
    'an arc made a straight cut',
    edited(/^G3 X.*I-?[1-9]\d/, (line) => [line.replace('G3', 'G1').replace(/ I\S+ J\S+/, '')]),
    /extra-cut/,
  ],
  [
    'a contour moved by 0.1 mm',
    changedBlock(/strip.* outline/, (line) => shiftedX(line, 0.1)),
    /extra-cut/,
  ],
  [
    'a number with a digit lost',
    edited(/^G1 X\d{3}/, (line) => [line.replace(/X\d/, 'X')], 4),
    /extra-cut/,
  ],
  [
    'the whole program mirrored across the roll',
    (lines) =>
      lines.map((line) =>
        line
          .replace(/Y(\S+)/, (_, y: string) => `Y${(2000 - Number(y)).toFixed(3)}`)
          .replace(/J(\S+)/, (_, j: string) => `J${(-Number(j)).toFixed(3)}`)
          .replace(/^G3/, 'G2'),
      ),
    /extra-cut/,
  ],
  ['a contour left out', withoutBlock(/strip.* outline/), /missing-cut/],
  ['an inner contour left out', withoutBlock(/mat.* inner/), /missing-cut/],
  ['a notch left out', withoutBlock(/mat.* notch/, 1), /missing-cut/],
  [
    'a contour cut twice',
    (lines) => {
      const [start, end] = blockOf(lines, /mat.* outline/);
      return [...lines.slice(0, end), ...lines.slice(start, end), ...lines.slice(end)];
    },
    /cut-twice/,
  ],
  ['the outline before an inner contour', movedBlock(/mat.* outline/, /mat.* inner/), /order/],
  // A trailing knife then comes to it from another side, too.
  ['the outline before a notch', movedBlock(/mat.* outline/, /mat.* notch/), /order|swivel/],
  [
    'a part in a cutout after that cutout',
    movedBlock(/pad.* outline/, /mat.* outline/),
    /order|swivel/,
  ],
  ['a cut at rapid', replaced(/^G1 (?=X)/, 'G0 ', 3), /knife-down/],
  ['lowering at rapid', replaced(/^G1 (?=Z)/, 'G0 ', 3), /knife-down/],
  ['a slope', edited(/^G1 X/, (line) => [`${line} Z-0.1`], 3), /slope/],
  [
    'a cut far too fast',
    edited(/^G1 X.*F/, (line) => [line.replace(/F\d+/, 'F99000')], 3),
    /feed-rate/,
  ],
  ['no feed at all', (lines) => lines.map((line) => line.replace(/ F\d+/, '')), /program/],
  ['a feed of 0', replaced(/F\d+/, 'F0', 2), /program/],
  ['travel off the bed', edited(/^G0 X/, (line) => ['G0 X-300 Y0', line], 3), /off-the-bed/],
  ['an extra stab', edited(/^G0 X/, (line) => [line, 'G1 Z-0.5 F3000', 'G0 Z18'], 3), /stab/],
  ['the roll fed too little', replaced(/FEED \d+/, 'FEED 1500'), /feed/],
  ['no word of the feed', dropped(/^\(MSG/), /feed/],
  ['no stop for the feed', dropped(/^M0$/), /feed/],
  [
    'the stop before the lift',
    (lines) => {
      const stop = lines.findIndex((line) => line.startsWith('(MSG'));
      const lift = lines.findLastIndex((line, i) => i < stop && line.startsWith('G0 Z'));
      return lines.filter((_, i) => i !== lift);
    },
    /knife-down/,
  ],
  ['a line too long for a controller', (lines) => [`(${' '.repeat(256)})`, ...lines], /program/],
  ['a canned cycle', edited(/^G0 X/, (line) => [line, 'G81 Z-1 R2'], 3), /program/],
  ['a number with an exponent', replaced(/^G1 X/, 'G1 X1E', 3), /program/],
  ['a parameter', replaced(/^G1 X\S+/, 'G1 X#1', 3), /program/],
];

const tangentialAlone: readonly Fault[] = [
  ['oscillation never on', (lines) => lines.filter((line) => line !== 'M3'), /oscillating/],
  ['oscillation on while the roll is fed', dropped(/^M5$/), /oscillating/],
  ['oscillation on at the end', dropped(/^M5$/, -1), /oscillating/],
  ['a turn dropped', dropped(/^G1 C/, 1), /heading/],
  [
    'a heading off by 90 degrees',
    edited(
      /^G1 X\S+ Y\S+ C/,
      (line) => [line.replace(/C(\S+)/, (_, c: string) => `C${Number(c) + 90}`)],
      2,
    ),
    /heading/,
  ],
  ['an arc without its turn', edited(/^G3.* C/, (line) => [line.replace(/ C\S+/, '')]), /heading/],
  [
    'a sharp turn in the material',
    (lines) => {
      const turn = lines.findIndex(
        (line, i) => line.startsWith('G1 C') && lines[i - 2]!.startsWith('G0 Z'),
      );
      // The lift, the little way to where the next stroke begins, and the lowering again.
      return lines.filter((_, i) => i < turn - 2 || i > turn + 1 || i === turn);
    },
    /turn/,
  ],
  ['a turn at rapid', replaced(/^G1 (?=C)/, 'G0 ', 2), /turn/],
  ['another axis', (lines) => lines.map((line) => line.replace(/ C(?=\d)/, ' A')), /program/],
];

const trailingAlone: readonly Fault[] = [
  ['a swivel dropped', dropped(/^G[23] .*(?<=[IJ]-?5\.\d*)/), /extra-cut/],
  [
    'a corner cut without raising the tip and without its arc',
    (lines) => {
      const up = lines.findIndex((line) => line.startsWith('G1 Z1.5'));
      return lines.filter((_, i) => i < up || i > up + 2);
    },
    /extra-cut/,
  ],
  [
    'a word for an axis the machine has not',
    edited(/^G1 X/, (line) => [`${line} C90`], 3),
    /program/,
  ],
  ['the knife dragged along at swivel depth', dropped(/^G1 Z-/, 4), /swivel/],
];

function withFault(files: RunFiles, change: Fault[1]): RunFiles {
  return changed(files, 'loop.nc', (text) => `${change(text.trimEnd().split('\n')).join('\n')}\n`);
}

describe('the proof of a program for an oscillating tangential knife', () => {
  it('finds nothing in what was written', () => {
    expect(rulesFound(oscillating)).toEqual([]);
  });
  it.each([...common, ...tangentialAlone])('finds %s', (_, change, rule) => {
    expect(rulesFound(withFault(oscillating, change)).join(' ')).toMatch(rule);
  });
});

describe('the proof of a program for a trailing knife', () => {
  it('finds nothing in what was written', () => {
    expect(rulesFound(trailing)).toEqual([]);
  });
  it.each([...common, ...trailingAlone])('finds %s', (_, change, rule) => {
    expect(rulesFound(withFault(trailing, change)).join(' ')).toMatch(rule);
  });
});
