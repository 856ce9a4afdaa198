import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { pathOf, segmentsOf } from '../../../src/geometry/paths/path.ts';
import { partOfSegment } from '../../../src/geometry/paths/segment.ts';
import type { Cutter } from '../../../src/knife/cutter.ts';
import { prove } from '../../../src/program/proof/prove.ts';
import { variedCutters } from '../../knife/sample-cutters.ts';
import {
  evenly,
  laidInARow,
  longBay,
  smallTable,
  somePartsArbitrary,
} from '../../knife/sample-parts.ts';
import { changed, goodRun, rulesFound } from '../good-run.ts';
import type { RunFiles } from '../run-folder.ts';
import { inFolder, runFiles } from '../run-folder.ts';
import { tries } from '../../support/thorough.ts';

/** The same curve in more segments, cut at shares of each. */
function shattered(path: Path, shares: readonly number[]): Path {
  const ends = [0, ...new Set(shares.toSorted((a, b) => a - b)), 1];
  const pieces = segmentsOf(path).flatMap((segment) =>
    ends.slice(1).map((end, i) => partOfSegment(segment, ends[i]!, end)),
  );
  return pathOf(pieces, true);
}

// The proof traces the text of the program with formulas of its own, so this is the law of knife
// and program: what they write cuts the parts, all of them, and nothing else.
describe.each(variedCutters)('what is written for $name', (cutter) => {
  it('is proven, whatever the parts', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const lay = laidInARow(parts, cutter);
        expect(inFolder(runFiles(parts, lay, cutter), prove)).toEqual([]);
      }),
      { numRuns: tries(6, 12) },
    );
  });

  it('is proven where outlines come in slivers of a thousandth and less', () => {
    fc.assert(proofOfSlivers(cutter), { numRuns: tries(4, 8) });
  });
});

/** The law for outlines that are divided at shares of each segment, some of them nearly equal. */
function proofOfSlivers(cutter: Cutter): fc.IProperty<unknown> {
  const shares = fc.array(fc.oneof(evenly(0.01, 0.99), evenly(0.5, 0.5001)), { maxLength: 8 });
  return fc.property(somePartsArbitrary, shares, (parts, at) => {
    const slivers = parts.map((part) => Object.assign({}, part, { cut: shattered(part.cut, at) }));
    const lay = laidInARow(slivers, cutter);
    expect(inFolder(runFiles(slivers, lay, cutter), prove)).toEqual([]);
  });
}

// The time at the head is that of the plan, whose slivers are corners; the program has them no more.
it.each([4, 23])('a time that reading tells a little differently is no fault: seed %i', (seed) => {
  fc.assert(proofOfSlivers(smallTable), { numRuns: 4, seed, endOnFailure: true });
});

describe('a folder whose programs are withdrawn', () => {
  /** The files as an earlier proof left them. */
  const withdrawn = (files: RunFiles): RunFiles =>
    Object.fromEntries(
      Object.entries(files).map(([name, text]) => [
        name.endsWith('.nc') ? `${name}.withdrawn` : name,
        text,
      ]),
    );
  const good = goodRun(longBay);

  it('says so in one line', () => {
    expect(rulesFound(withdrawn(good))).toEqual(['withdrawn']);
  });

  it('says once more what was wrong with them', () => {
    const broken = changed(good, 'loop.nc', (text) => text.replace(/^M3\n/m, ''));
    const rules = rulesFound(withdrawn(broken));
    expect(rules[0]).toBe('withdrawn');
    expect(rules).toContain('oscillating');
  });
});
