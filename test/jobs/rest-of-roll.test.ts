import { describe, expect, it } from 'vitest';
import type { LayRecord } from '../../src/program/record/run-record.ts';
import { restOfRoll } from '../../src/jobs/rests.ts';

const lay: Partial<LayRecord> = {
  material: 'loop',
  roll: 'A7',
  dyeLot: 'L-3',
  rollWidth: 2000,
  selvedge: 20,
  startMargin: 15,
  rollLength: 10_000,
  rollOutline: null,
  length: 7500,
  defects: [
    [
      [1000, 0],
      [1100, 0],
      [1100, 90],
    ],
    [
      [7400, 10],
      [7600, 10],
      [7600, 50],
    ],
    [
      [9000, 100],
      [9200, 100],
      [9200, 300],
    ],
  ],
};

const rest = (change: Partial<LayRecord> = {}) => restOfRoll({ ...lay, ...change } as LayRecord);

describe('what a lay leaves on its roll', () => {
  it('is what lies behind its last part, with the defects that are there', () => {
    expect(rest()).toEqual({
      name: 'A7',
      dyeLot: 'L-3',
      width: 2000,
      selvedge: 20,
      startMargin: 15,
      length: 2500,
      defects: [
        [
          { x: -100, y: 10 },
          { x: 100, y: 10 },
          { x: 100, y: 50 },
        ],
        [
          { x: 1500, y: 100 },
          { x: 1700, y: 100 },
          { x: 1700, y: 300 },
        ],
      ],
    });
  });

  it('has no name and no dye lot where the roll has none, and no end where that was not said', () => {
    expect(rest({ roll: null, dyeLot: null, rollLength: null, defects: [] })).toEqual({
      width: 2000,
      selvedge: 20,
      startMargin: 15,
      length: Infinity,
      defects: [],
    });
  });

  it.each<[string, Partial<LayRecord>]>([
    ['no more is left than a start margin', { length: 9985 }],
    ['the lay took all', { length: 10_000 }],
  ])('is nothing where %s', (_, change) => {
    expect(rest(change)).toBeNull();
  });

  // By hand: a remnant whose far edge falls from 2000 to 1800 mm over 10 m, cut off square.
  it('has the outline from the cut on where the roll has one', () => {
    const rollOutline: LayRecord['rollOutline'] = [
      [0, 0],
      [10_000, 0],
      [10_000, 1800],
      [0, 2000],
    ];
    const left = rest({ rollOutline, length: 5000 });
    expect(left).toMatchObject({ length: 5000 });
    expect(left!.outline).toEqual([
      { x: 0, y: 0 },
      { x: 5000, y: 0 },
      { x: 5000, y: 1800 },
      { x: 0, y: 1900 },
    ]);
  });
});
