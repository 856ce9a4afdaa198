import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf, signedArea } from '../../../src/geometry/paths/area.ts';
import { boxOfPath, pathLength } from '../../../src/geometry/paths/path.ts';
import { Refusal } from '../../../src/base/findings.ts';
import type { Drawing, Entity } from '../../../src/drawing/drawing.ts';
import { readDrawingText } from '../read-text.ts';
import type { DxfParts, Tag } from '../dxf.ts';
import { block, dxf, inMm, insert, line, lwpolyline, polyline, onLayer } from '../dxf.ts';

const read = (parts: DxfParts): Drawing =>
  readDrawingText(dxf({ header: inMm, ...parts }), 'case.dxf');

const bump: [number, number, number][] = [
  [0, 0, 0],
  [100, 0, 0.5],
  [100, 60, 0],
  [0, 60, 0],
];

function boxesOf(entities: readonly Entity[]): number[][] {
  return entities
    .flatMap((entity) => (entity.kind === 'path' ? [Object.values(boxOfPath(entity.path))] : []))
    .map((box) => box.map((side) => Math.round(side * 1e6) / 1e6));
}

describe('inserts', () => {
  it('mirrored by a negative scale keep areas, orientation and arcs that bulge outwards', () => {
    const { entities, blocks } = read({
      blocks: [block('TUB', [lwpolyline(bump, true)])],
      entities: [insert('TUB', 0, 0, [[41, -1]])],
    });
    const [mirrored] = entities;
    const [drawn] = blocks[0]!.entities;
    if (mirrored?.kind !== 'path' || drawn?.kind !== 'path') throw new Error('no paths');
    expect(signedArea(mirrored.path)).toBeCloseTo(signedArea(drawn.path), 9);
    // Sagitta: bulge times half the chord, 0.5 x 30 [S].
    expect(boxesOf([drawn, mirrored])).toEqual([
      [0, 0, 115, 60],
      [-115, 0, 0, 60],
    ]);
  });

  it('turn and scale about the base point', () => {
    const { entities } = read({
      blocks: [block('TUB', [line(10, 10, 30, 10)], [10, 10])],
      entities: [
        insert('TUB', 100, 200, [
          [41, 2],
          [42, 2],
          [50, 90],
        ]),
      ],
    });
    expect(boxesOf(entities)).toEqual([[100, 200, 100, 240]]);
  });

  it('in rows and columns are the same as single ones', () => {
    const turn = fc.constantFrom(0, 30, 90, 200);
    const counts = fc.integer({ min: 1, max: 3 });
    fc.assert(
      fc.property(
        turn,
        turn,
        counts,
        counts,
        fc.constantFrom(1, -1, 2),
        (inner, outer, columns, rows, scale) => {
          const sized: Tag[] = [
            [41, scale],
            [42, Math.abs(scale)],
            [50, inner],
          ];
          const array = insert('TUB', 7, 8, [
            ...sized,
            [70, columns],
            [71, rows],
            [44, 300],
            [45, 400],
          ]);
          const radians = (inner * Math.PI) / 180;
          const singles = Array.from({ length: columns * rows }, (_, i) => {
            const across = 300 * (i % columns);
            const up = 400 * Math.floor(i / columns);
            const x = 7 + across * Math.cos(radians) - up * Math.sin(radians);
            const y = 8 + across * Math.sin(radians) + up * Math.cos(radians);
            return insert('TUB', x, y, sized);
          });
          const both = [[array], singles].map((inside) =>
            read({
              blocks: [
                block('TUB', [lwpolyline(bump, true)], [3, 4]),
                block('ROW', inside, [5, 6]),
              ],
              entities: [
                insert('ROW', 1, 2, [
                  [41, -2],
                  [42, 2],
                  [50, outer],
                ]),
              ],
            }),
          );
          expect(boxesOf(both[0]!.entities)).toEqual(boxesOf(both[1]!.entities));
        },
      ),
    );
  });

  it('carry attributes where the drawing has them, unmirrored', () => {
    const attribute: Tag[] = [
      [0, 'ATTRIB'],
      [8, 'NOTE'],
      [10, 5],
      [20, 6],
      [40, 3],
      [1, 'TUB 1'],
      [2, 'NAME'],
      [0, 'SEQEND'],
    ];
    const { entities } = read({
      blocks: [block('TUB', [line(0, 0, 1, 0)])],
      entities: [insert('TUB', 100, 0, [[66, 1], [41, -1], ...attribute])],
    });
    expect(entities[1]).toMatchObject({ kind: 'text', text: 'TUB 1', at: { x: 5, y: 6 }, deg: 0 });
  });

  it('say by the tag of an attribute how many and of what, and nothing by its definition', () => {
    const attribute = (tag: string, value: string): Tag[] => [
      [0, 'ATTRIB'],
      [8, 'NOTE'],
      [10, 5],
      [20, 6],
      [40, 3],
      [1, value],
      [2, tag],
    ];
    const definition = (flags: number): Tag[] => [
      [0, 'ATTDEF'],
      [8, 'NOTE'],
      [10, 5],
      [20, 6],
      [40, 3],
      [1, 'default'],
      [2, 'QTY'],
      [70, flags],
    ];
    const { entities, findings } = read({
      blocks: [block('TUB', [line(0, 0, 1, 0), definition(0), definition(2)])],
      entities: [
        insert('TUB', 100, 0, [
          [66, 1],
          ...attribute('QTY', '2'),
          ...attribute('MATERIAL', 'felt'),
          ...attribute('COLOUR', 'red'),
          [0, 'SEQEND'],
        ]),
      ],
    });
    const texts = entities.flatMap((one) => (one.kind === 'text' ? [one.text] : []));
    expect(texts.sort()).toEqual(['Material: felt', 'Quantity: 2', 'default', 'red']);
    expect(findings).toEqual([]);
  });

  it('of unequal scale keep straight lines and make arcs of ellipses', () => {
    const { entities, findings } = read({
      blocks: [block('TUB', [line(0, 0, 10, 10), lwpolyline(bump, true)])],
      entities: [
        insert('TUB', 0, 0, [
          [41, 2],
          [42, 1],
        ]),
      ],
    });
    expect(boxesOf(entities)[0]).toEqual([0, 0, 20, 10]);
    // Areas grow with both scales; the arcs are within 0.02 mm of the ellipse, all along it.
    const area = areaOf({ closed: true, vertices: bump.map(([x, y, bulge]) => ({ x, y, bulge })) });
    const stretched = entities[1]!;
    expect(stretched.kind).toBe('path');
    if (stretched.kind === 'path') {
      expect(Math.abs(areaOf(stretched.path) - 2 * area)).toBeLessThan(
        0.02 * pathLength(stretched.path),
      );
    }
    expect(findings).toMatchObject([{ severity: 'note', rule: 'curve-fitted' }]);
    expect(findings[0]!.message).toMatch(/unequal scales.* layer OUTLINE/);
  });

  it('of a block that is missing, elsewhere or of no size are errors', () => {
    const external = block('FAR', []).map((tag): Tag => (tag[0] === 70 ? [70, 4] : tag));
    const { findings } = read({
      blocks: [external, block('TUB', [line(0, 0, 1, 1)])],
      entities: [insert('NONE', 0, 0), insert('FAR', 0, 0), insert('TUB', 0, 0, [[41, 0]])],
    });
    expect(findings.map(({ severity }) => severity)).toEqual(['error', 'error', 'error']);
    expect(findings.map(({ message }) => message).join()).toMatch(
      /missing block NONE.*external drawing FAR.*TUB with a scale of 0/,
    );
  });

  it('of a block in itself are refused with the way round', () => {
    const parts = {
      blocks: [block('A', [insert('b', 0, 0)]), block('B', [insert('A', 0, 0)])],
      entities: [],
    };
    expect(() => read(parts)).toThrow(Refusal);
    expect(() => read(parts)).toThrow('A > B > A');
  });

  it('that multiply beyond reason are refused, whether by arrays, nesting or long outlines', () => {
    const nested = Array.from({ length: 20 }, (_, i) =>
      block(`B${i + 1}`, [insert(`B${i}`, 0, 0), insert(`B${i}`, 5, 0)]),
    );
    const start = block('B0', [line(0, 0, 1, 1)]);
    const huge: Tag[] = [
      [70, 30_000],
      [71, 30_000],
      [44, 1],
      [45, 1],
    ];
    const long = block('LONG', [
      lwpolyline(
        Array.from({ length: 1000 }, (_, i) => [i, i % 7, 0]),
        false,
      ),
    ]);
    const many = [
      { blocks: [start], entities: [insert('B0', 0, 0, huge)] },
      { blocks: [start, ...nested], entities: [insert('B20', 0, 0)] },
      {
        blocks: [long],
        entities: [
          insert('LONG', 0, 0, [
            [70, 100],
            [71, 100],
          ]),
        ],
      },
    ];
    for (const parts of many)
      expect(() => read(parts)).toThrow(/more than 200000 entities or 2000000/);
    expect(
      read({ blocks: [block('EMPTY', [])], entities: [insert('EMPTY', 0, 0, huge)] }).entities,
    ).toEqual([]);
  });

  it('nested without end are refused before the stack gives out', () => {
    const chain = Array.from({ length: 5000 }, (_, i) =>
      block(`B${i}`, [insert(`B${i + 1}`, 0, 0)]),
    );
    expect(() => read({ blocks: chain, entities: [] })).toThrow(/nested more than 100 deep/);
  });

  it('that throw a drawing beyond all tables are refused', () => {
    const parts = {
      blocks: [block('A', [line(0, 0, 1, 1)])],
      entities: [
        insert('A', 0, 0, [
          [41, 1e300],
          [42, 1e300],
        ]),
      ],
    };
    expect(() => read(parts)).toThrow(/e\+300 mm from/);
  });
});

