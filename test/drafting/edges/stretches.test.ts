import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutLine } from '../../../src/drafting/edges/cut-line.ts';
import { cutAt, pointedAt, stretchAt } from '../../../src/drafting/edges/pointing.ts';
import { stretchesOf } from '../../../src/drafting/edges/stretches.ts';
import { withEdgeKind } from '../../../src/drafting/edges/with-edge-kind.ts';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { areaOf } from '../../../src/geometry/paths/area.ts';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle, pathLength, polyline } from '../../../src/geometry/paths/path.ts';
import { outline as drawnOutline } from '../../../patterns/fenlark/pen.ts';
import { randomFrom } from '../../support/random.ts';
import { line, materials, oblong, slotted } from '../../handing/fixtures.ts';
import { answered, answerOn, draftOf, onLayer, readAgain } from './drafts.ts';

const plain = oblong(0, 0, 400, 300);

function endsOf(...entities: readonly Entity[]): number[] {
  return stretchesOf(draftOf(entities)).stretches.map(({ from }) => Math.round(from * 1000) / 1000);
}

describe('stretchesOf', () => {
  it('divides at corners, and says what nobody has decided', () => {
    const { stretches, round } = stretchesOf(draftOf([onLayer('OUTLINE', plain)]));
    expect(stretches.map(({ from, to, length }) => [from, to, length])).toEqual([
      [0, 400, 400],
      [400, 700, 300],
      [700, 1100, 400],
      [1100, 0, 300],
    ]);
    expect(round).toBe(1400);
    expect(new Set(stretches.map(({ kind, saidBy }) => `${kind} ${saidBy}`))).toEqual(
      new Set(['null null']),
    );
  });

  it('goes across the start where no corner stands there', () => {
    const shifted = {
      closed: true,
      vertices: [{ x: 200, y: 0, bulge: 0 }, ...plain.vertices.slice(1), plain.vertices[0]!],
    };
    expect(endsOf(onLayer('OUTLINE', shifted))).toEqual([200, 500, 900, 1200]);
  });

  it('divides at notches and at the ends of lines, and says what each is', () => {
    const draft = draftOf(
      [
        onLayer('OUTLINE', plain),
        onLayer('TUCK', line(100, 0, 300, 0)),
        {
          kind: 'text',
          layer: 'TUCK',
          line: 9,
          at: { x: 200, y: -5 },
          text: 'Rear',
          height: 10,
          deg: 0,
        },
        { kind: 'point', layer: 'NOTCH', line: 4, at: { x: 400, y: 100 } },
      ],
      { edge: 'bound', tucked: { rear: 'the sill' } },
    );
    const { stretches, divisions, findings } = stretchesOf(draft);
    expect(findings).toEqual([]);
    expect(divisions.map(({ along, by }) => `${along} ${by}`)).toEqual([
      '0 corner',
      '100 trace',
      '300 trace',
      '400 corner',
      '500 notch',
      '700 corner',
      '1100 corner',
    ]);
    const [first, tuck] = stretches;
    expect([first!.kind, first!.name, first!.saidBy, first!.trace]).toEqual([
      'bound',
      null,
      'rest',
      null,
    ]);
    expect([tuck!.kind, tuck!.name, tuck!.saidBy, tuck!.trace]).toEqual([
      'tuck',
      'rear',
      'trace',
      1,
    ]);
    expect([first!.hiddenBy, tuck!.hiddenBy]).toEqual([null, 'the sill']);
  });

  it('says which layers with a suffix lie there, and reads the usual choice', () => {
    const lines = [
      onLayer('OUTLINE', plain),
      onLayer('SEAM-WITH-TABLE', line(0, 0, 400, 0)),
      onLayer('BOUND-WITHOUT-TABLE', line(400, 300, 0, 300)),
    ];
    const { stretches } = stretchesOf(draftOf(lines, { edge: 'raw' }, new Map([['table', true]])));
    expect(stretches.map(({ kind, special }) => [kind, ...special])).toEqual([
      ['seam', 'SEAM-WITH-TABLE'],
      ['raw'],
      ['raw', 'BOUND-WITHOUT-TABLE'],
      ['raw'],
    ]);
  });

  // [M] A quarter of radius 20 is 31.4 long, one of radius 60 is 94.2.
  it('takes a large round corner for a stretch of its own, and a small one for a part of its longer neighbour', () => {
    const round = (r: number): Path => drawnOutline([0, 0, { r }], [400, 0], [400, 300], [0, 300]);
    const lengths = (r: number): number[] =>
      stretchesOf(draftOf([onLayer('OUTLINE', round(r))]))
        .stretches.map(({ length }) => Math.round(length * 10) / 10)
        .sort((a, b) => a - b);
    expect(lengths(20)).toEqual([280, 300, 400, 411.4]);
    expect(lengths(60)).toEqual([94.2, 240, 300, 340, 400]);
  });

  it('divides a circle nowhere, and an oval at the ends of its sides', () => {
    const { stretches } = stretchesOf(draftOf([onLayer('OUTLINE', circle({ x: 0, y: 0 }, 100))]));
    expect(stretches.map(({ from, to }) => [from, to])).toEqual([[0, 0]]);
    expect(stretches[0]!.length).toBeCloseTo(200 * Math.PI, 6);
    const oval: Path = {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 400, y: 0, bulge: 1 },
        { x: 400, y: 200, bulge: 0 },
        { x: 0, y: 200, bulge: 1 },
      ],
    };
    expect(endsOf(onLayer('OUTLINE', oval))).toHaveLength(4);
  });

  it('takes snips and small chamfers for parts of their neighbours, and a narrow end for a stretch', () => {
    const corners = (...points: [number, number][]): Entity =>
      onLayer(
        'OUTLINE',
        polyline(
          points.map(([x, y]) => ({ x, y })),
          true,
        ),
      );
    expect(
      endsOf(corners([0, 0], [400, 0], [400, 300], [206, 300], [200, 295], [194, 300], [0, 300])),
    ).toHaveLength(5);
    expect(endsOf(corners([0, 0], [395, 0], [400, 5], [400, 300], [0, 300]))).toHaveLength(4);
    expect(endsOf(corners([0, 0], [600, 0], [600, 30], [0, 30]))).toHaveLength(4);
  });

  it('finds the sides of an outline that a hand has digitised, each corner within a few mm', () => {
    const drawn = drawnOutline(
      [0, 0, { r: 60 }],
      [900, 0],
      [900, 600, { b: 0.1 }],
      [0, 600, { r: 12 }],
    );
    const random = randomFrom(11);
    const digitised = polyline(
      stepped(drawn, 4).map(({ x, y }) => ({
        x: x + (random.below(1000) / 1000 - 0.5) * 0.3,
        y: y + (random.below(1000) / 1000 - 0.5) * 0.3,
      })),
      true,
    );
    expect(digitised.vertices.length).toBeGreaterThan(600);
    const exact = stretchesOf(draftOf([onLayer('OUTLINE', drawn)]));
    const { divisions, stretches } = stretchesOf(draftOf([onLayer('OUTLINE', digitised)]));
    expect(exact.divisions).toHaveLength(5);
    expect(stretches.length).toBe(5);
    for (const { at } of exact.divisions) {
      const near = divisions.map((one) => Math.hypot(one.at.x - at.x, one.at.y - at.y));
      expect(Math.min(...near)).toBeLessThan(12);
    }
  });

  it('covers the outline once, with lengths that sum to its own, whatever was said', () => {
    fc.assert(
      fc.property(answered, (drawn) => {
        const draft = drawn.answers.reduce(
          (one, shared) =>
            readAgain(one, withEdgeKind(one, answerOn(drawn.outline, shared)).entities),
          draftOf([onLayer('OUTLINE', drawn.outline)]),
        );
        const { stretches, round } = stretchesOf(draft);
        const sum = stretches.reduce((total, { length }) => total + length, 0);
        expect(Math.abs(sum - pathLength(drawn.outline))).toBeLessThan(1e-3);
        expect(Math.abs(round - pathLength(drawn.outline))).toBeLessThan(1e-6);
        stretches.forEach(({ to }, i) =>
          expect(to).toBe(stretches[(i + 1) % stretches.length]!.from),
        );
      }),
    );
  });
});

