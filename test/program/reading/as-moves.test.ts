import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { estimate } from '../../../src/knife/time/estimate.ts';
import type { Move } from '../../../src/knife/moves.ts';
import { movesOfProgram } from '../../../src/program/reading/as-moves.ts';
import { readProgram } from '../../../src/program/reading/read.ts';
import { writeProgram } from '../written.ts';
import { variedCutters } from '../../knife/sample-cutters.ts';
import {
  conveyorBed,
  knifeOver,
  laidInARow,
  longBay,
  smallTable,
  somePartsArbitrary,
} from '../../knife/sample-parts.ts';

function axisOf({ knife }: typeof longBay) {
  return knife.kind === 'tangential' ? knife.axis.letter : undefined;
}

/** The moves of lines after an opening that takes the knife up, with the line of each. */
function movesOf(cutter: typeof longBay, ...lines: string[]): { line: number; move: Move }[] {
  const text = ['G17 G21 G90 G94', 'G0 Z18', ...lines, 'M2'].join('\n');
  return movesOfProgram(readProgram(text, 'a.nc', axisOf(cutter)), cutter)
    .filter(({ line }) => line > 2)
    .map(({ line, move }) => ({ line, move }));
}

describe('a program as moves of the knife', () => {
  it('travels, turns, goes down, cuts, and comes up, each on its line', () => {
    const made = movesOf(
      longBay,
      'G0 X10 Y20',
      'G1 C90 F21600',
      'M3',
      'G4 P0.5',
      'G1 Z-0.5 F3000',
      'G1 X10 Y70 F18000',
      'G3 X0 Y80 I-10 J0 C180',
      'G0 Z18',
    );
    const to = (x: number, y: number) => expect.objectContaining({ x, y });
    expect(made).toEqual([
      { line: 3, move: { kind: 'travel', to: to(10, 20) } },
      { line: 4, move: { kind: 'turn', deg: 90 } },
      { line: 7, move: { kind: 'lower', z: -0.5 } },
      { line: 8, move: { kind: 'line', to: to(10, 70), deg: 90 } },
      { line: 9, move: { kind: 'arc', to: to(0, 80), centre: to(0, 70), sweepDeg: 90, deg: 180 } },
      { line: 10, move: { kind: 'lift' } },
    ]);
  });

  it('turns before it travels where a line asks for both with the knife up', () => {
    expect(movesOf(longBay, 'G0 X10 Y0 C45').map(({ move }) => move.kind)).toEqual([
      'turn',
      'travel',
    ]);
  });

  it('has no heading for a knife that trails', () => {
    const [, , cut] = movesOf(smallTable, 'G0 X20 Y0', 'G1 Z-0.3 F100', 'X80');
    expect(cut!.move).toMatchObject({ kind: 'line', deg: null });
  });

  it('feeds the roll, and says what else is said', () => {
    expect(movesOf(longBay, '(MSG, FEED 3200 MM: now)', '(MSG, look)', '(no more)')).toEqual([
      { line: 3, move: { kind: 'feed', length: 3200 } },
      { line: 4, move: { kind: 'note', text: 'look' } },
    ]);
    expect(movesOf(longBay, '(MSG, FEED 100 IN)')[0]!.move).toEqual({ kind: 'feed', length: 2540 });
  });

  it('punches with the word of the profile alone', () => {
    const { word } = conveyorBed.punch!;
    const other = word === 'M7' ? 'M8' : 'M7';
    expect(movesOf(conveyorBed, word, 'M9', other).map(({ move }) => move)).toEqual([
      { kind: 'punch' },
    ]);
    expect(movesOf(longBay, word)).toEqual([]);
  });
});

describe.each(variedCutters)('what is written for $name', (cutter) => {
  it('comes back as moves that take as long and go as far as those it was written from', () => {
    const header = { run: 'demo', material: 'loop', thickness: 8, face: 'the pile', lines: [] };
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const path = knifeOver(laidInARow(parts, cutter), parts, cutter);
        const text = writeProgram(path, cutter, header, 'cut');
        const made = movesOfProgram(readProgram(text, 'a.nc', axisOf(cutter)), cutter);
        const back = estimate(
          made.map(({ move }) => move),
          cutter,
        );
        expect(Math.abs(back.minutes / path.minutes - 1)).toBeLessThan(0.01);
        expect(Math.abs(back.travelLength / path.travelLength - 1)).toBeLessThan(1e-3);
        const count = (moves: readonly Move[], kind: Move['kind']): number =>
          moves.filter((move) => move.kind === kind).length;
        const moves = made.map(({ move }) => move);
        for (const kind of ['lower', 'feed', 'punch'] as const) {
          expect([kind, count(moves, kind)]).toEqual([kind, count(path.moves, kind)]);
        }
      }),
      { numRuns: 12 },
    );
  });
});
