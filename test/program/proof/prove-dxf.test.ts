import { describe, expect, it } from 'vitest';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { boxContains, boxOfPoints, centreOf } from '../../../src/geometry/paths/box.ts';
import { boxOfPath, circle, polyline, segmentsOf } from '../../../src/geometry/paths/path.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import type { Transform } from '../../../src/geometry/paths/transform.ts';
import {
  compose,
  reflection,
  rotation,
  scaling,
  transformPath,
  transformPoint,
  translation,
} from '../../../src/geometry/paths/transform.ts';
import { times } from '../../../src/geometry/paths/point.ts';
import { longBay, point } from '../../knife/sample-parts.ts';
import { changed, drawingChanged, goodRun, rulesFound } from '../good-run.ts';
import type { RunFiles } from '../run-folder.ts';

const good = goodRun(longBay);

type PathEntity = Extract<Entity, { kind: 'path' }>;

function onLayer(entities: readonly Entity[], layer: string): PathEntity[] {
  return entities.filter((e): e is PathEntity => e.kind === 'path' && e.layer === layer);
}

/** The drawing with its n-th path on a layer replaced by what `change` makes of it. */
function withPath(layer: string, n: number, change: (path: Path) => Path | null): RunFiles {
  return drawingChanged(good, (entities) => {
    const target = onLayer(entities, layer)[n]!;
    return entities.flatMap((entity) => {
      if (entity !== target) return [entity];
      const path = change(target.path);
      return path === null ? [] : [{ ...target, path }];
    });
  });
}

/** A transform about the middle of a path's box. */
function aboutMiddle(path: Path, transform: Transform): Path {
  const middle = centreOf(boxOfPath(path));
  const about = compose(compose(translation(middle), transform), translation(times(middle, -1)));
  return transformPath(about, path);
}

function scaled(entity: Entity, factor: number): Entity {
  const transform = scaling(factor, factor);
  return entity.kind === 'path'
    ? { ...entity, path: transformPath(transform, entity.path) }
    : { ...entity, at: transformPoint(transform, entity.at) };
}

/** The drawing with everything inside an outline's box turned or mirrored about the middle of it. */
function withPart(outline: number, transform: Transform): RunFiles {
  return drawingChanged(good, (entities) => {
    const box = boxOfPath(onLayer(entities, 'CUT')[outline]!.path);
    const middle = centreOf(box);
    const about = compose(compose(translation(middle), transform), translation(times(middle, -1)));
    const moved = (entity: Entity): Entity =>
      entity.kind === 'path'
        ? { ...entity, path: transformPath(about, entity.path) }
        : { ...entity, at: transformPoint(about, entity.at) };
    return entities.map((entity) => {
      const at = entity.kind === 'path' ? boxOfPath(entity.path) : boxOfPoints([entity.at]);
      return boxContains(box, at) ? moved(entity) : entity;
    });
  });
}

/** Outlines in the order in which they stand: pad, mat, strip, flap. */
const [pad, mat, strip, flap] = [0, 1, 2, 3];