/** Points along a path, `step` mm apart on its arcs and lines alike. */
function stepped(path: Path, step: number): { x: number; y: number }[] {
  const points = flatten(path, 0.01);
  return points.flatMap((from, i) => {
    const to = points[(i + 1) % points.length]!;
    const count = Math.max(1, Math.round(Math.hypot(to.x - from.x, to.y - from.y) / step));
    return Array.from({ length: count }, (_, k) => ({
      x: from.x + ((to.x - from.x) * k) / count,
      y: from.y + ((to.y - from.y) * k) / count,
    }));
  });
}

describe('pointing at an outline', () => {
  const draft = draftOf([onLayer('OUTLINE', plain)]);
  const stretches = stretchesOf(draft);

  it('takes a point to a corner that is near, otherwise to the outline', () => {
    expect(pointedAt(draft, stretches, { x: 396, y: -3 }, 6)).toEqual({
      along: 400,
      at: { x: 400, y: 0 },
      distance: 5,
      snapped: 'corner',
    });
    expect(pointedAt(draft, stretches, { x: 396, y: -3 }, 4)).toEqual({
      along: 396,
      at: { x: 396, y: 0 },
      distance: 3,
      snapped: null,
    });
  });

  it('finds the stretch at a place: at a corner the one that begins there', () => {
    expect(stretchAt(stretches, 399).from).toBe(0);
    expect(stretchAt(stretches, 400).from).toBe(400);
    expect(stretchAt(stretches, 1399).from).toBe(1100);
    expect(stretchAt(stretches, 1400).from).toBe(0);
  });

  it('divides a stretch at a place, and so many mm from a corner in either direction', () => {
    expect(cutAt(draft, stretches, 450)!.parts).toEqual([
      { from: 400, to: 450 },
      { from: 450, to: 700 },
    ]);
    expect(cutAt(draft, stretches, -50, 0)).toEqual({
      along: 1350,
      at: { x: 0, y: 50 },
      parts: [
        { from: 1100, to: 1350 },
        { from: 1350, to: 0 },
      ],
    });
    expect(cutAt(draft, stretches, 30, 400)!.along).toBe(430);
    expect(cutAt(draft, stretches, 403)).toBeNull();
    expect(cutAt(draft, stretches, 697)).toBeNull();
    expect(cutAt(draft, stretches, 700)).toBeNull();
  });
});

