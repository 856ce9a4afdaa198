import { join } from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf } from '../../src/geometry/area.ts';
import { pathLength } from '../../src/geometry/path.ts';
import { contourPath } from '../../src/program/expected.ts';
import { readRunRecord, runRecord, writeRunRecord } from '../../src/program/record.ts';
import type { RunRecord } from '../../src/program/run-record.ts';
import {
  laidInARow,
  longBay,
  part,
  rectangle,
  smallTable,
  somePartsArbitrary,
} from '../knife/sample-parts.ts';
import type { Part } from '../../src/handing/part.ts';
import { inFolder, readFile } from './run-folder.ts';

function recordOf(parts: readonly Part[], cutter = longBay): RunRecord {
  const lay = laidInARow(parts, cutter);
  const inputs = [{ file: 'sets/demo/set.yaml', sha256: 'a'.repeat(64) }];
  return runRecord({ run: 'demo', title: 'Démo', inputs, cutter, parts, lays: [{ lay, seed: 7 }] });
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
        for (const [i, record] of recordOf(parts).parts.entries()) {
          const { cut, net } = parts[i]!;
          expect(areaOf(contourPath(record.cutContour))).toBeCloseTo(areaOf(cut), 2);
          expect(record.cutArea).toBeCloseTo(areaOf(cut), 5);
          const edges = Object.values(record.edges).reduce((a, b) => a + b);
          expect(edges).toBeCloseTo(pathLength(net), 4);
        }
      }),
      { numRuns: 30 },
    );
  });

  it('says where a roll or a bite has no end', () => {
    const record = recordOf([part('a', rectangle(300, 200))]);
    expect(record.lays[0]).toMatchObject({ rollLength: null, biteLength: 3200, seed: 7 });
  });
});
