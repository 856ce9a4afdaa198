import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import type { Action, ArcMotion, MotionAction } from '../../../src/program/reading/actions.ts';
import { isMotion } from '../../../src/program/reading/actions.ts';
import { readProgram } from '../../../src/program/reading/read.ts';

const opening = 'G17 G21 G90 G94';

function read(lines: readonly string[]): readonly Action[] {
  return readProgram([opening, ...lines, 'M2'].join('\n'), 'a.nc', 'C').actions;
}

/** The last motion of lines after the opening. */
function lastMotion(...lines: string[]): MotionAction {
  return read(lines).findLast(isMotion)!;
}

function arcLength({ radius, sweepDeg }: ArcMotion): number {
  return (radius * Math.abs(sweepDeg) * Math.PI) / 180;
}

// Vectors of NISTIR 6556, as facts 1 [S] gives them.
describe('arcs of the report', () => {
  it('g3 x13.5 y0 i-2.5 from 16, 2.5', () => {
    const arc = lastMotion('g0 x16 y2.5', 'g3 x13.5 y0 i-2.5 f100') as ArcMotion;
    expect(arc.centre).toEqual({ x: 13.5, y: 2.5 });
    expect(arc.radius).toBe(2.5);
    expect(arc.sweepDeg).toBeCloseTo(270, 9);
    expect(arcLength(arc)).toBeCloseTo(11.78097, 5);
  });

  it('g2 x32.5 j2.5 from 32.5, 0: a full circle', () => {
    const arc = lastMotion('g0 x32.5 y0', 'g2 x32.5 j2.5 f100') as ArcMotion;
    expect(arc.sweepDeg).toBe(-360);
    expect(arcLength(arc)).toBeCloseTo(15.70796, 5);
  });

  it('G17 G2 x10 y16 i3 j4 from 7, 7', () => {
    const arc = lastMotion('g0 x7 y7', 'G17 G2 x10 y16 i3 j4 f100') as ArcMotion;
    expect(arc.centre).toEqual({ x: 10, y: 11 });
    expect(arc.radius).toBe(5);
    expect(arc.sweepDeg).toBeLessThan(0);
  });

  it('g2 x69 r4 from 64, 4, which is read and never written', () => {
    const arc = lastMotion('g0 x64 y4', 'g2 x69 r4 f100') as ArcMotion;
    expect(arc.centre.x).toBeCloseTo(66.5, 9);
    expect(arc.centre.y).toBeCloseTo(0.8775, 4);
    expect(arc.sweepDeg).toBeCloseTo(-77.3644, 4);
    expect(arcLength(arc)).toBeCloseTo(5.40105, 5);
  });

  // The other circle through the same ends: centres on both sides of the chord, sweeps that add up to a turn.
  it('by a radius below 0 turn through more than half', () => {
    const arc = lastMotion('g0 x64 y4', 'g2 x69 r-4 f100') as ArcMotion;
    expect(arc.centre.y).toBeCloseTo(8 - 0.8775, 4);
    expect(arc.sweepDeg).toBeCloseTo(-360 + 77.3644, 4);
    const back = lastMotion('g0 x64 y4', 'g3 x69 r4 f100') as ArcMotion;
    expect(back.centre.y).toBeCloseTo(8 - 0.8775, 4);
    expect(back.sweepDeg).toBeCloseTo(77.3644, 4);
  });
});