describe('cutLine', () => {
  // Seam 10, tuck 30.
  const carpet = materials.get('carpet')!;

  it('adds what the material says, and nothing where nobody has decided', () => {
    const draft = draftOf([onLayer('OUTLINE', plain), onLayer('TUCK', line(0, 0, 400, 0))]);
    const { cut, undecided, findings } = cutLine(draft, carpet);
    expect(findings).toEqual([]);
    // 30 below along 400, square at its ends.
    expect(areaOf(cut!)).toBeCloseTo(400 * 330, 6);
    expect(undecided.map(({ from, to, length }) => [from, to, length])).toEqual([
      [400, 700, 300],
      [700, 1100, 400],
      [1100, 0, 300],
    ]);
  });

  it('marks nothing where all is decided', () => {
    const draft = draftOf([onLayer('OUTLINE', plain)], { edge: 'seam' });
    const { cut, undecided } = cutLine(draft, carpet);
    expect(areaOf(cut!)).toBeCloseTo(420 * 320, 6);
    expect(undecided).toEqual([]);
  });

  it('says where an allowance does not fit', () => {
    const draft = draftOf([onLayer('OUTLINE', slotted)], { edge: 'tuck' });
    const { cut, findings } = cutLine(draft, carpet);
    expect(cut).toBeNull();
    expect(findings.map(({ rule }) => rule)).toEqual(['allowance']);
  });
});
