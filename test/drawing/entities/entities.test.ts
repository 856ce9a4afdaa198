import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../../src/drawing/drawing.ts';
import { readDrawingText } from '../read-text.ts';
import { areaOf, signedArea } from '../../../src/geometry/paths/area.ts';
import { boxOfPath, pathLength, segmentsOf } from '../../../src/geometry/paths/path.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { arcOf } from '../../../src/geometry/paths/segment.ts';
import type { Tag } from '../dxf.ts';
import { arc, dxf, fromBelow, inMm, line, lwpolyline, polyline } from '../dxf.ts';

const read = (...entities: Tag[][]): Drawing =>
  readDrawingText(dxf({ header: inMm, entities }), 'case.dxf');

function pathIn({ entities }: Drawing): Path {
  const [entity] = entities;
  if (entities.length !== 1 || entity?.kind !== 'path') throw new Error('not one path');
  return entity.path;
}

describe('bulges', () => {
  // Radius, length and circular segment over a chord of 100 [S: DXF reference, group 42; figures D].
  it.each([
    { bulge: 0.57735, deg: 120, radius: 57.735, length: 120.92, area: 2047.28 },
    { bulge: 1, deg: 180, radius: 50, length: 157.0796, area: 3926.991 },
    { bulge: 0.41421356, deg: 90, radius: 70.7107, length: 111.0721, area: 1426.991 },
  ])('$bulge over a chord of 100 sweep $deg degrees', ({ bulge, deg, radius, length, area }) => {
    for (const write of [
      lwpolyline(
        [
          [0, 0, bulge],
          [100, 0, 0],
        ],
        true,
      ),
      polyline(
        [
          [0, 0, bulge],
          [100, 0, 0],
        ],
        1,
      ),
    ]) {
      const path = pathIn(read(write));
      const circle = arcOf(segmentsOf(path)[0]!);
      expect((circle.sweep * 180) / Math.PI).toBeCloseTo(deg, 3);
      expect(circle.radius).toBeCloseTo(radius, 3);
      expect(pathLength(path) - 100).toBeCloseTo(length, 3);
      expect(areaOf(path)).toBeCloseTo(area, 2);
    }
  });

  it('beyond a half circle are read as two arcs of the same circle', () => {
    // Bulge tan(270 / 4 degrees): three quarters of a circle of radius 50, its chord 50 sqrt 2 [D].
    const bulge = Math.tan((270 / 4) * (Math.PI / 180));
    const path = pathIn(
      read(
        lwpolyline(
          [
            [0, 0, bulge],
            [50 * Math.SQRT2, 0, 0],
          ],
          true,
        ),
      ),
    );
    expect(path.vertices.length).toBe(3);
    expect(areaOf(path)).toBeCloseTo(0.75 * Math.PI * 2500 + 1250, 6);
  });
});

describe('arcs and circles', () => {
  it('run counter-clockwise from the start angle to the end angle', () => {
    const path = pathIn(read(arc([10, 5], 3, 0, 90)));
    expect(path).toMatchObject({
      closed: false,
      vertices: [
        { x: 13, y: 5 },
        { x: 10, y: 8 },
      ],
    });
    expect(arcOf(segmentsOf(path)[0]!).centre).toMatchObject({
      x: expect.closeTo(10, 9),
      y: expect.closeTo(5, 9),
    });
  });

  it('may pass over 0 degrees', () => {
    expect(boxOfPath(pathIn(read(arc([0, 0], 10, 350, 10)))).maxX).toBeCloseTo(10, 9);
  });

  it.each([
    [0, 0],
    [30, 390],
    [90, 90],
  ])('from %d to %d degrees are a full circle', (from, to) => {
    const path = pathIn(read(arc([1, 2], 10, from, to)));
    expect(path.closed).toBe(true);
    expect(signedArea(path)).toBeCloseTo(Math.PI * 100, 6);
  });

  it('of a CIRCLE are two half circles, counter-clockwise', () => {
    const path = pathIn(
      read([
        [0, 'CIRCLE'],
        [8, 'HOLE'],
        [10, 1],
        [20, 2],
        [40, 10],
      ]),
    );
    expect(path.vertices.map(({ bulge }) => bulge)).toEqual([1, 1]);
    expect(signedArea(path)).toBeCloseTo(Math.PI * 100, 9);
  });
});