describe('spelling', () => {
  it('g0x +0. 12 34y 7 equals g0 x+0.1234 y7', () => {
    const { to } = lastMotion('g0x +0. 12 34y 7');
    expect(to).toEqual({ x: 0.1234, y: 7, z: 0, deg: 0 });
    expect(to).toEqual(lastMotion('g0 x+0.1234 y7').to);
  });

  it('takes leading zeros, a bare point, and comments anywhere', () => {
    expect(lastMotion('G00 (to) X.5 (and) Y-5.').to).toMatchObject({ x: 0.5, y: -5 });
  });

  it('tells messages from comments', () => {
    const said = read(['(MSG, feed now)', '( msg ,again)', '(a MSG, no)']);
    expect(said.filter(({ kind }) => kind === 'message')).toEqual([
      { kind: 'message', line: 2, text: 'feed now' },
      { kind: 'message', line: 3, text: 'again' },
    ]);
  });

  it('holds motion, feed and coordinates until they are said anew', () => {
    expect(lastMotion('G1 X5 F200', 'Y7')).toMatchObject({
      kind: 'line',
      from: { x: 5, y: 0 },
      to: { x: 5, y: 7 },
      feed: 200,
      line: 3,
    });
  });

  it('turns inches into mm, feeds too, but no degrees', () => {
    const text = 'G17 G20 G90 G94\nG1 X1 F10\nC90\nM2';
    const { units, actions } = readProgram(text, 'a.nc', 'C');
    expect(units).toBe('in');
    expect(actions[0]).toMatchObject({ to: { x: 25.4 }, feed: 254 });
    expect(actions[1]).toMatchObject({ to: { deg: 90 }, feed: 10 });
  });

  it('takes line numbers, which mean nothing', () => {
    expect(read(['N10 G0 X1', 'n0020 (there) g0 y2']).map(({ line }) => line)).toEqual([2, 3, 4]);
  });

  it('gives stops, dwell and spindle in the order in which a controller does them', () => {
    const kinds = read(['M0 M3 G4 P0.5']).map(({ kind }) => kind);
    expect(kinds).toEqual(['spindle', 'dwell', 'stop', 'end']);
  });
});

// Programs of the three kinds that NISTIR 6556 gives as samples, written here for the purpose: plain
// motions, expressions, canned cycles. The report's own text was not at hand.
describe('a whole program', () => {
  const head = [
    'n0010 (a plate with a round end)',
    'n0020 g17 g21 g40 g49',
    'n0030 g54 g61 g80 g90 g94',
  ];

  it('of plain motions is read to its end', () => {
    const text = [
      ...head,
      'n0040 g0 x0 y0 z5',
      'n0050 g1 z-1 f200',
      'n0060 x40 f1000',
      'n0070 g3 x40 y20 i0 j10',
      'n0080 g1 x0',
      'n0090 g2 x0 y0 r10',
      'n0100 g0 z5',
      'n0110 m2',
    ];
    const motions = readProgram(text.join('\n'), 'a.nc').actions.filter(isMotion);
    expect(motions.map(({ kind, line }) => [kind, line])).toEqual([
      ['rapid', 4],
      ['line', 5],
      ['line', 6],
      ['arc', 7],
      ['line', 8],
      ['arc', 9],
      ['rapid', 10],
    ]);
    const [first, second] = motions.filter((motion) => motion.kind === 'arc') as ArcMotion[];
    expect(first).toMatchObject({ centre: { x: 40, y: 10 }, sweepDeg: 180 });
    expect(second!.sweepDeg).toBe(-180);
  });

  it.each([
    ['expressions', 'n0050 g1 x[2 * 3.5] f200', /a\.nc:5: expressions/],
    ['functions', 'n0050 g1 xsqrt[16] f200', /a\.nc:5: expressions/],
    ['parameters', 'n0050 #3=15 #3=6', /a\.nc:5: parameters/],
    ['canned cycles', 'n0050 g83 x1 y2 z-3 r1 q0.5 f200', /a\.nc:5: .*(canned cycle|Q0\.5)/],
    ['drilling', 'n0050 g81 x1 y2 z-3 r1 f200', /a\.nc:5: G81.*canned cycle/],
    ['another plane', 'n0050 g19', /a\.nc:5: G19/],
  ])('with %s is refused at its line', (_, line, message) => {
    const text = [...head, 'n0040 g0 x0 y0', line, 'n0060 m2'].join('\n');
    expect(() => readProgram(text, 'a.nc')).toThrow(message);
  });
});

