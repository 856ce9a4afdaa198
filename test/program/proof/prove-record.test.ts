import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { proveRecord } from '../../../src/program/proof/prove-record.ts';
import type { PartRecord, RunRecord } from '../../../src/program/record/run-record.ts';
import { longBay } from '../../knife/sample-parts.ts';
import { changed, goodRun, rulesFound } from '../good-run.ts';
import type { RunFiles } from '../run-folder.ts';

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
  [
    'a defect under a part',
    () =>
      withLay(() => ({
        defects: [
          [
            [40, 60],
            [50, 60],
            [40, 70],
          ],
        ],
      })),
    'lay-defect',
  ],
  [
    'a remnant with a corner off',
    () =>
      withLay(({ length }) => ({
        rollOutline: [
          [0, 0],
          [length, 0],
          [length, 2000],
          [0, 500],
        ],
      })),
    'lay-remnant',
  ],
  [
    'a part that may tilt less than it does',
    () =>
      withLay(({ placements }) => ({
        placements: placements.map((p) => ({ ...p, rotation: p.rotation + 0.5 })),
      })),
    'pile',
  ],
];

/** The rules about where parts lie and how they are turned. */
const layRules = new Set(['part-count', 'unknown-part', 'pile', 'set-on-two-rolls', 'lay-twice']);

/** What is found of where the parts of a record lie. */
function rulesOf(change: (record: RunRecord) => RunRecord): string[] {
  const record = JSON.parse(good['run.json']!) as RunRecord;
  return proveRecord(change(record), 'run.json')
    .map(({ rule }) => rule)
    .filter((rule) => layRules.has(rule));
}

/** The lay of the record in two: what lies on roll a, and the rest, on roll b. */
function onTwoRolls(record: RunRecord, onA: readonly string[]): RunRecord {
  const [lay] = record.lays;
  const parts = (isOnA: boolean) =>
    lay!.placements.filter(({ label }) => onA.includes(label) === isOnA);
  const lays = [
    { ...lay!, roll: 'a', placements: parts(true) },
    { ...lay!, roll: 'b', placements: parts(false) },
  ];
  return { ...record, lays };
}

describe('a set', () => {
  const labels = ['mat.1.A1', 'pad.1.A1', 'strip.1.A1', 'flap.1.A1'];
  const ofSet = (of: Partial<PartRecord>, n: number) => (record: RunRecord) => ({
    ...record,
    parts: record.parts.map((part) => (part.label === labels[n] ? { ...part, ...of } : part)),
  });

  it('is found where it lies on two rolls', () => {
    for (const label of labels) {
      expect(rulesOf((record) => onTwoRolls(record, [label]))).toEqual(['set-on-two-rolls']);
    }
    const finding = proveRecord(
      onTwoRolls(JSON.parse(good['run.json']!) as RunRecord, ['pad.1.A1']),
      'run.json',
    ).find(({ rule }) => rule === 'set-on-two-rolls');
    expect(finding!.message).toContain('set 1 of order A1, loop lies on the rolls a and b');
  });

  it('may lie on one roll, and another on the other', () => {
    const onB = (record: RunRecord) => onTwoRolls(record, labels.slice(1));
    expect(rulesOf((record) => onB(ofSet({ set: 2 }, 0)(record)))).toEqual([]);
    expect(rulesOf((record) => onB(ofSet({ order: 'A2' }, 0)(record)))).toEqual([]);
    expect(rulesOf((record) => onB(ofSet({ set: 2 }, 1)(record)))).toEqual(['set-on-two-rolls']);
  });

  it('may lie on rolls of two materials', () => {
    const rubber = ofSet({ material: 'rubber' }, 1);
    const onRubber = (record: RunRecord): RunRecord => {
      const split = onTwoRolls(rubber(record), ['pad.1.A1']);
      return { ...split, lays: [{ ...split.lays[0]!, material: 'rubber' }, split.lays[1]!] };
    };
    expect(rulesOf(onRubber)).toEqual([]);
  });

  it('two lays are told apart by their rolls', () => {
    const alike = (record: RunRecord): RunRecord => {
      const split = onTwoRolls(record, labels);
      return { ...split, lays: split.lays.map((lay) => ({ ...lay, roll: 'a' })) };
    };
    expect(rulesOf(alike)).toEqual(['lay-twice']);
  });
});

describe('a part that is turned', () => {
  // The strip's pile is at 90 degrees: turned by 270 it lies along the roll.
  it.each<[string, Partial<PartRecord>, number, string[]]>([
    ['as it must be', {}, 270, []],
    ['aside', {}, 270.001, ['pile']],
    ['aside as far as it may', { tilt: 2 }, 272, []],
    ['aside as far as it may the other way', { tilt: 2 }, 268, []],
    ['aside further than it may', { tilt: 2 }, 272.001, ['pile']],
    ['aside further than it may the other way', { tilt: 2 }, 267.999, ['pile']],
    ['half round', { tilt: 2 }, 90, ['pile']],
    ['half round where it may', { turns: 'two-way' }, 90, []],
    ['half round and aside where it may', { turns: 'two-way', tilt: 2 }, 91, []],
    ['a quarter round where it may', { turns: 'any' }, 0, []],
    ['a quarter round where it may be half', { turns: 'two-way' }, 0, ['pile']],
  ])('%s', (_, lie, rotation, rules) => {
    const label = 'strip.1.A1';
    const found = rulesOf((record) => ({
      ...record,
      parts: record.parts.map((part) => (part.label === label ? { ...part, ...lie } : part)),
      lays: record.lays.map((lay) => ({
        ...lay,
        placements: lay.placements.map((one) => (one.label === label ? { ...one, rotation } : one)),
      })),
    }));
    expect(found).toEqual(rules);
  });

  it('is held to its own turns where its material leaves it free', () => {
    const free = (record: RunRecord): RunRecord => ({
      ...record,
      parts: record.parts.map((part) => ({ ...part, turns: 'one-way', pileDeg: 0 })),
      lays: record.lays.map((lay) => ({ ...lay, turns: 'any' })),
    });
    expect(rulesOf(free)).toEqual(['pile']);
  });
});

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
