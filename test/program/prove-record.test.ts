import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/findings.ts';
import type { PartRecord, RunRecord } from '../../src/program/run-record.ts';
import { longBay } from '../knife/sample-parts.ts';
import { changed, goodRun, rulesFound } from './good-run.ts';
import type { RunFiles } from './run-folder.ts';

const good = goodRun(longBay);

function withRecord(change: (record: RunRecord) => unknown): RunFiles {
  return changed(good, 'run.json', (text) => JSON.stringify(change(JSON.parse(text) as RunRecord)));
}

function withPart(n: number, change: (part: PartRecord) => PartRecord): RunFiles {
  return withRecord((run) => ({
    ...run,
    parts: run.parts.map((part, i) => (i === n ? change(part) : part)),
  }));
}

function withLay(change: (lay: RunRecord['lays'][number]) => object): RunFiles {
  return withRecord((run) => ({
    ...run,
    lays: run.lays.map((lay) => ({ ...lay, ...change(lay) })),
  }));
}

const faults: readonly (readonly [name: string, files: () => RunFiles, rule: string])[] = [
  [
    'a part turned on the roll',
    () =>
      withLay(({ placements }) => ({
        placements: placements.map((p) => ({ ...p, rotation: (p.rotation + 180) % 360 })),
      })),
    'pile',
  ],
  ['a pile that leans another way', () => withPart(2, (part) => ({ ...part, pileDeg: 0 })), 'pile'],
  [
    'a part that is not laid',
    () => withLay(({ placements }) => ({ placements: placements.slice(1) })),
    'part-count',
  ],
  [
    'a part laid twice',
    () => withLay(({ placements }) => ({ placements: [...placements, placements[0]!] })),
    'part-count',
  ],
  [
    'a placement of no part',
    () => withRecord((run) => ({ ...run, parts: run.parts.slice(1) })),
    'unknown-part',
  ],
  [
    'two parts of one label',
    () => withRecord((run) => ({ ...run, parts: [...run.parts, run.parts[0]!] })),
    'part-twice',
  ],
  [
    'two lays of one material',
    () => withRecord((run) => ({ ...run, lays: [...run.lays, run.lays[0]!] })),
    'lay-twice',
  ],
  [
    'a part on the wrong material',
    () => withPart(0, (part) => ({ ...part, material: 'rubber' })),
    'material',
  ],
  [
    'an area that is not that of its contour',
    () => withPart(0, (part) => ({ ...part, cutArea: part.cutArea * 1.0002 })),
    'area',
  ],
  [
    'a contour mirrored',
    () =>
      withPart(0, (part) => ({
        ...part,
        cutContour: part.cutContour.map(([x, y, bulge]) => [-x, y, -bulge] as const).toReversed(),
      })),
    'extra-cut',
  ],
  [
    'a lay that is longer than said',
    () => withLay(({ length }) => ({ length: length - 1 })),
    'lay-length',
  ],
  [
    'a roll that is too short',
    () => withLay(({ length }) => ({ rollLength: length - 1 })),
    'lay-end',
  ],
  ['a selvedge that is wider', () => withLay(() => ({ selvedge: 50 })), 'lay-selvedge'],
  ['a start margin that is longer', () => withLay(() => ({ startMargin: 25 })), 'lay-start'],
  ['a gap that is wider', () => withLay(() => ({ gap: 41 })), 'lay-gap'],
  ['a bite that is shorter', () => withLay(() => ({ biteLength: 600 })), 'lay-bite'],
];

describe('the proof of a run record', () => {
  it.each(faults)('finds %s', (_, files, rule) => {
    expect(rulesFound(files())).toContain(rule);
  });

  it('refuses a record that is no JSON, or has a key it does not know', () => {
    expect(() => rulesFound(changed(good, 'run.json', (text) => text.slice(0, 500)))).toThrow(
      Refusal,
    );
    expect(() => rulesFound(withRecord((run) => ({ ...run, colour: 'red' })))).toThrow(
      /"colour" is not a key/,
    );
    expect(() => rulesFound(withLay(() => ({ gap: '5' })))).toThrow(
      /run\.json:1:\d+: "lays\.0\.gap"/,
    );
  });
});