describe('an extrusion of (0, 0, -1)', () => {
  it('looks at an ARC from below', () => {
    // ARC centre (10, 5) r 3, 0 to 90 degrees becomes centre (-10, 5), 90 to 180 degrees [S: DXF reference].
    const path = pathIn(read(arc([10, 5], 3, 0, 90, fromBelow)));
    const { centre, radius, sweep } = arcOf(segmentsOf(path)[0]!);
    expect([centre.x, centre.y, radius]).toEqual([
      expect.closeTo(-10, 9),
      expect.closeTo(5, 9),
      expect.closeTo(3, 9),
    ]);
    expect(Math.abs(sweep)).toBeCloseTo(Math.PI / 2, 9);
    expect(boxOfPath(path)).toEqual({ minX: -13, minY: 5, maxX: expect.closeTo(-10, 9), maxY: 8 });
  });

  it('turns the bulges of polylines and keeps closed ones counter-clockwise', () => {
    const vertices: [number, number, number][] = [
      [0, 0, 0.5],
      [100, 0, 0],
      [100, 60, -0.2],
    ];
    const seen = pathIn(read(lwpolyline(vertices, true)));
    for (const below of [lwpolyline(vertices, true, fromBelow), polyline(vertices, 1, fromBelow)]) {
      const path = pathIn(read(below));
      expect(signedArea(path)).toBeCloseTo(signedArea(seen), 9);
      expect(boxOfPath(path).minX).toBeCloseTo(-boxOfPath(seen).maxX, 9);
    }
  });

  it('means nothing to LINE and POINT, which are stored in the world’s frame', () => {
    const point: Tag[] = [[0, 'POINT'], [8, 'MARK'], [10, 7], [20, 8], ...fromBelow];
    const { entities } = read(line(1, 2, 3, 4).concat(fromBelow), point);
    expect(entities).toMatchObject([
      {
        path: {
          vertices: [
            { x: 1, y: 2 },
            { x: 3, y: 4 },
          ],
        },
      },
      { kind: 'point', at: { x: 7, y: 8 } },
    ]);
  });

  it('never mirrors a text', () => {
    const text: Tag[] = [
      [0, 'TEXT'],
      [8, 'NOTE'],
      [10, 7],
      [20, 8],
      [40, 5],
      [1, 'TUB'],
      [50, 30],
      ...fromBelow,
    ];
    expect(read(text).entities).toMatchObject([{ text: 'TUB', at: { x: -7, y: 8 }, deg: 330 }]);
  });
});

describe('polylines', () => {
  it('that end where they began are closed, without the repeated vertex', () => {
    const round: [number, number, number][] = [
      [0, 0, 0],
      [10, 0, 0],
      [10, 10, 0.3],
      [0, 0, 0],
    ];
    for (const flags of [0, 1]) {
      const drawing = read(polyline(round, flags));
      expect(pathIn(drawing)).toMatchObject({ closed: true, vertices: { length: 3 } });
      expect(drawing.findings).toEqual([]);
    }
  });

  it('lose segments of no length, with a note that counts them', () => {
    const drawing = read(
      polyline(
        [
          [0, 0, 0],
          [10, 0, 0],
          [10, 0, 0],
          [10, 0, 0],
          [10, 10, 0],
        ],
        0,
      ),
      line(5, 5, 5, 5),
    );
    expect(pathIn(drawing).vertices.length).toBe(3);
    expect(drawing.findings).toMatchObject([
      { severity: 'note', rule: 'zero-length', message: expect.stringContaining('3 segments') },
    ]);
  });

  it('smoothed by the drawing program leave out the frame that steers the curve', () => {
    const steered = polyline(
      [
        [0, 0, 0],
        [10, 0, 0],
        [20, 5, 0],
      ],
      4,
    );
    // The second vertex gets flag 16: a point of the spline's frame.
    const at = steered.findIndex(([code, value]) => code === 10 && value === 10);
    steered.splice(at, 0, [70, 16]);
    expect(pathIn(read(steered)).vertices.map(({ x }) => x)).toEqual([0, 20]);
  });
});

