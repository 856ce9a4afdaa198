import GcodeToolpath from 'gcode-toolpath';
import { expect } from 'vitest';
import { distance } from '../../src/geometry/paths/point.ts';
import { isMotion } from '../../src/program/reading/actions.ts';
import { readProgram } from '../../src/program/reading/read.ts';
import type { RotaryAxis } from '../../src/program/reading/words.ts';

interface Vector {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

interface Motion {
  readonly motion: string;
  readonly from: Vector;
  readonly to: Vector;
  readonly centre?: Vector;
}

/** What gcode-toolpath, which knows nothing of this product, makes of a program: mm, arcs with their centres. */
function readByAnother(text: string): Motion[] {
  const moves: Motion[] = [];
  const toolpath = new GcodeToolpath({
    addLine: ({ motion }, from, to) => moves.push({ motion, from, to }),
    addArcCurve: ({ motion }, from, to, centre) => moves.push({ motion, from, to, centre }),
  });
  toolpath.loadFromStringSync(text);
  return moves;
}

/** Whether both readers have the machine go the same way; returns how many motions that are. */
export function expectSameMotions(
  text: string,
  axis: RotaryAxis | undefined,
  units: 'mm' | 'inch',
): number {
  // The other reader has no rotary axes and passes turns on the spot on as motions to nowhere.
  const isAway = ({ from, to }: { from: Vector; to: Vector }): boolean =>
    distance(from, to) > 0 || from.z !== to.z;
  const moves = readProgram(text, 'a.nc', axis).actions.filter(isMotion).filter(isAway);
  const others = readByAnother(text).filter(isAway);
  expect(others).toHaveLength(moves.length);
  // It turns inches into mm, too, by its own sums.
  const same = units === 'mm' ? 1e-9 : 1e-6;
  let worst = 0;
  for (const [i, move] of moves.entries()) {
    const other = others[i]!;
    const code =
      move.kind === 'rapid' ? 'G0' : move.kind === 'line' ? 'G1' : move.sweepDeg > 0 ? 'G3' : 'G2';
    if (other.motion !== code) expect(other.motion, `line ${move.line}`).toBe(code);
    if (move.kind === 'arc') worst = Math.max(worst, distance(other.centre!, move.centre));
    worst = Math.max(worst, distance(other.to, move.to), Math.abs(other.to.z - move.to.z));
  }
  expect(worst).toBeLessThan(same);
  return moves.length;
}
