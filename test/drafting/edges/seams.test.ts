import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { EdgeDraft } from '../../../src/drafting/edges/drawn-traces.ts';
import { seamFacts } from '../../../src/drafting/edges/seam-facts.ts';
import type { WantedNotches } from '../../../src/drafting/edges/set-notches.ts';
import { withSeamNotches } from '../../../src/drafting/edges/set-notches.ts';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { polyline } from '../../../src/geometry/paths/path.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import { pieceOf } from '../../../src/pattern/piece.ts';
import type { PieceEntry } from '../../../src/pattern/set-file.ts';
import type { PatternSet } from '../../../src/pattern/set.ts';
import { line, materials, oblong, patternSet } from '../../handing/fixtures.ts';
import { entryWith, onLayer } from './drafts.ts';

const map = new Map<string, string>();

interface Drawn {
  readonly name: string;
  readonly entry: Partial<PieceEntry>;
  readonly entities: readonly Entity[];
}

function pieceFrom({ name, entry, entities }: Drawn): Piece {
  const { piece, findings } = pieceOf(name, entryWith(entry), entities, map, 'test.dxf');
  if (piece === null) throw new Error(findings.map(({ message }) => message).join('\n'));
  return piece;
}

function setOf(...drawn: readonly Drawn[]): PatternSet {
  return patternSet('RHD', drawn.map(pieceFrom));
}

function drafts(set: PatternSet, ...drawn: readonly Drawn[]): [EdgeDraft, EdgeDraft] {
  const made = drawn.map(({ name, entities }): EdgeDraft => ({
    piece: set.pieces.find((one) => one.name === name)!,
    entities,
    map,
    drawn: 'RHD',
    options: new Map(),
  }));
  return [made[0]!, made[1]!];
}

const notch = (x: number, y: number): Entity => ({
  kind: 'point',
  layer: 'NOTCH',
  line: 1,
  at: { x, y },
});

// The floor's front edge runs from x = 400 to x = 0 (counter-clockwise); the dash's rear edge from 0 to 402.
const floor: Drawn = {
  name: 'floor',
  entry: { side: 'left' },
  entities: [
    onLayer('OUTLINE', oblong(0, 0, 400, 300)),
    onLayer('SEAM', line(400, 300, 0, 300)),
    notch(300, 300),
    notch(100, 300),
  ],
};
const dash: Drawn = {
  name: 'dash',
  entry: { side: 'left' },
  entities: [
    onLayer('OUTLINE', oblong(1000, 310, 1402, 500)),
    onLayer('SEAM', line(1000, 310, 1402, 310)),
    notch(1302, 310),
    notch(1200, 310),
  ],
};
const join: [string, string] = ['floor', 'dash'];

describe('seamFacts', () => {
  it('tells both lengths, what may be eased, and which notches meet, from the end where both begin', () => {
    const { fits, findings } = seamFacts(setOf(floor, dash), materials, { join });
    expect(fits).toHaveLength(1);
    const [fit] = fits;
    expect(fit!.lengths).toEqual([400, 402]);
    expect(fit!.difference).toBeCloseTo(2, 9);
    expect([fit!.ease, fit!.isLengthSound]).toEqual([3, true]);
    // The floor's edge starts at x = 400; the right end of the dash meets it.
    expect(fit!.begin).toEqual([
      { x: 400, y: 300 },
      { x: 1402, y: 310 },
    ]);
    expect(fit!.end).toEqual([
      { x: 0, y: 300 },
      { x: 1000, y: 310 },
    ]);
    expect(fit!.notches.map((own) => own.map(({ from }) => from))).toEqual([
      [100, 300],
      [100, 202],
    ]);
    // 100 of 400 is 100.5 of 402: the dash's notch stands half a mm before it.
    expect(fit!.met).toHaveLength(1);
    expect(fit!.met[0]!.difference).toBeCloseTo(-0.5, 9);
    expect(fit!.unmet.map(({ edge, from }) => [edge, from])).toEqual([
      [0, 300],
      [1, 202],
    ]);
    // 300 / 400 of 402, from the right end of the dash.
    expect(fit!.unmet[0]!.at).toEqual({ x: 100, y: 300 });
    expect(fit!.unmet[0]!.there.x).toBeCloseTo(1402 - 301.5, 9);
    expect(findings.map(({ rule }) => rule)).toEqual(['seam-notch', 'seam-notch']);
  });

  it('says when lengths differ too much, and takes the ease that is asked about', () => {
    const rules = (ease: number) => {
      const { fits, findings } = seamFacts(setOf(floor, dash), materials, { join, ease });
      return [fits[0]!.isLengthSound, findings.map(({ rule }) => rule)];
    };
    expect(rules(1)).toEqual([false, ['seam-length']]);
    expect(rules(200)[0]).toBe(true);
  });

  it('says why it cannot judge a seam', () => {
    const bare = { ...dash, entities: dash.entities.slice(0, 1) };
    const none = seamFacts(setOf(floor, bare), materials, { join });
    expect(none.fits).toEqual([]);
    expect(none.findings.map(({ rule }) => rule)).toEqual(['seam-edge']);
    const two = {
      ...dash,
      entities: [...dash.entities, onLayer('SEAM', line(1402, 500, 1000, 500))],
    };
    const several = seamFacts(setOf(floor, two), materials, { join });
    expect(several.fits).toEqual([]);
    expect(several.findings.map(({ rule }) => rule)).toEqual(['seam-several']);
  });
});

