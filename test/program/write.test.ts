import * as fc from 'fast-check';
import GcodeToolpath from 'gcode-toolpath';
import { describe, expect, it } from 'vitest';
import { distance } from '../../src/geometry/point.ts';
import type { Cutter } from '../../src/knife/cutter.ts';
import { isMotion } from '../../src/program/actions.ts';
import { readProgram } from '../../src/program/read.ts';
import type { ProgramKind } from '../../src/program/header.ts';
import { writeProgram } from '../../src/program/write.ts';
import type { Part } from '../../src/handing/part.ts';
import {
  knifeOver,
  laidInARow,
  longBay,
  part,
  rectangle,
  smallTable,
  somePartsArbitrary,
} from '../knife/sample-parts.ts';

const header = {
  run: 'demo (first)',
  material: 'loop',
  thickness: 8,
  lines: ['Roll 2000 mm wide'],
};

function written(parts: readonly Part[], cutter: Cutter, kind: ProgramKind = 'cut'): string {
  return writeProgram(knifeOver(laidInARow(parts, cutter), parts, cutter), cutter, header, kind);
}

interface Vector {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** What an independent reader makes of a program: its motions, arcs with their centres. */
function readByAnother(
  text: string,
): { motion: string; from: Vector; to: Vector; centre?: Vector }[] {
  const moves: { motion: string; from: Vector; to: Vector; centre?: Vector }[] = [];
  const toolpath = new GcodeToolpath({
    addLine: ({ motion }, from, to) => moves.push({ motion, from, to }),
    addArcCurve: ({ motion }, from, to, centre) => moves.push({ motion, from, to, centre }),
  });
  toolpath.loadFromStringSync(text);
  return moves;
}

describe.each([longBay, smallTable])('a program for $name', (cutter) => {
  it('holds to the rules of the text, line by line', () => {
    const word = '[A-Z][+-]?\\d+(\\.\\d+)?';
    const line = new RegExp(`^(\\([^()]*\\)|${word}( ${word})*)$`);
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        for (const kind of ['cut', 'dry'] as const) {
          const lines = written(parts, cutter, kind).trimEnd().split('\n');
          for (const text of lines) {
            expect(text.length).toBeLessThanOrEqual(80);
            expect(text).toMatch(line);
            if (!text.startsWith('(')) expect(text).not.toMatch(/-0(?![\d.])|R|G9[12]|M30/);
          }
          expect(lines.at(-1)).toBe('M2');
        }
      }),
      { numRuns: 30 },
    );
  });

  // gcode-toolpath knows nothing of this product.
  it('is read alike by another reader', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const text = written(parts, cutter);
        const axis = cutter.knife.kind === 'tangential' ? cutter.knife.axis.letter : undefined;
        const own = readProgram(text, 'a.nc', axis).actions.filter(isMotion);
        // The other reader has no rotary axes and passes turns on the spot on as motions to nowhere.
        const moves = own.filter(({ from, to }) => distance(from, to) > 0 || from.z !== to.z);
        const others = readByAnother(text).filter(
          ({ from, to }) => distance(from, to) > 0 || from.z !== to.z,
        );
        expect(others).toHaveLength(moves.length);
        for (const [i, move] of moves.entries()) {
          const other = others[i]!;
          const code = { rapid: 'G0', line: 'G1', arc: '' }[move.kind];
          if (move.kind !== 'arc') expect(other.motion).toBe(code);
          else {
            expect(other.motion).toBe(move.sweepDeg > 0 ? 'G3' : 'G2');
            expect(distance(other.centre!, move.centre)).toBeLessThan(1e-9);
          }
          expect(distance(other.to, move.to)).toBeLessThan(1e-9);
          expect(other.to.z).toBe(move.to.z);
        }
      }),
      { numRuns: 30 },
    );
  });

  it('is the same bytes for the same parts', () => {
    const parts = [part('a', rectangle(300, 200)), part('b', rectangle(100, 90))];
    expect(written(parts, cutter)).toBe(written(parts, cutter));
  });

  it('says feed before motion, and anew only where it changes', () => {
    let feed = '';
    for (const text of written([part('a', rectangle(300, 200))], cutter).split('\n')) {
      const next = / F(\S+)/.exec(text)?.[1];
      if (next !== undefined) {
        expect(next).not.toBe(feed);
        feed = next;
      }
      if (/^G[123] /.test(text)) expect(feed).not.toBe('');
    }
  });

  it('has the lines of the profile in their places', () => {
    const program = { ...cutter.program, before: ['S1200'], after: ['G0 X0 Y0'] };
    const lines = written([part('a', rectangle(300, 200))], { ...cutter, program }).split('\n');
    expect(lines[lines.indexOf('S1200') - 1]).toMatch(/^G17 G21 /);
    expect(lines.slice(-4)).toEqual([lines.at(-4), 'G0 X0 Y0', 'M2', '']);
  });

  it('refuses lines of the profile that are outside the subset, and says which', () => {
    const program = { ...cutter.program, before: ['S1200', 'T1 M6'] };
    const write = (): unknown => written([part('a', rectangle(300, 200))], { ...cutter, program });
    expect(write).toThrow(/yaml, program\.before:2: the word T1/);
  });
});

describe('oscillation', () => {
  it('is on with a dwell before the knife goes down in each bite, and off before a feed and at the end', () => {
    const parts = ['a', 'b'].map((label) => part(label, rectangle(2000, 200)));
    const lines = written(parts, longBay)
      .split('\n')
      .filter((line) => /^(M|G4|\(MSG)|Z-/.test(line));
    const turnsOn = ['M3', 'G4 P0.5'];
    const downs = lines.filter((line) => line.includes('Z-'));
    expect(lines.slice(0, 2)).toEqual(turnsOn);
    const stop = lines.indexOf('M0');
    expect(lines.slice(stop - 2, stop + 3)).toEqual([
      'M5',
      expect.stringContaining('FEED 3200 MM'),
      'M0',
      ...turnsOn,
    ]);
    expect(lines.slice(-2)).toEqual(['M5', 'M2']);
    expect(downs.length).toBeGreaterThan(8);
  });
});
