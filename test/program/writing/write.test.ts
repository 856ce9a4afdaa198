import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Cutter } from '../../../src/knife/cutter.ts';
import type { ProgramKind } from '../../../src/program/writing/header.ts';
import { checkOwnLines } from '../../../src/program/writing/write.ts';
import { writeProgram } from '../written.ts';
import type { Part } from '../../../src/handing/part.ts';
import { expectSameMotions } from '../another-reader.ts';
import { variedCutters } from '../../knife/sample-cutters.ts';
import {
  knifeOver,
  laidInARow,
  longBay,
  part,
  rectangle,
  roundedRectangle,
  somePartsArbitrary,
} from '../../knife/sample-parts.ts';
import { tries } from '../../support/thorough.ts';

const header = {
  run: 'demo (first)',
  material: 'loop',
  thickness: 8,
  face: 'the pile',
  lines: ['Roll 2000 mm wide'],
};

function written(parts: readonly Part[], cutter: Cutter, kind: ProgramKind = 'cut'): string {
  return writeProgram(knifeOver(laidInARow(parts, cutter), parts, cutter), cutter, header, kind);
}

/** The lines of a program without their numbers. */
function unnumbered(text: string): string[] {
  return text.split('\n').map((line) => line.replace(/^N\d+ /, ''));
}

describe.each(variedCutters)('a program for $name', (cutter) => {
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
          const words = lines.filter((text) => !text.startsWith('('));
          expect(words.length).toBeGreaterThan(0);
          const numbered = words.filter((text) => /^N\d+ /.test(text));
          expect(numbered).toEqual(cutter.program.lineNumbers ? words : []);
          expect(lines.at(-1)).toMatch(/^(N\d+ )?M2$/);
        }
      }),
      { numRuns: tries(10, 15) },
    );
  });

  // gcode-toolpath knows nothing of this product.
  it('is read alike by another reader', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const text = written(parts, cutter);
        const axis = cutter.knife.kind === 'tangential' ? cutter.knife.axis.letter : undefined;
        expect(expectSameMotions(text, axis, cutter.program.units)).toBeGreaterThan(
          4 * parts.length,
        );
      }),
      { numRuns: tries(10, 15) },
    );
  });

  it('is the same bytes for the same parts', () => {
    const parts = [part('a', rectangle(300, 200)), part('b', rectangle(100, 90))];
    const first = written(parts, cutter);
    expect(first).toMatch(/^(N\d+ )?G1 /m);
    // Whatever was written in between, and from a copy.
    written([part('c', rectangle(500, 40))], cutter);
    expect(written(structuredClone(parts), structuredClone(cutter))).toBe(first);
  });

  it('says feed before motion, and anew only where it changes', () => {
    let feed = '';
    let motions = 0;
    // Round corners: the knife stays down from one side to the next.
    const round = part('a', roundedRectangle(300, 200, 60));
    for (const text of unnumbered(written([round], cutter))) {
      const next = / F(\S+)/.exec(text)?.[1];
      if (next !== undefined) {
        expect(next).not.toBe(feed);
        feed = next;
      }
      if (!/^G[123] /.test(text)) continue;
      motions++;
      expect(feed).not.toBe('');
    }
    // Four sides and a stroke down at the least.
    expect(motions).toBeGreaterThan(4);
  });

  it('has the lines of the profile in their places', () => {
    const program = { ...cutter.program, before: ['S1200'], after: ['G0 X0 Y0'] };
    const text = written([part('a', rectangle(300, 200))], { ...cutter, program });
    const lines = unnumbered(text);
    expect(lines[lines.indexOf('S1200') - 1]).toMatch(/^G17 G2[01] G40 /);
    expect(lines.slice(-3)).toEqual(['G0 X0 Y0', 'M2', '']);
  });

  it('refuses lines of the profile that are outside the subset, and says which', () => {
    const program = { ...cutter.program, before: ['S1200', 'T1 M6'] };
    const write = (): unknown => written([part('a', rectangle(300, 200))], { ...cutter, program });
    expect(write).toThrow(/yaml, program\.before:2: the word T1/);
  });
});

describe('lines of the profile', () => {
  const write = (before: string[], after: string[] = []): (() => unknown) => {
    const program = { ...longBay.program, before, after };
    return () => checkOwnLines({ ...longBay, program });
  };

  it.each([
    ['M2', /"M2" ends the program/],
    ['G20', /"G20" changes the unit: the program is in mm/],
    ['M3', /switches what the program switches \(M3\)/],
    ['M7', /switches what the program switches \(M7\)/],
    ['G0 X0', /moves the machine before the knife is lifted/],
  ])('are refused in words: %s', (line, words) => {
    expect(write([line])).toThrow(words);
  });

  it.each([
    ['G1 X0 Y0 F100', /otherwise than by G0/],
    ['G0 X0 Z50', /lifts the knife and moves at once/],
  ])('at the end are refused in words: %s', (line, words) => {
    expect(write([], [line])).toThrow(words);
  });

  it('may stop, wait, speak, set a speed and park the knife', () => {
    expect(
      write(['S1200', 'M0', '(our bed)', '(MSG, clamp the roll)', 'G4 P2'], ['M5', 'G0 X0 Y0']),
    ).not.toThrow();
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
