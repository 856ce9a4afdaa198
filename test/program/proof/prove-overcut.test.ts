import { describe, expect, it } from 'vitest';
import type { Cutter } from '../../../src/knife/cutter.ts';
import type { RunRecord } from '../../../src/program/record/run-record.ts';
import { longBay, smallTable } from '../../knife/sample-parts.ts';
import { changed, goodRun, rulesFound } from '../good-run.ts';
import type { RunFiles } from '../run-folder.ts';

function leaning(cutter: Cutter, front: number, rear: number): Cutter {
  return { ...cutter, blade: { ...cutter.blade, leanFrontDeg: front, leanRearDeg: rear } };
}

/** The files of a run as if they had been written for another blade. */
function heldAgainst(files: RunFiles, cutter: Cutter): RunFiles {
  return changed(files, 'run.json', (text) =>
    JSON.stringify({ ...(JSON.parse(text) as RunRecord), cutter }),
  );
}

// 30 degrees on 8 mm of carpet reach 4.6 mm past the tip (facts 2, derived): far more than the proof allows.
describe.each([longBay, smallTable])('a program for $name', (cutter) => {
  const upright = leaning(cutter, 0, 0);

  it.each([
    [30, 0],
    [0, 30],
  ])(
    'for an upright blade is found to hurt the part with one that leans %d ahead and %d behind',
    (front, rear) => {
      const rules = rulesFound(heldAgainst(goodRun(upright), leaning(cutter, front, rear)));
      expect(rules).toContain('overcut');
    },
  );

  it('for a leaning blade is found to leave corners uncut with an upright one', () => {
    const rules = rulesFound(heldAgainst(goodRun(leaning(cutter, 30, 10)), upright));
    expect(rules).toContain('missing-cut');
    expect(rules).not.toContain('overcut');
  });

  it('for a blade that leans is right with that blade', () => {
    expect(rulesFound(goodRun(leaning(cutter, 30, 10)))).toEqual([]);
  });

  it('for a thinner carpet is found to hurt a thicker one', () => {
    const files = goodRun(leaning(cutter, 30, 0));
    const thicker = changed(files, 'run.json', (text) =>
      text.replace(/"thickness": ?8/g, '"thickness": 12'),
    );
    expect(rulesFound(thicker)).toContain('overcut');
  });
});