describe('texts', () => {
  it('of MTEXT are plain and in one piece', () => {
    const text: Tag[] = [
      [0, 'MTEXT'],
      [8, 'NOTE'],
      [10, 1],
      [20, 2],
      [40, 5],
      [50, 90],
      [3, '{\\fArial|b1;Piece \\H2x;Name}: '],
      [1, 'TUB\\PQuantity: 1%%d \\U+00B1 \\S1/2;'],
    ];
    expect(read(text).entities).toMatchObject([
      { kind: 'text', text: 'Piece Name: TUB\nQuantity: 1° ± 1/2', deg: 90, height: 5 },
    ]);
  });

  it('stand at the point they are justified by', () => {
    const text: Tag[] = [
      [0, 'TEXT'],
      [8, 'NOTE'],
      [10, 0],
      [20, 0],
      [11, 40],
      [21, 50],
      [72, 1],
      [40, 5],
      [1, 'A'],
    ];
    expect(read(text).entities).toMatchObject([{ at: { x: 40, y: 50 } }]);
  });
});

describe('what cannot be read', () => {
  const tilted: Tag[] = [
    [210, 0],
    [220, 1],
    [230, 0],
  ];
  it.each<[string, Tag[]]>([
    [
      'POLYLINE that is a mesh (polyface)',
      polyline(
        [
          [0, 0, 0],
          [1, 1, 0],
        ],
        64,
      ),
    ],
    ['ARC seen on its edge', arc([0, 0], 1, 0, 90, tilted)],
    [
      'SOLID',
      [
        [0, 'SOLID'],
        [8, 'OUTLINE'],
        [10, 0],
        [20, 0],
      ],
    ],
    [
      'constructor',
      [
        [0, 'constructor'],
        [8, 'OUTLINE'],
      ],
    ],
  ])('%s is an error that names layer and line', (what, entity) => {
    const text = dxf({ header: inMm, entities: [line(0, 0, 1, 1), entity] });
    const { entities, findings } = readDrawingText(text, 'case.dxf');
    // The group code stands on the line before the type.
    const begins = text.split('\n').indexOf(String(entity[0]![1]));
    expect(entities.length).toBe(1);
    expect(findings).toMatchObject([
      { severity: 'error', rule: 'not-read', where: { file: 'case.dxf', line: begins } },
    ]);
    expect(findings[0]!.message).toContain(`${what} on layer OUTLINE`);
    expect(findings[0]!.todo).not.toBe('');
  });

  it('is told once for many of a kind', () => {
    const spline: Tag[] = [
      [0, 'SOLID'],
      [8, 'OUTLINE'],
    ];
    const { findings } = read(spline, spline, spline);
    expect(findings.map(({ message }) => message)).toEqual([expect.stringContaining('3 of them')]);
  });

  it.each(['HATCH', 'DIMENSION', 'LEADER', 'VIEWPORT'])('%s is left out with a note', (type) => {
    const { findings } = read([
      [0, type],
      [8, 'NOTE'],
    ]);
    expect(findings).toMatchObject([{ severity: 'note', rule: 'left-out' }]);
    expect(findings[0]!.message).toContain(`${type} on layer NOTE`);
  });

  it('in full, for it rises out of the sheet, is warned of', () => {
    const { findings } = read(line(0, 0, 10, 0).concat([[31, 5]]));
    expect(findings).toMatchObject([{ severity: 'warning', rule: 'not-level' }]);
  });
});

describe('a 3D polyline', () => {
  const inSpace = (heights: readonly number[]): Tag[] =>
    polyline(
      [
        [0, 0, 0],
        [300, 0, 0],
        [300, 200, 0],
      ],
      9,
    ).flatMap((tag): Tag[] => {
      const isVertexEnd = tag[0] === 42;
      return isVertexEnd ? [tag, [30, heights[0]!]] : [tag];
    });

  it('that lies level is flattened with a note', () => {
    const { entities, findings } = read(inSpace([25]));
    expect(findings).toMatchObject([{ severity: 'note', rule: 'in-space' }]);
    expect(findings[0]!.message).toContain('3D POLYLINE on layer OUTLINE is flattened');
    expect(entities).toMatchObject([{ kind: 'path', path: { closed: true } }]);
  });

  it('that rises is flattened with a warning', () => {
    const rising = inSpace([0]).map((tag, i): Tag => (tag[0] === 30 && i > 12 ? [30, 40] : tag));
    const { findings } = read(rising);
    expect(findings).toMatchObject([{ severity: 'warning', rule: 'not-level' }]);
    expect(findings[0]!.message).toContain('3D POLYLINE on layer OUTLINE rises');
  });
});
