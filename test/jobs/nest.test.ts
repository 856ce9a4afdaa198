import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { PublishedInstance } from '../../src/jobs/nest.ts';
import { densityOf, engineInstance, placementsText, readInstance } from '../../src/jobs/nest.ts';

const root = mkdtempSync(join(tmpdir(), 'nest-'));
afterAll(() => rmSync(root, { recursive: true }));

const square = {
  id: 'square',
  demand: 2,
  rotations: [0],
  outline: [
    [0, 0],
    [10, 0],
    [10, 10],
    [0, 10],
  ],
};
const sound = { name: 'two', stripWidth: 20, pieces: [square] };

function read(instance: unknown) {
  const file = join(root, 'instance.json');
  writeFileSync(file, JSON.stringify(instance, null, 1));
  return readInstance(file);
}

describe('an instance of the literature', () => {
  it('is read, its outlines turned counter-clockwise and its holes clockwise', () => {
    const clockwise = square.outline.toReversed();
    const hole = [
      [2, 2],
      [8, 2],
      [8, 8],
      [2, 8],
    ];
    const instance = read({ ...sound, pieces: [{ ...square, outline: clockwise, holes: [hole] }] });
    const [kind] = engineInstance(instance).kinds;
    expect(kind!.outline).toEqual(square.outline.flat());
    expect(kind!.holes).toEqual([hole.toReversed().flat()]);
    // Two squares of 100 less a hole of 36 each, on 20 x 16.
    expect(densityOf(instance, 16)).toBeCloseTo(128 / 320, 12);
  });

  it('is refused where it is broken off, as JSON', () => {
    const file = join(root, 'broken.json');
    writeFileSync(file, '{ "stripWidth": 20, "pieces": [ { "id": ');
    expect(() => readInstance(file)).toThrow(/broken\.json:1.*Mend the JSON there/s);
  });

  it('comes back as placements that JSON reads', () => {
    const placements = [{ kind: 0, rotation: 0, x: 1.5, y: 0 }];
    expect(JSON.parse(placementsText(read(sound), { length: 10, placements }))).toEqual({
      length: 10,
      placements: [{ id: 'square', rotation: 0, x: 1.5, y: 0 }],
    });
  });

  const bow = [
    [0, 0],
    [10, 10],
    [10, 0],
    [0, 10],
  ];
  it.each([
    ['no width', { pieces: [square] }, /"stripWidth" is missing/],
    [
      'a width of 0',
      { ...sound, stripWidth: 0 },
      /"stripWidth" is too small: more than 0 is allowed/,
    ],
    ['a width without end', { ...sound, stripWidth: 5e300 }, /"stripWidth" is too large/],
    [
      'a hole as large as the piece',
      { ...sound, pieces: [{ ...square, holes: [square.outline] }] },
      /piece square: its holes leave nothing of it/,
    ],
    [
      'half a piece',
      { ...sound, pieces: [{ ...square, demand: 1.5 }] },
      /demand.*is no whole number/,
    ],
    [
      'fewer than none',
      { ...sound, pieces: [{ ...square, demand: -1 }] },
      /demand.*is too small: at least 0/,
    ],
    [
      'no turn',
      { ...sound, pieces: [{ ...square, rotations: [] }] },
      /rotations.*is too short: at least 1/,
    ],
    [
      'two corners',
      { ...sound, pieces: [{ ...square, outline: bow.slice(2) }] },
      /outline.*is too short: at least 3/,
    ],
    ['a word for a number', { ...sound, stripWidth: 'wide' }, /"stripWidth" is no number/],
    [
      'an outline that crosses itself',
      { ...sound, pieces: [{ ...square, outline: bow }] },
      /piece square: its outline crosses itself at \(5, 5\) of the piece’s own frame/,
    ],
    [
      'no area',
      {
        ...sound,
        pieces: [
          {
            ...square,
            outline: [
              [0, 0],
              [5, 0],
              [10, 0],
            ],
          },
        ],
      },
      /piece square.*(no area|crosses or touches)/,
    ],
    [
      'a hole that lies outside',
      {
        ...sound,
        pieces: [
          {
            ...square,
            holes: [
              [
                [20, 0],
                [22, 0],
                [22, 2],
              ],
            ],
          },
        ],
      },
      /piece square: a hole lies outside its outline at/,
    ],
    [
      'corners so far away that places have no digits left',
      {
        ...sound,
        pieces: [{ ...square, outline: square.outline.map(([x, y]) => [x! + 1e12, y]) }],
      },
      /piece square: lies so far from its origin/,
    ],
    [
      'more pieces than can be laid',
      { ...sound, pieces: [{ ...square, demand: 1e9 }] },
      /1000000000 pieces are wanted/,
    ],
    ['one id twice', { ...sound, pieces: [square, square] }, /two pieces have the id square/],
    [
      'a piece too wide',
      { ...sound, stripWidth: 9 },
      /piece square.*10.000 across the strip.*9 wide/,
    ],
  ])('with %s is refused, with the place', (_, instance, words) => {
    expect(() => read(instance)).toThrow(words);
  });

  it('may have corners that differ in their last digits alone: they are one', () => {
    const shirts = JSON.parse(
      readFileSync(join(import.meta.dirname, '../data/instances/shirts.json'), 'utf8'),
    ) as PublishedInstance;
    // Every corner twice, a little apart, and so that the side between them runs backwards.
    const pieces = shirts.pieces.map((piece) => ({
      ...piece,
      outline: piece.outline.flatMap(([x, y], i) => {
        const [nextX, nextY] = piece.outline[(i + 1) % piece.outline.length]!;
        const way = 1e-13 / Math.hypot(nextX - x, nextY - y);
        return [
          [x, y],
          [x - (nextX - x) * way, y - (nextY - y) * way],
        ];
      }),
    }));
    const corners = pieces.reduce((sum, { outline }) => sum + outline.length, 0);
    const written = new Set(pieces.flatMap(({ outline }, i) => outline.map((at) => `${i}: ${at}`)));
    expect(written.size).toBe(corners);
    expect(read({ ...shirts, pieces })).toEqual(shirts);
  });

  it('whose corners are all one bounds no area', () => {
    const outline = [
      [0, 0],
      [1e-13, 0],
      [0, 1e-13],
    ];
    expect(() => read({ ...sound, pieces: [{ ...square, outline }] })).toThrow(
      /piece square.*no area/,
    );
  });

  it('that is no JSON, or not there, is refused', () => {
    const file = join(root, 'broken.json');
    writeFileSync(file, '{"stripWidth": 20, ');
    expect(() => readInstance(file)).toThrow(/broken.json:1/);
    expect(() => readInstance(join(root, 'none.json'))).toThrow('there is no instance here');
  });
});
