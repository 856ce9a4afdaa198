import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entity } from '../../src/drawing/drawing.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { transformPath, transformPoint } from '../../src/geometry/paths/transform.ts';
import { edgeNames } from '../../src/pattern/edge-names.ts';
import type { Follows, Role } from '../../src/pattern/layers.ts';
import type { Feature } from '../../src/pattern/feature.ts';
import { isometry } from '../geometry/arbitrary.ts';
import { feature, line } from '../handing/fixtures.ts';

const where = { file: 'test.dxf', piece: 'mat' };

function text(layer: string, words: string, x: number, y: number, height = 10): Entity {
  return { kind: 'text', layer, line: 7, at: { x, y }, text: words, height, deg: 0 };
}

/** The names of the features in order, and the rules of the findings. */
function named(features: readonly Feature[], ...texts: readonly Entity[]) {
  const found = edgeNames(features, texts, new Map([['SEWN', 'SEAM']]), where);
  return {
    names: found.features.map(({ name }) => name),
    messages: found.findings.map(({ message }) => message),
    findings: found.findings,
  };
}

const low = feature('SEAM', line(0, 0, 400, 0));
const high = feature('SEAM', line(0, 300, 400, 300));

describe('edgeNames', () => {
  it('names the nearest line of the text’s own layer', () => {
    const bound = feature('BOUND', line(0, 20, 400, 20));
    const { names, findings } = named([low, bound, high], text('SEAM', 'front', 200, 18));
    expect(names).toEqual(['front', null, null]);
    expect(findings).toEqual([]);
  });

  it.each([
    ['Front edge', 'front-edge'],
    ['  SEAM 2/3 ', 'seam-2-3'],
    ['a__b', 'a-b'],
  ])('joins the words of %j as set files write them', (words, name) => {
    expect(named([low], text('SEAM', words, 100, 5)).names).toEqual([name]);
  });

  it('reads the shop’s own layer names', () => {
    expect(named([low], text('Sewn', 'front', 100, 5)).names).toEqual(['front']);
  });

  it('tells lines that follow somebody from lines that do not', () => {
    const driver = { ...feature('SEAM', line(0, 40, 400, 40)), follows: 'DRIVER' as Follows };
    expect(named([low, driver], text('SEAM-DRIVER', 'left', 200, 10)).names).toEqual([
      null,
      'left',
    ]);
  });

  it.each([
    ['inside', 330, 12],
    ['outside', 330, -45],
  ])('names it from %s the outline too, by the nearest', (_, x, y) => {
    const side = feature('SEAM', line(400, 0, 400, 300));
    const { names, findings } = named([low, side], text('SEAM', 'front', x, y));
    expect(names).toEqual(['front', null]);
    expect(findings).toEqual([]);
  });

  it('names nothing where two lines are as near, and says so', () => {
    const side = feature('SEAM', line(400, 0, 400, 300));
    const { names, messages } = named([low, side], text('SEAM', 'front', 420, -20));
    expect(names).toEqual([null, null]);
    expect(messages).toEqual([
      'the text "front" on layer SEAM stands as near to another line of its layer as to the one it could name.',
    ]);
  });

  // 60 mm away, or twice the height of the letters: 45 mm letters reach 90.
  it.each([
    [59, 10, 'front'],
    [61, 10, null],
    [89, 45, 'front'],
    [91, 45, null],
  ])('a text %d mm away with letters of %d mm names %j', (away, height, name) => {
    const { names, findings } = named([low], text('SEAM', 'front', 200, -away, height));
    expect(names).toEqual([name]);
    expect(findings.map(({ rule }) => rule)).toEqual(name === null ? ['edge-name'] : []);
  });

  it('leaves texts on other layers alone', () => {
    const { names, findings } = named([low], text('NOTE', 'x', 0, 0), text('CUTOUT', 'y', 0, 0));
    expect(names).toEqual([null]);
    expect(findings).toEqual([]);
  });

  it('finds a second name, a name of no letters and a name beside nothing, each with its place', () => {
    const { names, messages, findings } = named(
      [low],
      text('SEAM', 'front', 100, 5),
      text('SEAM', 'rear', 200, 5),
      text('SEAM', '--', 300, 5),
      text('TUCK', 'side', 100, 5),
    );
    expect(names).toEqual(['front']);
    expect(messages[0]).toMatch(/"rear".*named "front" already/);
    expect(messages[1]).toMatch(/"--".*no letter or digit/);
    expect(messages[2]).toMatch(/"side".*no line of its layer/);
    expect(findings.map((finding) => finding.where.at!.x)).toEqual([200, 300, 100]);
    expect(findings.every(({ severity }) => severity === 'warning')).toBe(true);
  });

  it.each<[string, readonly Entity[], readonly (string | null)[]]>([
    ['on NOTE', [text('NOTE', 'Rear', 200, 20)], ['rear', null]],
    ['on a layer that says nothing', [text('TEXTS', 'rear', 200, -50)], ['rear', null]],
    ['on a layer that says something else', [text('CUTOUT', 'rear', 200, 20)], [null, null]],
    ['with more than the name', [text('NOTE', 'rear of seat', 200, 20)], [null, null]],
    ['too far off', [text('NOTE', 'rear', 200, -61)], [null, null]],
    ['said twice', [text('NOTE', 'rear', 200, 20), text('NOTE', 'rear', 200, 290)], [null, null]],
    [
      'where a text on the layer of the line says it',
      [text('SEAM', 'rear', 200, 290), text('NOTE', 'rear', 200, 20)],
      [null, 'rear'],
    ],
    [
      'beside a line that has another name',
      [text('SEAM', 'sill', 100, 20), text('NOTE', 'rear', 200, 20)],
      ['sill', null],
    ],
  ])('the name of an edge that the set file speaks of, %s', (_, texts, names) => {
    const said = [{ role: 'SEAM' as const, edge: 'rear' }];
    const found = edgeNames([low, high], texts, new Map(), where, said);
    expect(found.features.map(({ name }) => name)).toEqual(names);
    // Without the set file's word it is a mere note.
    const unsaid = edgeNames([low, high], texts, new Map(), where);
    const own = texts.filter(({ layer }) => layer === 'SEAM').length;
    expect(unsaid.features.filter(({ name }) => name !== null).length).toBe(own);
  });

  it('a name between two lines of its kind is not read from another layer', () => {
    const near = feature('SEAM', line(0, 80, 400, 80));
    const said = [{ role: 'SEAM' as const, edge: 'rear' }];
    const words = text('NOTE', 'rear', 200, 30);
    const { features } = edgeNames([low, near], [words], new Map(), where, said);
    expect(features.map(({ name }) => name)).toEqual([null, null]);
  });

  it('names the same lines wherever the piece is drawn, and whichever way its lines run', () => {
    const sides: [Role, Path, string, number, number][] = [
      ['SEAM', line(0, 0, 400, 0), 'low', 150, -20],
      ['SEAM', line(400, 300, 0, 300), 'high', 250, 320],
      ['TUCK', line(400, 0, 400, 300), 'right', 420, 100],
    ];
    fc.assert(
      fc.property(isometry, (transform) => {
        const { names, findings } = named(
          sides.map(([role, path]) => feature(role, transformPath(transform, path))),
          ...sides.map(([role, , words, x, y]) => {
            const at = transformPoint(transform, { x, y });
            return text(role, words, at.x, at.y);
          }),
        );
        expect(names).toEqual(['low', 'high', 'right']);
        expect(findings).toEqual([]);
      }),
    );
  });
});