describe('blocks', () => {
  it('are those a person made, about their base point, nested ones resolved', () => {
    const { blocks } = read({
      blocks: [
        block('*U1', [line(0, 0, 5, 0)]),
        block('$MODEL_SPACE', []),
        block('TUB', [line(10, 0, 20, 0), insert('*U1', 10, 3)], [10, 0]),
      ],
      entities: [],
    });
    expect(blocks.map(({ name }) => name)).toEqual(['TUB']);
    expect(boxesOf(blocks[0]!.entities)).toEqual([
      [0, 0, 10, 0],
      [0, 3, 5, 3],
    ]);
  });

  it('that nobody places and that cannot be read in full are left out with a warning', () => {
    const blocks = [
      block('LOGO', [
        line(0, 0, 1, 1),
        [
          [0, 'SOLID'],
          [8, 'X'],
        ],
      ]),
    ];
    const unused = read({ blocks, entities: [line(0, 0, 1, 1)] });
    expect(unused.blocks).toEqual([]);
    expect(unused.findings).toMatchObject([{ severity: 'warning', rule: 'block-left-out' }]);
    const used = read({ blocks, entities: [insert('LOGO', 0, 0)] });
    expect(used.findings).toMatchObject([{ severity: 'error', rule: 'not-read' }]);
    expect(used.findings[0]!.message).toContain('In block LOGO');
  });

  it('pass the insert’s layer on to what they have on layer 0', () => {
    const { entities, blocks } = read({
      blocks: [block('TUB', [line(0, 0, 1, 0, '0'), line(0, 0, 1, 0, 'FOLD')])],
      entities: [insert('TUB', 0, 0)],
    });
    expect(blocks[0]!.entities.map(({ layer }) => layer)).toEqual(['0', 'FOLD']);
    expect(entities.map(({ layer }) => layer)).toEqual(['OUTLINE', 'FOLD']);
  });
});

