import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Path } from '../../src/geometry/paths/path.ts';
import { circle, pathLength, polyline } from '../../src/geometry/paths/path.ts';
import { benchFacts, tapeFor } from '../../src/handing/bench-facts.ts';
import type { BenchFacts, TapeFacts } from '../../src/handing/bench-facts.ts';
import { deriveParts } from '../../src/handing/derive.ts';
import type { Binding } from '../../src/pattern/shop/binding.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import type { Feature } from '../../src/pattern/feature.ts';
import type { SetContent } from '../../src/pattern/set-file.ts';
import { outline } from '../geometry/arbitrary.ts';
import { feature, line, materials, oblong, order, patternSet, piece, tape } from './fixtures.ts';

const inch = 25.4;

function factsOf(pieces: readonly Piece[], content: Partial<SetContent> = {}): BenchFacts[] {
  const set = patternSet('RHD', pieces, content);
  return benchFacts(deriveParts(set, order('RHD'), materials).parts, set, materials);
}

function tapeRound(shape: Path, more: Partial<Binding>, features: Feature[] = []): TapeFacts {
  const set = patternSet('RHD', [piece('a', {}, shape, features)]);
  const [part] = deriveParts(set, order('RHD'), materials).parts;
  return tapeFor(part!, { ...tape, ...more })!;
}

describe('the tape for a part', () => {
  // [S] facts.md, section 4: quilting handbooks, round the edges and so much more to join the ends.
  it.each([
    [64, 64, 16, 272],
    [60, 72, 10, 274],
  ])('%d x %d inches and %d to join come to %d inches', (wide, long, joining, total) => {
    const facts = tapeRound(oblong(0, 0, wide * inch, long * inch), {
      joining: joining * inch,
      tightExtra: 0,
    });
    expect(facts.runs).toBe(1);
    expect(facts.total / inch).toBeCloseTo(total, 9);
  });

  it('takes a share more round a curve tighter than the tape’s', () => {
    const more = { tightRadius: 50, tightExtra: 0.12 };
    // [D] The whole of the circle is such a curve: 0.12 of 2 pi 40.
    expect(tapeRound(circle({ x: 0, y: 0 }, 40), more).extra).toBeCloseTo(0.12 * 80 * Math.PI, 9);
    expect(tapeRound(circle({ x: 0, y: 0 }, 50), more).extra).toBe(0);
  });

  it('takes at each sharp corner the share of the tight radius times the turn', () => {
    // [D] Four quarter turns.
    const { extra } = tapeRound(oblong(0, 0, 400, 300), { tightRadius: 50, tightExtra: 0.12 });
    expect(extra).toBeCloseTo(0.12 * 50 * 2 * Math.PI, 9);
  });

  it('is begun and joined for each stretch apart; two traces end to end are one stretch', () => {
    const tucked = [line(400, 0, 400, 300), line(0, 300, 0, 0)].map((path) =>
      feature('TUCK', path),
    );
    const twoRuns = tapeRound(oblong(0, 0, 400, 300), { tightExtra: 0, joining: 250 }, tucked);
    expect(twoRuns).toEqual({
      length: 800,
      runs: 2,
      joining: 500,
      extra: 0,
      total: 1300,
      pieces: [650, 650],
    });
    const traced = [line(0, 0, 400, 0), line(400, 0, 400, 300)].map((path) =>
      feature('BOUND', path),
    );
    const rest = feature('TUCK', line(0, 300, 0, 0));
    const oneRun = tapeRound(oblong(0, 0, 400, 300), { tightExtra: 0 }, [...traced, rest]);
    expect(oneRun).toEqual({
      length: 1100,
      runs: 1,
      joining: 250,
      extra: 0,
      total: 1350,
      pieces: [1350],
    });
  });

  it('is at least the bound edge and its joints, and at most a share more with curves alone', () => {
    fc.assert(
      fc.property(outline, (shape) => {
        const { length, total, joining } = tapeRound(shape, { tightRadius: 0 });
        expect(length).toBeCloseTo(pathLength(shape), 6);
        expect(total).toBeCloseTo(length + joining, 6);
        expect(tapeRound(shape, { tightRadius: 50 }).total).toBeGreaterThanOrEqual(total);
      }),
    );
  });
});