/** Sets notches, reads the pieces again, and judges the seam by the rules for seams. */
function notched(
  drawn: readonly [Drawn, Drawn],
  wanted: WantedNotches,
  isReplacing: boolean,
  seam: [string, string],
) {
  const set = setOf(...drawn);
  const made = withSeamNotches(
    set,
    materials,
    { join: seam },
    drafts(set, ...drawn),
    wanted,
    isReplacing,
  );
  const again = drawn.map((one, i): Drawn => ({ ...one, entities: made.entities[i]! }));
  return { made, judged: seamFacts(setOf(...again), materials, { join: seam }) };
}

function notchPoints(entities: readonly Entity[]): [number, number][] {
  return entities
    .filter(({ layer, line: at }) => layer === 'NOTCH' && at === 0)
    .map((entity) => {
      const { x, y } = entity.kind === 'path' ? entity.path.vertices[0]! : { x: NaN, y: NaN };
      return [Math.round(x * 1000) / 1000, Math.round(y * 1000) / 1000];
    });
}

describe('withSeamNotches', () => {
  it('sets as many as asked on both edges, straight in and as long as the material cuts them', () => {
    const { made, judged } = notched([floor, dash], { count: 3 }, true, join);
    expect(made.findings).toEqual([]);
    expect(notchPoints(made.entities[0])).toEqual([
      [300, 300],
      [200, 300],
      [100, 300],
    ]);
    expect(notchPoints(made.entities[1])).toEqual([
      [1301.5, 310],
      [1201, 310],
      [1100.5, 310],
    ]);
    const first = made.entities[0].find(({ layer }) => layer === 'NOTCH');
    // The carpet of the fixtures is cut 5 mm deep; inwards is down.
    expect(first).toEqual(onLayerNew('NOTCH', line(300, 300, 300, 295)));
    expect(judged.findings).toEqual([]);
    expect(judged.fits[0]!.met).toHaveLength(3);
  });

  it('sets them at a distance from the beginning, and none near the other end', () => {
    const { made } = notched([floor, dash], { spacing: 150 }, true, join);
    expect(notchPoints(made.entities[0])).toEqual([
      [250, 300],
      [100, 300],
    ]);
  });

  it('leaves those that stand there unless they are to be replaced, and sets none twice', () => {
    const { made } = notched([floor, dash], { count: 3 }, false, join);
    // 300 and 100 are there already.
    expect(notchPoints(made.entities[0])).toEqual([[200, 300]]);
    expect(made.entities[0].slice(0, floor.entities.length)).toEqual(floor.entities);
    // 1302 and 1200 stand for 1301.5 and 1201: notches are drawn no finer.
    expect(notchPoints(made.entities[1])).toEqual([[1100.5, 310]]);
  });

  it('leaves notches on other edges alone, and those that follow somebody', () => {
    const others: Entity[] = [notch(400, 100), { ...notch(200, 300), layer: 'NOTCH-DRIVER' }];
    const more = { ...floor, entities: [...floor.entities, ...others] };
    const { made } = notched([more, dash], { count: 1 }, true, join);
    const kept = made.entities[0].filter((one) => one.layer.startsWith('NOTCH') && one.line === 1);
    expect(kept).toEqual(others);
  });

  it.each([
    { count: 0 },
    { count: 0.9 },
    { count: 40 },
    { spacing: -1 },
    { spacing: 9 },
    { spacing: NaN },
  ])('refuses %j', (wanted) => {
    const { made } = notched([floor, dash], wanted, true, join);
    expect(made.findings.map(({ rule }) => rule)).toEqual(['notch-number']);
    expect(made.entities).toEqual([floor.entities, dash.entities]);
  });

  // A box on each side meets one edge of the floor that lies across the middle: half of it each.
  const axis = onLayer('AXIS', line(0, 0, 0, 100));
  const wide: Drawn = {
    name: 'floor',
    entry: { side: 'centre' },
    entities: [
      onLayer('OUTLINE', oblong(-400, 0, 400, 300)),
      onLayer('SEAM', line(400, 300, -400, 300)),
      axis,
    ],
  };
  const box: Drawn = {
    name: 'box',
    entry: { side: 'pair', drawnSide: 'right' },
    entities: [
      onLayer('OUTLINE', oblong(0, 300, 400, 450)),
      onLayer('SEAM', line(0, 300, 400, 300)),
    ],
  };

  it('measures both halves of an edge across the middle alike, so that a pair is drawn once', () => {
    const { made, judged } = notched([wide, box], { spacing: 150 }, true, ['floor', 'box']);
    // From the outer ends of the floor: 400 and -400.
    expect(notchPoints(made.entities[0]).sort((a, b) => a[0] - b[0])).toEqual([
      [-250, 300],
      [-100, 300],
      [100, 300],
      [250, 300],
    ]);
    expect(notchPoints(made.entities[1])).toEqual([
      [250, 300],
      [100, 300],
    ]);
    expect(judged.fits).toHaveLength(2);
    expect(judged.findings).toEqual([]);
    expect(judged.fits.map(({ met }) => met.length)).toEqual([2, 2]);
  });

  it('measures a pair alike where the other piece is drawn for the other side', () => {
    const lid: Drawn = {
      name: 'lid',
      entry: { side: 'pair', drawnSide: 'left' },
      // The mirror image lies on the right.
      entities: [
        onLayer('OUTLINE', oblong(-400, 450, 0, 600)),
        onLayer('SEAM', line(-400, 450, 0, 450)),
      ],
    };
    const top: Drawn = {
      ...box,
      entities: [box.entities[0]!, onLayer('SEAM', line(400, 450, 0, 450))],
    };
    const { made, judged } = notched([top, lid], { spacing: 150 }, true, ['box', 'lid']);
    expect(notchPoints(made.entities[0])).toEqual([
      [250, 450],
      [100, 450],
    ]);
    expect(notchPoints(made.entities[1])).toEqual([
      [-250, 450],
      [-100, 450],
    ]);
    expect(judged.findings).toEqual([]);
    expect(judged.fits.map(({ met }) => met.length)).toEqual([2, 2]);
  });

  it('draws on the drawn half of a piece that is drawn half', () => {
    const half: Drawn = {
      name: 'floor',
      entry: { side: 'centre', half: true },
      entities: [
        onLayer(
          'OUTLINE',
          polyline(
            [
              { x: 0, y: 0 },
              { x: 400, y: 0 },
              { x: 400, y: 300 },
              { x: 0, y: 300 },
            ],
            false,
          ),
        ),
        onLayer('SEAM', line(400, 300, 0, 300)),
        axis,
      ],
    };
    const { made, judged } = notched([half, box], { spacing: 150 }, true, ['floor', 'box']);
    expect(notchPoints(made.entities[0]).sort((a, b) => a[0] - b[0])).toEqual([
      [100, 300],
      [250, 300],
    ]);
    expect(judged.findings).toEqual([]);
    expect(judged.fits.map(({ met }) => met.length)).toEqual([2, 2]);
  });

  it('sets one row on a piece that is sewn to its own mirror image', () => {
    const mat: Drawn = {
      name: 'mat',
      entry: { side: 'pair', drawnSide: 'right' },
      entities: [onLayer('OUTLINE', oblong(0, 0, 400, 300)), onLayer('SEAM', line(0, 300, 0, 0))],
    };
    const { made, judged } = notched([mat, mat], { spacing: 100 }, true, ['mat', 'mat']);
    expect(notchPoints(made.entities[0])).toEqual([
      [0, 200],
      [0, 100],
    ]);
    expect(made.entities[1]).toBe(made.entities[0]);
    expect(judged.findings).toEqual([]);
  });

  it.each([0.003, 0.05, 0.1, 0.2])(
    'makes notches meet where they stand on corners that turn in or out, bulge %s',
    (bulge) => {
      // Four arcs of one length each: the middle of the edge is a corner, inward on one piece, outward on the other.
      const [one, other] = curvedPair([-bulge, bulge, bulge, -bulge], 0);
      const { judged } = notched([one, other], { count: 3 }, true, join);
      const [fit] = judged.fits;
      expect(judged.findings).toEqual([]);
      expect(fit!.met.length).toBe(3);
      for (const { difference } of fit!.met) expect(Math.abs(difference)).toBeLessThan(0.001);
    },
  );

  it('satisfies the rules for seams on edges of any shape that may be eased', () => {
    const shape = fc.array(fc.double({ min: -0.2, max: 0.2, noNaN: true }), {
      minLength: 1,
      maxLength: 4,
    });
    const wanted = fc.oneof(
      fc.integer({ min: 1, max: 6 }).map((count) => ({ count })),
      fc.integer({ min: 40, max: 300 }).map((spacing) => ({ spacing })),
    );
    fc.assert(
      fc.property(
        shape,
        fc.double({ min: 0, max: 2.9, noNaN: true }),
        wanted,
        (bulges, longer, notches) => {
          const [one, other] = curvedPair(bulges, longer);
          const { judged } = notched([one, other], notches, true, join);
          expect(judged.findings).toEqual([]);
          const [fit] = judged.fits;
          expect(fit!.unmet).toEqual([]);
          // On each edge what stands within 0.01 mm of a corner stands on it.
          for (const { difference } of fit!.met) expect(Math.abs(difference)).toBeLessThan(0.0201);
          expect(fit!.met.length).toBe(fit!.notches[0].length);
        },
      ),
    );
  });
});