const faults: readonly (readonly [name: string, files: () => RunFiles, rule: string])[] = [
  [
    'a part mirrored',
    () => withPath('CUT', flap!, (p) => aboutMiddle(p, reflection(point(0, 0), 90))),
    'mirrored',
  ],
  [
    'a part mirrored end for end',
    () => withPath('CUT', flap!, (p) => aboutMiddle(p, reflection(point(0, 0), 0))),
    'mirrored',
  ],
  [
    'a part turned by 180 degrees with all that is on it',
    () => withPart(flap!, rotation(180)),
    'turned',
  ],
  [
    'a part mirrored with all that is on it',
    () => withPart(flap!, reflection(point(0, 0), 30)),
    'mirrored',
  ],
  [
    'a part turned by a degree',
    () => withPath('CUT', mat!, (p) => aboutMiddle(p, rotation(1))),
    'turned',
  ],
  [
    'a part moved by 0.1 mm',
    () => withPath('CUT', strip!, (p) => transformPath(translation(point(0.1, 0)), p)),
    'moved',
  ],
  [
    'an arc bent the other way',
    () =>
      withPath('CUT', mat!, (p) => ({
        ...p,
        vertices: p.vertices.map((v) => ({ ...v, bulge: -v.bulge })),
      })),
    'contour',
  ],
  [
    'arcs made straight',
    () =>
      withPath('CUT', mat!, (p) => ({
        ...p,
        vertices: p.vertices.map((v) => ({ ...v, bulge: 0 })),
      })),
    'area',
  ],
  [
    'a corner moved by 0.1 mm',
    () =>
      withPath('CUT', pad!, ({ vertices: [first, ...rest] }) => ({
        closed: true,
        vertices: [{ ...first!, x: first!.x + 0.1 }, ...rest],
      })),
    'contour',
  ],
  ['an outline left open', () => withPath('CUT', pad!, (p) => ({ ...p, closed: false })), 'closed'],
  ['an outline missing', () => withPath('CUT', strip!, () => null), 'part-count'],
  ['an inner contour missing', () => withPath('CUT-INNER', 0, () => null), 'missing-cut'],
  [
    'an inner contour moved by 0.1 mm',
    () => withPath('CUT-INNER', 1, (p) => transformPath(translation(point(0, 0.1)), p)),
    'missing-cut',
  ],
  [
    'an inner contour 0.1 mm too large',
    () =>
      withPath('CUT-INNER', 0, (p) =>
        segmentsOf(p).length === 2
          ? circle(centreOf(boxOfPath(p)), 12.1)
          : aboutMiddle(p, scaling(1.001, 1.001)),
      ),
    'missing-cut',
  ],
  ['a notch missing', () => withPath('NOTCH', 1, () => null), 'missing-cut'],
  [
    'a notch too long',
    () =>
      withPath('NOTCH', 0, ({ vertices: [from, to] }) =>
        polyline([from!, { x: to!.x, y: to!.y + 0.2 }], false),
      ),
    'missing-cut',
  ],
  [
    'all in inches',
    () => drawingChanged(good, (all) => all.map((e) => scaled(e, 1 / 25.4))),
    'contour',
  ],
  [
    'a header that says inches',
    () =>
      changed(good, 'loop.dxf', (t) =>
        t.replace('  9\n$EXTMIN', '  9\n$INSUNITS\n 70\n1\n  9\n$EXTMIN'),
      ),
    'area',
  ],
  [
    'a hole for the bench on a layer that is cut',
    () =>
      drawingChanged(good, (all) =>
        all.map((e) =>
          e.kind === 'path' && e.layer === 'MARK' ? { ...e, layer: 'CUT-INNER' } : e,
        ),
      ),
    'extra-cut',
  ],
  [
    'an extra notch',
    () =>
      drawingChanged(good, (all) => [
        ...all,
        {
          kind: 'path',
          layer: 'NOTCH',
          line: 0,
          path: polyline([point(100, 100), point(100, 110)], false),
        },
      ]),
    'extra-cut',
  ],
  [
    'an extra contour',
    () =>
      drawingChanged(good, (all) => [
        ...all,
        { kind: 'path', layer: 'CUT', line: 0, path: circle(point(1500, 1500), 50) },
      ]),
    'extra-cut',
  ],
  [
    'a part drawn twice',
    () => drawingChanged(good, (all) => [...all, ...onLayer(all, 'CUT').slice(0, 1)]),
    'extra-cut',
  ],
  [
    'a labelled part drawn twice',
    () =>
      drawingChanged(good, (all) => [
        ...all,
        {
          kind: 'text',
          layer: 'LABEL',
          line: 0,
          at: point(2000, 1000),
          text: 'pad.1.A1',
          height: 5,
          deg: 0,
        },
        { kind: 'path', layer: 'CUT', line: 0, path: circle(point(2000, 1000), 50) },
      ]),
    'part-count',
  ],
  [
    'a label missing',
    () =>
      drawingChanged(good, (all) =>
        all.filter((e) => !(e.kind === 'text' && e.text.startsWith('strip'))),
      ),
    'part-count',
  ],
  [
    'two labels exchanged',
    () =>
      drawingChanged(good, (all) =>
        all.map((e) =>
          e.kind === 'text'
            ? {
                ...e,
                text: e.text.startsWith('mat')
                  ? 'flap.1.A1'
                  : e.text.startsWith('flap')
                    ? 'mat.1.A1'
                    : e.text,
              }
            : e,
        ),
      ),
    'moved',
  ],
  [
    'a label of a part that is not in the run',
    () =>
      drawingChanged(good, (all) =>
        all.map((e) =>
          e.kind === 'text' && e.text.startsWith('flap') ? { ...e, text: 'flop.1.A1' } : e,
        ),
      ),
    'unknown-part',
  ],
  [
    'a label in waste',
    () =>
      drawingChanged(good, (all) =>
        all.map((e) =>
          e.kind === 'text' && e.text.startsWith('pad') ? { ...e, at: point(1200, 1200) } : e,
        ),
      ),
    'label',
  ],
  [
    'text on a layer that is cut',
    () =>
      drawingChanged(good, (all) =>
        all.map((e) => (e.kind === 'text' ? { ...e, layer: 'CUT' } : e)),
      ),
    'layer',
  ],
  [
    'a layer that no cutter knows',
    () =>
      drawingChanged(good, (all) =>
        all.map((e) => (e.layer === 'MARK' ? { ...e, layer: 'ROLL' } : e)),
      ),
    'layer',
  ],
  [
    'outlines before what lies inside them',
    () =>
      drawingChanged(good, (all) => [
        ...onLayer(all, 'CUT'),
        ...all.filter((e) => e.layer !== 'CUT'),
      ]),
    'order',
  ],
  [
    'a part in a cutout after that cutout',
    () =>
      drawingChanged(good, (all) => {
        const guest = onLayer(all, 'CUT')[pad!]!;
        const host = onLayer(all, 'CUT')[mat!]!;
        return all.filter((e) => e !== guest).flatMap((e) => (e === host ? [guest, host] : [e]));
      }),
    'order',
  ],
  ['a file cut short', () => changed(good, 'loop.dxf', (t) => t.slice(0, t.length / 2)), 'cut-off'],
  [
    'no file',
    () => Object.fromEntries(Object.entries(good).filter(([name]) => name !== 'loop.dxf')),
    'file',
  ],
];

describe('the proof of a drawing', () => {
  it('finds nothing in what was written', () => {
    expect(rulesFound(good)).toEqual([]);
  });

  // So what the faults change is what they say, and nothing else.
  it('is of a drawing that is the same when it is read and written again', () => {
    const again = (): unknown =>
      drawingChanged(good, (all) => all.map((entity) => ({ ...entity, line: 0 })));
    expect(again).toThrow('leaves loop.dxf as it was');
  });

  it.each(faults)('finds %s', (_, files, rule) => {
    expect(rulesFound(files())).toContain(rule);
  });
});
