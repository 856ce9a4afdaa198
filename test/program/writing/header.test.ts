import { describe, expect, it } from 'vitest';
import type { Cutter, TrailingKnife } from '../../../src/knife/cutter.ts';
import type { Move } from '../../../src/knife/moves.ts';
import type { ProgramHeader } from '../../../src/program/writing/header.ts';
import { headerLines } from '../../../src/program/writing/header.ts';
import { variedCutters } from '../../knife/sample-cutters.ts';
import { conveyorBed, longBay, point, smallTable } from '../../knife/sample-parts.ts';

const header: ProgramHeader = {
  run: 'week 7',
  material: 'loop-2',
  thickness: 8.5,
  face: 'the pile',
  lines: ['Roll 2000 mm wide'],
};

/** The head as one text, lines joined where they were wrapped. */
function head(cutter: Cutter, more: Partial<ProgramHeader> = {}, moves: readonly Move[] = []) {
  const lines = headerLines({ ...header, ...more }, cutter, 'cut', moves);
  return lines.map((line) => line.slice(1, -1)).join(' ');
}

describe('the head of a program', () => {
  it.each(variedCutters)('is comments alone, of 80 characters at most: $name', (cutter) => {
    for (const kind of ['cut', 'dry'] as const) {
      const lines = [...headerLines(header, cutter, kind, [])];
      expect(lines.length).toBeGreaterThan(header.lines.length);
      for (const line of lines) {
        expect(line).toMatch(/^\([\x20-\x27\x2a-\x7e]{1,78}\)$/);
      }
    }
  });

  it('says what to load, which way up, and with which knife', () => {
    expect(head(longBay)).toContain('RUN week 7, MATERIAL loop-2 8.5 mm thick, CUTTER long-bay');
    expect(head(longBay)).toContain('FACE UP');
    expect(head(longBay)).toContain('turned by C, oscillating, blade 6 mm, tip 0.5 mm below');
    expect(head(conveyorBed)).toContain('FACE DOWN: the roll lies with the pile on the bed.');
    const felt = { face: 'the side that goes against the carpet' };
    expect(head(longBay, felt)).toContain('lies with the side that goes against the carpet up.');
    expect(head(smallTable)).toContain('trailing by 6 mm, blade 4 mm');
  });

  it('says that arcs are lines only where they are', () => {
    expect(head(conveyorBed)).toContain('lines that leave them by 0.02 mm at most');
    expect(head(longBay)).not.toContain('Arcs');
  });

  it('has the trailing knife turned by hand: true, or with a lead-in within a quarter turn', () => {
    const knife: TrailingKnife = { ...(smallTable.knife as TrailingKnife), leadIn: 48 };
    const byHand: Cutter = {
      ...smallTable,
      knife: { ...knife, leadIn: undefined },
    };
    expect(head(byHand)).toContain('turn the trailing knife to heading 0:');
    expect(head({ ...smallTable, knife })).toContain('to heading 0, within 90 degrees:');
    expect(head(longBay)).not.toContain('trailing');
  });

  // 1 inch is 25.4 mm.
  it('says the size in mm and inches, whichever the program is in, arcs to their middle', () => {
    const moves: Move[] = [
      { kind: 'lift' },
      { kind: 'travel', to: point(254, 100) },
      { kind: 'line', to: point(508, 100), deg: 0 },
      // Half a turn to the right of the way, 127 mm beyond its ends.
      { kind: 'arc', to: point(508, 354), centre: point(508, 227), sweepDeg: 180, deg: 180 },
    ];
    const program = { ...longBay.program, units: 'inch' as const, decimals: 4 };
    for (const cutter of [longBay, { ...longBay, program }]) {
      expect(head(cutter, {}, moves)).toContain('REACH in mm: X 254 to 635, Y 100 to 354 ');
      expect(head(cutter, {}, moves)).toContain('inches: X 10 to 25, Y 3.937 to 13.937 ');
    }
    expect(head(longBay)).toContain('Millimetres.');
    expect(head({ ...longBay, program })).toContain('Inches.');
  });

  it('of a single bite says how far the roll must have been fed', () => {
    const bite = { number: 2, of: 5, fed: 2540 };
    expect(head(longBay, { bite })).toContain(
      'BITE 2 OF 5 ALONE: the roll must lie fed 2540 mm, 100 inches, from its start.',
    );
    expect(head(longBay)).not.toContain('BITE');
  });
});