describe('what is outside the subset is refused, with the line', () => {
  it.each([
    ['an expression', 'G1 X[1+2] F100', /expressions/],
    ['a function', 'G1 XSIN[30] F100', /expressions/],
    ['a parameter', 'G1 X#5 F100', /parameters/],
    ['a setting of a parameter', '#5=2', /parameters/],
    ['a canned cycle', 'G81 X1 Z-1', /canned cycle/],
    ['incremental distances', 'G91', /G91/],
    ['an offset of axes', 'G92 X0', /G92/],
    ['going home', 'G28', /G28/],
    ['cutter compensation', 'G41', /G41/],
    ['another plane', 'G18', /G18/],
    ['a pallet shuttle', 'M30', /M30/],
    ['a tool', 'T1', /T1/],
    ['a line number in the middle', 'G0 N10 X1', /N stands first/],
    ['a line number too high', 'N100000 G0 X1', /N100000/],
    ['half a line number', 'N10.5 G0 X1', /N10\.5/],
    ['a radius and a centre', 'G2 X1 R1 I1 F100', /R as well as I/],
    ['a radius without arc', 'G1 X1 R1 F100', /without G2 or G3/],
    ['a radius that does not reach', 'G2 X10 R4 F100', /radius 4 does not reach/],
    ['a full circle by its radius', 'G2 X0 R4 F100', /ends where it starts/],
    ['punching and letting go', 'M7 M9', /M7 and M9/],
    ['block delete', '/G0 X1', /"\/G0X1" is no word/],
    ['a percent sign', '%', /"%" is no word/],
    ['a comment after a semicolon', 'G0 X1 ; there', /";THERE" is no word/],
    ['an exponent', 'G0 X1E3', /E3/],
    ['a number without digits', 'G0 X-', /"X-" is no word/],
    ['two motions', 'G0 G1 X1 F100', /G0 and G1 stand in one line/],
    ['motion and G80', 'G1 G80 X1 F100', /G1 and G80/],
    ['two units', 'G20 G21', /G20 and G21/],
    ['two stops', 'M0 M2', /M0 and M2/],
    ['a letter twice', 'G0 X1 X2', /X stands twice/],
    ['a comment in a comment', '(a (b) c)', /inside a comment/],
    ['an open comment', 'G0 X1 (there', /not closed/],
    ['a comment closed twice', '(a) b)', /is no word/],
    ['a line of 257 characters', `(${'a'.repeat(255)})`, /257 characters/],
    ['a feed motion before any feed', 'G1 X1', /before any feed/],
    ['a feed of 0', 'G1 X1 F0', /F0/],
    ['a coordinate without motion', 'X1', /no G0, G1, G2 or G3/],
    ['a coordinate after G80', 'G80 X1', /no G0, G1, G2 or G3/],
    ['dwell without time', 'G4', /G4 needs P/],
    ['dwell and motion', 'G0 G4 P1 X1', /G4 and a motion/],
    ['P alone', 'G0 X1 P1', /P stands without G4/],
    ['an arc without centre', 'G2 X1 Y1 F100', /needs I or J/],
    ['an arc without end', 'G2 Z1 I1 F100', /needs X or Y/],
    ['a centre without arc', 'G1 X1 I1 F100', /without G2 or G3/],
    ['a centre alone', 'G2 I1 F100', /without an end point/],
    ['an arc that climbs', 'G2 X2 I1 Z1 F100', /changes its height/],
    ['an arc of no radius', 'G2 X0 I0 F100', /radius 0/],
    ['an axis the machine has not', 'G0 A1', /no axis A/],
  ])('%s', (_, line, message) => {
    expect(() => read([line])).toThrow(Refusal);
    expect(() => read([line])).toThrow(message);
    expect(() => read([line])).toThrow(/^a\.nc:2: /);
  });

  // NISTIR 6556, facts 1 [S]: radii that differ by more than 0.002 mm are an error.
  it.each([
    [0.0019, false],
    [0.002, false],
    [0.0021, true],
  ])('an arc whose radii differ by %d mm: %s', (off, refused) => {
    const arc = (): unknown => read([`G3 X${(20 + off).toFixed(4)} Y0 I10 F100`]);
    if (refused) expect(arc).toThrow(/10\.0000 mm from its centre.*0\.0021 mm off/);
    else expect(arc).not.toThrow();
  });

  it.each(['G17', 'G21', 'G90', 'G94'])('motion before %s', (mode) => {
    const text = `${opening.replace(mode, '')}\nG0 X1\nM2`;
    expect(() => readProgram(text, 'a.nc')).toThrow(new RegExp(`a\\.nc:2: .*${mode}`));
  });

  it('no end, or something after it', () => {
    expect(() => readProgram(`${opening}\nG0 X1`, 'a.nc')).toThrow(/a\.nc:2: .*M2/);
    expect(() => readProgram(`${opening}\nM2\nG0 X1\n`, 'a.nc')).toThrow(
      /a\.nc:3: .*after|follows/,
    );
    expect(() => readProgram('', 'a.nc')).toThrow(/M2/);
  });
});