describe('the bench’s facts', () => {
  const floor = piece('floor', { edge: 'tuck' }, oblong(-500, 0, 500, 300), [
    { ...feature('SEAM', line(500, 300, -500, 300)), name: 'front' },
    feature('BOUND', line(-500, 0, 500, 0)),
    feature('TURNED', line(500, 0, 500, 300)),
    feature('STITCH', line(-400, 50, 400, 50)),
    feature('STITCH', line(-400, 250, -400, 50)),
    feature('MARK', line(0, 0, 0, 100)),
  ]);
  const dash = piece('dash', { edge: 'raw', covered: 'the dash' }, oblong(-500, 300, 502, 500), [
    feature('SEAM', line(-500, 300, 502, 300)),
  ]);
  const seams: SetContent['seams'] = [{ join: ['floor/front', 'dash'] }];

  it('tell lengths by what happens there, stitch lines, and what is sewn to what', () => {
    const [first, second] = factsOf([floor, dash], { seams });
    expect(first).toMatchObject({
      part: 'floor',
      edges: { bound: 1000, seam: 1000, tuck: 300, turned: 300, raw: 0 },
      seams: [{ partner: 'dash', edge: 'front', partnerEdge: null, length: 1000, ease: 2 }],
      stitch: 1000,
    });
    expect(second).toMatchObject({
      part: 'dash',
      edges: { bound: 0, seam: 1002, tuck: 0, turned: 0, raw: 1402 },
      tape: null,
      seams: [{ partner: 'floor', edge: null, partnerEdge: 'front', length: 1002, ease: -2 }],
      unsewn: [],
      stitch: 0,
    });
  });

  it('tell of half an edge that a pair shares', () => {
    const flap = piece(
      'flap',
      { side: 'pair', drawnSide: 'right', edge: 'tuck' },
      oblong(0, 300, 500, 400),
      [feature('SEAM', line(0, 300, 500, 300))],
    );
    const [first] = factsOf([floor, flap], { seams: [{ join: ['floor/front', 'flap'] }] });
    expect(first!.seams.map(({ partner, length }) => [partner, length])).toEqual([
      ['flap-left', 500],
      ['flap-right', 500],
    ]);
  });

  it('tell the notches of a seam that meet, by one name on both parts', () => {
    const notch = (x: number, y: number): Feature => feature('NOTCH', line(x, y, x, y));
    const at = (x: number, y: number): Path => ({ closed: false, vertices: [{ x, y, bulge: 0 }] });
    const withNotches = (one: Piece, xs: readonly number[]): Piece => ({
      ...one,
      features: [...one.features, ...xs.map((x) => ({ ...notch(x, 300), path: at(x, 300) }))],
    });
    // Along the floor's edge, which runs to the left: first the one at 200, then the one at -300.
    const [first, second] = factsOf(
      [withNotches(floor, [-300, 200]), withNotches(dash, [-300, 201])],
      {
        seams,
      },
    );
    expect(first!.seams[0]).toMatchObject({
      letter: 'A',
      notches: [
        { name: 'A1', at: { x: 200, y: 300 } },
        { name: 'A2', at: { x: -300, y: 300 } },
      ],
    });
    expect(second!.seams[0]).toMatchObject({
      letter: 'A',
      notches: [
        { name: 'A1', at: { x: 201, y: 300 } },
        { name: 'A2', at: { x: -300, y: 300 } },
      ],
    });
  });

  it('give each seam of a set a letter of its own, AA after Z', () => {
    const flaps = Array.from({ length: 14 }, (_, i) =>
      piece(
        `flap-${i}`,
        { side: 'pair', drawnSide: 'right', edge: 'tuck' },
        oblong(100, 300, 300, 400),
        [feature('SEAM', line(100, 300, 300, 300))],
      ),
    );
    const rests = flaps.map(({ name }) =>
      piece(
        `${name}-rest`,
        { side: 'pair', drawnSide: 'right', edge: 'tuck' },
        oblong(100, 100, 300, 300),
        [feature('SEAM', line(300, 300, 100, 300))],
      ),
    );
    const joins: SetContent['seams'] = flaps.map(({ name }) => ({ join: [name, `${name}-rest`] }));
    const facts = factsOf([...flaps, ...rests], { seams: joins });
    const letters = facts.flatMap(({ seams: own }) => own.map(({ letter }) => letter));
    expect(new Set(letters).size).toBe(28);
    expect(letters.filter((letter) => letter === 'AB')).toHaveLength(2);
    expect(letters).not.toContain('AC');
  });

  it('tell where a pad lies on its part, and what goes with what', () => {
    const mat = piece(
      'mat',
      {
        side: 'pair',
        drawnSide: 'right',
        pad: 'rubber',
        board: { material: 'board', inset: 2 },
        quantity: 2,
      },
      oblong(100, 0, 500, 600),
      [feature('PAD', oblong(150, 100, 350, 400), 'DRIVER')],
    );
    const facts = factsOf([mat]);
    const of = (part: string): BenchFacts => facts.find((one) => one.part === part)!;
    expect(of('mat-right-2')).toMatchObject({
      pads: [
        {
          pad: 'mat-pad-right-2',
          width: 200,
          length: 300,
          fromLeft: 50,
          fromRight: 150,
          fromFront: 200,
          fromRear: 100,
        },
      ],
      under: [{ kind: 'board', part: 'mat-board-right-2' }],
      carpet: null,
    });
    expect(of('mat-left-1')).toMatchObject({
      pads: [],
      under: [{ kind: 'board', part: 'mat-board-left-1' }],
    });
    expect(of('mat-pad-right-1').carpet).toBe('mat-right-1');
    expect(of('mat-board-left-2').carpet).toBe('mat-left-2');
  });

  it('tell no tape where the set names none', () => {
    const set = { ...patternSet('RHD', [floor]), binding: null };
    const { parts } = deriveParts(set, order('RHD'), materials);
    expect(benchFacts(parts, set, materials)[0]!.tape).toBeNull();
  });
});

it('a pad on a slanted mat is as far from its edges as a ruler through its middle says', () => {
  // The left edge runs from x 0 at y 0 to x 60 at y 600; the pad's middle is at y 250: the edge is at x 25 there.
  const slanted = polyline(
    [
      { x: 0, y: 0 },
      { x: 400, y: 0 },
      { x: 400, y: 600 },
      { x: 60, y: 600 },
    ],
    true,
  );
  const mat = piece('mat', { pad: 'rubber' }, slanted, [
    feature('PAD', oblong(150, 150, 300, 350)),
  ]);
  const [facts] = factsOf([mat]);
  expect(facts!.pads[0]).toMatchObject({
    fromLeft: 125,
    fromRight: 100,
    fromFront: 250,
    fromRear: 150,
  });
});