const layer = (name: string, flags: number, colour: number): Tag[] => [
  [0, 'LAYER'],
  [2, name],
  [70, flags],
  [62, colour],
];

describe('what is hidden', () => {
  const tables = [layer('OLD', 1, 7), layer('OFF', 0, -7), layer('OUTLINE', 0, 7)];

  it.each<[string, Tag[], RegExp]>([
    ['on a frozen layer', line(0, 0, 1, 1, 'old'), /layer old .*frozen/],
    ['on a layer that is off', line(0, 0, 1, 1, 'OFF'), /layer OFF .*is off/],
    ['in paper space', line(0, 0, 1, 1).concat([[67, 1]]), /layer OUTLINE .*paper space/],
    ['set invisible', line(0, 0, 1, 1).concat([[60, 1]]), /layer OUTLINE .*invisible/],
    [
      'a spline on a frozen layer',
      [
        [0, 'SPLINE'],
        [8, 'OLD'],
      ],
      /layer OLD .*frozen/,
    ],
  ])('%s is left out with a warning', (_, entity, words) => {
    const { entities, findings } = read({ tables, entities: [entity] });
    expect(entities).toEqual([]);
    expect(findings).toMatchObject([{ severity: 'warning', rule: 'hidden' }]);
    expect(findings[0]!.message).toMatch(words);
  });

  it('in a block goes by the insert where it is on layer 0', () => {
    const blocks = [
      block('TUB', [line(0, 0, 1, 0, '0'), line(0, 0, 2, 0, 'FOLD'), line(0, 0, 3, 0, 'OFF')]),
    ];
    const on = (name: string): Drawing =>
      read({
        tables,
        blocks,
        entities: [onLayer(insert('TUB', 0, 0), name)],
      });
    expect(on('OUTLINE').entities.map(({ layer: name }) => name)).toEqual(['OUTLINE', 'FOLD']);
    expect(on('OFF').entities.map(({ layer: name }) => name)).toEqual(['FOLD']);
    expect(on('OLD').entities).toEqual([]);
    for (const name of ['OFF', 'OLD']) {
      expect(on(name).findings.some(({ message }) => message.includes(`layer ${name} `))).toBe(
        true,
      );
    }
  });

  it('counts what each layer hides', () => {
    const entities = [
      line(0, 0, 1, 1, 'OLD'),
      polyline(
        [
          [0, 0, 0],
          [1, 1, 0],
        ],
        0,
      ),
      line(0, 0, 1, 1, 'OLD'),
    ];
    expect(read({ tables, entities }).findings.map(({ message }) => message)).toEqual([
      expect.stringMatching(/^2 entities on layer OLD/),
    ]);
  });
});