function onLayerNew(layer: string, path: ReturnType<typeof line>): Entity {
  return { kind: 'path', layer, line: 0, path };
}

/** A floor whose front edge is bent, and a dash whose rear edge has the same bends, `longer` mm longer. */
function curvedPair(bulges: readonly number[], longer: number): [Drawn, Drawn] {
  const step = 400 / bulges.length;
  const front = bulges.map((bulge, i) => ({ x: 400 - i * step, y: 300, bulge }));
  const edge = { closed: false, vertices: [...front, { x: 0, y: 300, bulge: 0 }] };
  const round = {
    closed: true,
    vertices: [
      { x: 0, y: 300, bulge: 0 },
      { x: 0, y: 0, bulge: 0 },
      { x: 400, y: 0, bulge: 0 },
      ...front,
    ],
  };
  const rear = bulges.toReversed().map((bulge, i) => ({ x: i * step, y: 700, bulge: -bulge }));
  // A straight bit at the end makes up the difference.
  const extra = Math.max(0, longer);
  const end = { x: 400 + extra, y: 700, bulge: 0 };
  const tail = extra > 0 ? [{ x: 400, y: 700, bulge: 0 }, end] : [end];
  const sewn = { closed: false, vertices: [...rear, ...tail] };
  const corners = [
    { x: end.x, y: 1200, bulge: 0 },
    { x: 0, y: 1200, bulge: 0 },
  ];
  return [
    { ...floor, entities: [onLayer('OUTLINE', round), onLayer('SEAM', edge)] },
    {
      ...dash,
      entities: [
        onLayer('OUTLINE', { closed: true, vertices: [...sewn.vertices, ...corners] }),
        onLayer('SEAM', sewn),
      ],
    },
  ];
}
