import type { Cutter, TrailingKnife } from '../../src/knife/cutter.ts';
import { conveyorBed, longBay, smallTable } from './sample-parts.ts';

const trailing = smallTable.knife as TrailingKnife;

function named(name: string, cutter: Cutter, more: Partial<Cutter>): Cutter {
  return { ...cutter, ...more, name };
}

/** The profiles of the product, and others of their kind that say every option otherwise. */
export const variedCutters: readonly Cutter[] = [
  longBay,
  smallTable,
  conveyorBed,
  named('long-bay in inches', longBay, {
    program: { ...longBay.program, units: 'inch', decimals: 4 },
    blade: { ...longBay.blade, leanFrontDeg: 30, leanRearDeg: 15 },
    bed: { ...longBay.bed, joinOverlap: 20 },
  }),
  named('small-table led in, in short lines', smallTable, {
    knife: { ...trailing, leadIn: 48 },
    program: { ...smallTable.program, arcs: { chordError: 0.02 }, lineNumbers: true },
    face: 'down',
    dxf: 'r2007',
  }),
  named('small-table in inches, upright blade', smallTable, {
    program: { ...smallTable.program, units: 'inch', decimals: 5 },
    blade: { ...smallTable.blade, leanFrontDeg: 0, leanRearDeg: 0 },
    bed: { ...smallTable.bed, joinOverlap: 10 },
  }),
  named('conveyor-bed without punch or oscillation', conveyorBed, {
    punch: undefined,
    notches: { cut: 'mark' },
    knife: {
      ...(conveyorBed.knife as Extract<Cutter['knife'], { kind: 'tangential' }>),
      oscillation: undefined,
    },
    program: { ...conveyorBed.program, arcs: 'exact', decimals: 4 },
  }),
];
