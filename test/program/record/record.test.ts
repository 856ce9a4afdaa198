import { join } from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf } from '../../../src/geometry/paths/area.ts';
import { pathLength } from '../../../src/geometry/paths/path.ts';
import { recordedContour } from '../../../src/program/record/figures.ts';
import { readRunRecord, runRecord, writeRunRecord } from '../../../src/program/record/record.ts';
import type { RunRecord } from '../../../src/program/record/run-record.ts';
import { recordedName } from '../../../src/program/record/run-record.ts';
import {
  laidInARow,
  longBay,
  part,
  point,
  rectangle,
  smallTable,
  somePartsArbitrary,
} from '../../knife/sample-parts.ts';
import type { Part } from '../../../src/handing/part.ts';
import { emptyRun, inFolder, readFile } from '../run-folder.ts';

function recordOf(parts: readonly Part[], cutter = longBay): RunRecord {
  const lay = laidInARow(parts, cutter);
  const inputs = [{ file: 'sets/demo/set.yaml', sha256: 'a'.repeat(64) }];
  return runRecord({
    ...emptyRun,
    title: 'Démo',
    inputs,
    cutter,
    parts,
    lays: [{ lay, seed: 7, thickness: 8, bites: [] }],
  });
}

describe('a run record', () => {
  it('comes back from its file as it was, and the same again gives the same bytes', () => {
    fc.assert(
      fc.property(somePartsArbitrary, fc.constantFrom(longBay, smallTable), (parts, cutter) => {
        const record = recordOf(parts, cutter);
        const text = writeRunRecord(record);
        inFolder({ 'run.json': text }, (folder) => {
          const read = readRunRecord(join(folder, 'run.json'));
          expect(read).toEqual(record);
          expect(writeRunRecord(read)).toBe(readFile(folder, 'run.json'));
        });
      }),
      { numRuns: 30 },
    );
  });

  it('says what a part measures', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const records = recordOf(parts).parts;
        expect(records).toHaveLength(parts.length);
        for (const [i, record] of records.entries()) {
          const { cut, net } = parts[i]!;
          expect(areaOf(recordedContour(record.cutContour))).toBeCloseTo(areaOf(cut), 2);
          expect(record.cutArea).toBeCloseTo(areaOf(cut), 5);
          const edges = Object.values(record.edges).reduce((a, b) => a + b);
          expect(edges).toBeCloseTo(pathLength(net), 4);
        }
      }),
      { numRuns: 30 },
    );
  });

  it('says what is known of a roll and how a part may lie, and has it back from its file', () => {
    const parts = [
      part('a', rectangle(300, 200), { turns: 'two-way', tilt: 2.5 }),
      part('b', rectangle(100, 200)),
    ];
    const lay = laidInARow(parts, longBay);
    const defect = [point(1500.1234567, 10), point(1600, 10), point(1550, 90)];
    const outline = [point(0, 0), point(3000, 0), point(2900, 2000)];
    const roll = { ...lay.roll, name: 'B2', dyeLot: '7', defects: [defect], outline };
    const lays = [{ lay: { ...lay, roll }, seed: 7, thickness: 8, bites: [] }];
    const record = runRecord({ ...emptyRun, parts, lays });
    expect(record.parts).toMatchObject([
      { turns: 'two-way', tilt: 2.5 },
      { turns: null, tilt: 0 },
    ]);
    expect(record.lays).toMatchObject([
      {
        roll: 'B2',
        dyeLot: '7',
        defects: [
          [
            [1500.123457, 10],
            [1600, 10],
            [1550, 90],
          ],
        ],
        rollOutline: [
          [0, 0],
          [3000, 0],
          [2900, 2000],
        ],
      },
    ]);
    expect(record.lays.map(recordedName)).toEqual(['loop-B2']);
    inFolder({ 'run.json': writeRunRecord(record) }, (folder) => {
      expect(readRunRecord(join(folder, 'run.json'))).toEqual(record);
    });
  });

  it('of one whole roll names no roll', () => {
    const { lays, parts } = recordOf([part('a', rectangle(300, 200))]);
    expect(lays).toMatchObject([{ roll: null, dyeLot: null, defects: [], rollOutline: null }]);
    expect(lays.map(recordedName)).toEqual(['loop']);
    expect(parts).toMatchObject([{ turns: null, tilt: 0 }]);
  });

  it('says where a roll or a bite has no end', () => {
    const record = recordOf([part('a', rectangle(300, 200))]);
    expect(record.lays[0]).toMatchObject({ rollLength: null, biteLength: 3200, seed: 7 });
  });
});
