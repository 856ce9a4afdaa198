import { describe, expect, it } from 'vitest';
import type { Cutter } from '../../src/knife/cutter.ts';
import type { KnifePath, Move } from '../../src/knife/moves.ts';
import type { ProgramKind } from '../../src/program/writing/header.ts';
import { programText } from '../../src/program/writing/write.ts';
import { writeProgram } from './written.ts';
import { conveyorBed, longBay, point } from '../knife/sample-parts.ts';

const header = { run: 'demo', material: 'loop', thickness: 8, face: 'the pile', lines: [] };
const exact: Cutter = {
  ...conveyorBed,
  program: { ...conveyorBed.program, arcs: 'exact', lineNumbers: false },
};

function pathOf(moves: readonly Move[]): KnifePath {
  return { moves, cutLength: 0, travelLength: 0, minutes: 0, bites: 1, begun: [] };
}

/** What comes after the knife is first raised. */
function linesOf(moves: readonly Move[], cutter: Cutter, kind: ProgramKind = 'cut'): string[] {
  const lines = writeProgram(pathOf(moves), cutter, header, kind).trimEnd().split('\n');
  return lines.slice(lines.findIndex((line) => line.startsWith('G0 Z')) + 1);
}

const stroke: Move[] = [
  { kind: 'travel', to: point(100, 100) },
  { kind: 'lower', z: -0.8 },
  { kind: 'line', to: point(200, 100), deg: 0 },
  { kind: 'lift' },
];
const hole: Move[] = [{ kind: 'travel', to: point(300, 50) }, { kind: 'punch' }];

describe('a punched hole', () => {
  it('is made with the knife off, which is on again before it goes down', () => {
    const lines = linesOf([...stroke, ...hole, ...stroke], exact);
    const made = lines.indexOf('M7');
    expect(lines.slice(made - 2, made + 7)).toEqual([
      'G0 X300 Y50',
      'M5',
      'M7',
      'G4 P0.3',
      'M9',
      'G0 X100 Y100',
      'M3',
      'G4 P0.3',
      'G1 Z-0.8 F4000',
    ]);
  });

  it('is made by the word of the profile; a knife that is off is not switched off', () => {
    const punch = { ...exact.punch!, word: 'M8' as const, dwell: 1.25 };
    const lines = linesOf([...hole, ...hole], { ...exact, punch });
    const blow = ['G0 X300 Y50', 'M8', 'G4 P1.25', 'M9'];
    expect(lines).toEqual([...blow, ...blow, 'M2']);
  });

  it('is only gone to in the dry program', () => {
    expect(linesOf([...stroke, ...hole], exact, 'dry')).toEqual([
      'G0 X100 Y100',
      'G1 X200 Y100 A0 F24000',
      'G0 X300 Y50',
      'M2',
    ]);
  });
});

describe('a look at the mark after a feed', () => {
  const moves: Move[] = [
    ...stroke,
    { kind: 'feed', length: 2500 },
    { kind: 'check', to: point(12.3456, 7) },
    ...stroke,
  ];

  it('goes over it with the knife up and off, and stops until somebody has looked', () => {
    const lines = linesOf(moves, exact);
    const feed = lines.findIndex((line) => line.includes('FEED'));
    expect(lines.slice(feed - 2, feed + 7)).toEqual([
      'G0 Z20',
      'M5',
      expect.stringMatching(/^\(MSG, FEED 2500 MM:/),
      'M0',
      'G0 X12.346 Y7',
      expect.stringMatching(/^\(MSG, CHECK: the knife stands over the mark\W .*mend the feed/),
      'M0',
      'G0 X100 Y100',
      'M3',
    ]);
  });

  it('is there in the dry program too', () => {
    const lines = linesOf(moves, exact, 'dry');
    expect(lines.filter((line) => line === 'M0')).toHaveLength(2);
    expect(lines[lines.indexOf('G0 X12.346 Y7') + 1]).toContain('CHECK');
  });
});

// 1 inch is 25.4 mm; lengths and feeds of them are in inches, those of a turn in degrees.
it('in inches every length is, but not a turn', () => {
  const program = { ...longBay.program, units: 'inch' as const, decimals: 5 };
  const moves: Move[] = [
    { kind: 'travel', to: point(254, 127) },
    { kind: 'turn', deg: 33.5 },
    { kind: 'lower', z: -0.508 },
    { kind: 'arc', to: point(304.8, 177.8), centre: point(254, 177.8), sweepDeg: 90, deg: 123.5 },
    { kind: 'lift' },
    { kind: 'feed', length: 3200 },
  ];
  const heights = { travel: 25.4, cut: -0.508 };
  const feeds = { cut: 25400, plunge: 2540, travel: 0 };
  const lines = linesOf(moves, { ...longBay, program, heights, feeds });
  expect(lines).toEqual([
    'G0 X10 Y5',
    'G1 C33.5 F21600',
    'M3',
    'G4 P0.5',
    'G1 Z-0.02 F100',
    'G3 X12 Y7 I0 J2 C123.5 F1000',
    'G0 Z1',
    'M5',
    expect.stringMatching(/^\(MSG, FEED 125.98425 IN:/),
    'M0',
    'M2',
  ]);
});

it('a stroke too long for its line has its feed in one before', () => {
  const program = { ...longBay.program, units: 'inch' as const, decimals: 6, lineNumbers: true };
  const at = point(2934.123457, 1777.654321);
  // A quarter turn about 700.1 to the left of it and 900.3 above.
  const arc = (deg: number): Move => ({
    kind: 'arc',
    to: point(at.x + 200.2, at.y + 1600.4),
    centre: point(at.x - 700.1, at.y + 900.3),
    sweepDeg: 90,
    deg,
  });
  const linesTo = (deg: number): string[] =>
    linesOf([{ kind: 'travel', to: at }, { kind: 'lower', z: -0.5 }, arc(deg), { kind: 'lift' }], {
      ...longBay,
      program,
    });
  const lines = linesTo(123456.654321);
  for (const line of lines) expect(line.length).toBeLessThanOrEqual(80);
  const cut = lines.findIndex((line) => / G3 /.test(line));
  expect(lines[cut - 1]).toMatch(/^N\d+ F708\.661417$/);
  expect(lines[cut]).not.toContain('F');
  expect(linesTo(90).find((line) => / G3 /.test(line))).toMatch(/F708\.661417$/);
});

it('comes in pieces of a line, which together are the program', () => {
  const pieces = [...programText(pathOf(stroke), longBay, header, 'cut')];
  for (const piece of pieces) expect(piece).toMatch(/^[^\n]+\n$/);
  expect(pieces.join('')).toBe(writeProgram(pathOf(stroke), longBay, header, 'cut'));
});
