import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf, signedArea } from '../../src/geometry/paths/area.ts';
import { boxOfPath, pathLength } from '../../src/geometry/paths/path.ts';
import { headingOf } from '../../src/geometry/paths/angle.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import { times } from '../../src/geometry/paths/point.ts';
import type { DrawnLine, Feature } from '../../src/pattern/feature.ts';
import type { PieceEntry } from '../../src/pattern/set-file.ts';
import { reflection, transformPath, translation } from '../../src/geometry/paths/transform.ts';
import { choicesKey, derivedFor, deriveParts } from '../../src/handing/derive.ts';
import type { Order } from '../../src/handing/order.ts';
import type { Notch, Part } from '../../src/handing/part.ts';
import { rounded } from '../../src/base/numbers.ts';
import type { Hand } from '../../src/pattern/words.ts';
import { hands } from '../../src/pattern/words.ts';
import { outline } from '../geometry/arbitrary.ts';
import { feature, line, materials, oblong, order, patternSet, piece } from './fixtures.ts';

const M = reflection({ x: 0, y: 0 }, 90);

function derive(set: ReturnType<typeof patternSet>, hand: Hand, options = {}): Map<string, Part> {
  const { parts, findings } = deriveParts(set, order(hand, options), materials);
  expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  return new Map(parts.map((part) => [part.name, part]));
}

/** Boxes of the inner contours, sorted from left to right. */
function innerBoxes(part: Part | undefined): [number, number][] {
  const boxes = (part?.inner ?? []).map(({ path }) => boxOfPath(path));
  return boxes.map(({ minX, maxX }): [number, number] => [minX, maxX]).sort((a, b) => a[0] - b[0]);
}

/** A PILE line at an angle. */
function pileAt(deg: number): DrawnLine {
  return { from: { x: 0, y: 0 }, to: times(headingOf(deg), 100) };
}

/** Crossings come with the noise of their last bits. */
function toNanometre(notches: readonly Notch[]): Notch[] {
  const bare = ({ x, y }: Point): Point => ({ x: rounded(x, 6), y: rounded(y, 6) });
  return notches.map(({ from, to }) => ({ from: bare(from), to: bare(to) }));
}

const sameAs = (path: Path): Path => path;
const mirror = (path: Path): Path => transformPath(M, path);

// An outline with no symmetry of its own, right of the centreline; a hole low on it tells it from its image.
const shape = oblong(100, 0, 500, 300);
const lopsided: Path = {
  closed: true,
  vertices: [...shape.vertices.slice(0, 3), { x: 150, y: 280, bulge: 0.2 }],
};
const hole = oblong(400, 20, 450, 60);

describe('several sets of one order', () => {
  it('are each what one set is, but for their labels', () => {
    const set = patternSet('RHD', [piece('mat', { side: 'pair', drawnSide: 'right' }, lopsided)]);
    const { parts } = deriveParts(set, order('LHD', { quantity: 3 }), materials);
    const labels = parts.map(({ label }) => label);
    expect(new Set(labels).size).toBe(6);
    expect(labels.slice(2, 4).sort()).toEqual(['mat-left.2.A', 'mat-right.2.A']);
    expect(parts.map((part) => part.set)).toEqual([1, 1, 2, 2, 3, 3]);
    for (const part of parts) {
      const single = derive(set, 'LHD').get(part.name)!;
      expect({ ...part, label: single.label, set: 1 }).toEqual(single);
    }
  });
});

describe('orders that choose the same', () => {
  it('have the parts of each other, under their own labels', () => {
    const set = patternSet('RHD', [
      piece('mat', { side: 'pair', drawnSide: 'right' }, oblong(100, 0, 500, 300)),
      piece('lid', { quantity: 2 }, oblong(0, 400, 300, 700)),
    ]);
    for (const hand of hands) {
      const first: Order = { ...order(hand), order: 'A', quantity: 2, customer: 'C-1' };
      const other: Order = { ...first, order: 'B', customer: 'C-2', due: '2030-01-01' };
      expect(choicesKey(other)).toBe(choicesKey(first));
      const made = deriveParts(set, first, materials);
      expect(derivedFor(other, made)).toEqual(deriveParts(set, other, materials));
      // They share their contours, so that each is drawn once.
      expect(derivedFor(other, made).parts[0]!.cut).toBe(made.parts[0]!.cut);
    }
  });

  it('choose the same only if nothing differs that a part has', () => {
    const one = order('RHD');
    for (const more of [
      { hand: 'LHD' },
      { quantity: 2 },
      { heelPads: 'both' },
      { boards: false },
      { carpet: { colour: 'red' } },
      { binding: 'red' },
      { alone: ['mat'] },
      { options: { table: true } },
      { set: 'other' },
    ] as const) {
      expect(choicesKey({ ...one, ...more } as Order)).not.toBe(choicesKey(one));
    }
  });
});

describe('outlines: the rows of the handedness table', () => {
  it.each(hands)(
    'a pair drawn for the right side gives it as drawn and its mirror image, %s',
    (hand) => {
      const parts = derive(
        patternSet('RHD', [piece('mat', { side: 'pair', drawnSide: 'right' }, lopsided)]),
        hand,
      );
      expect([...parts.keys()].sort()).toEqual(['mat-left', 'mat-right']);
      expect(parts.get('mat-right')!.net).toEqual(lopsided);
      expect(parts.get('mat-left')!.net).toEqual(mirror(lopsided));
    },
  );

  it.each(hands)('a piece fixed to the left of the body is as drawn, %s', (hand) => {
    const parts = derive(patternSet('RHD', [piece('step', { side: 'left' }, lopsided)]), hand);
    expect([...parts.keys()]).toEqual(['step-left']);
    expect(parts.get('step-left')!.net).toEqual(lopsided);
  });

  it.each([
    ['driver', 'RHD', 'foot-right', sameAs],
    ['driver', 'LHD', 'foot-left', mirror],
    ['passenger', 'RHD', 'foot-left', sameAs],
    ['passenger', 'LHD', 'foot-right', mirror],
  ] as const)('a %s piece of a set drawn RHD, cut %s, is %s', (side, hand, label, image) => {
    const parts = derive(patternSet('RHD', [piece('foot', { side }, lopsided)]), hand);
    expect([...parts.keys()]).toEqual([label]);
    expect(parts.get(label)!.net).toEqual(image(lopsided));
  });

  it.each([
    ['body', 'RHD', sameAs],
    ['body', 'LHD', sameAs],
    ['driver', 'RHD', sameAs],
    ['driver', 'LHD', mirror],
  ] as const)('a centre outline that follows the %s, cut %s', (follows, hand, image) => {
    const parts = derive(patternSet('RHD', [piece('floor', { outline: follows }, lopsided)]), hand);
    expect([...parts.keys()]).toEqual(['floor']);
    expect(parts.get('floor')!.net).toEqual(image(lopsided));
  });
});

describe('features: the rows of the handedness table', () => {
  const onPair = (follows: Parameters<typeof feature>[2], hand: Hand): string[] => {
    const mat = piece('mat', { side: 'pair', drawnSide: 'right' }, lopsided, [
      feature('CUTOUT', hole, follows),
    ]);
    return [...derive(patternSet('RHD', [mat]), hand)].flatMap(([name, part]) =>
      part.inner.length === 1 ? [`${name} ${innerBoxes(part)[0]!.join('..')}`] : [],
    );
  };
  const [left, right] = ['mat-left -450..-400', 'mat-right 400..450'];

  // On a pair: without suffix on both halves, mirrored on the other; with one only on that side.
  it.each([
    [null, 'RHD', [left, right]],
    [null, 'LHD', [left, right]],
    ['DRIVER', 'RHD', [right]],
    ['DRIVER', 'LHD', [left]],
    ['PASSENGER', 'RHD', [left]],
    ['PASSENGER', 'LHD', [right]],
    ['LEFT', 'RHD', [left]],
    ['LEFT', 'LHD', [left]],
    ['RIGHT', 'RHD', [right]],
    ['RIGHT', 'LHD', [right]],
  ] as const)('on a pair, follows %s, cut %s: %j', (follows, hand, expected) => {
    expect(onPair(follows, hand)).toEqual(expected);
  });

  // On a centre piece: what follows a person changes side, everything else stays.
  it.each([
    [null, 'LHD', [400, 450]],
    ['DRIVER', 'RHD', [400, 450]],
    ['DRIVER', 'LHD', [-450, -400]],
    ['PASSENGER', 'LHD', [-450, -400]],
    ['RIGHT', 'LHD', [400, 450]],
    ['LEFT', 'LHD', [-450, -400]],
  ] as const)('on a centre piece, follows %s, cut %s: %j', (follows, hand, expected) => {
    const own = follows === 'LEFT' ? mirror(hole) : hole;
    const floor = piece('floor', {}, oblong(-500, 0, 500, 300), [feature('CUTOUT', own, follows)]);
    expect(innerBoxes(derive(patternSet('RHD', [floor]), hand).get('floor'))).toEqual([expected]);
  });

  it('on a centre piece whose outline follows the driver, what follows nobody goes with it', () => {
    const floor = piece('floor', { outline: 'driver' }, lopsided, [feature('CUTOUT', hole)]);
    expect(innerBoxes(derive(patternSet('RHD', [floor]), 'LHD').get('floor'))).toEqual([
      [-450, -400],
    ]);
  });

  // A person's feature on a body-fixed piece: only when that person sits on that side.
  it.each([
    ['left', 'DRIVER', 'RHD', 0],
    ['left', 'DRIVER', 'LHD', 1],
    ['right', 'DRIVER', 'RHD', 1],
    ['right', 'PASSENGER', 'LHD', 1],
    ['left', 'LEFT', 'RHD', 1],
  ] as const)('on a piece fixed %s, follows %s, cut %s: %i', (side, follows, hand, count) => {
    const step = piece('step', { side }, lopsided, [feature('CUTOUT', hole, follows)]);
    expect(derive(patternSet('RHD', [step]), hand).get(`step-${side}`)!.inner.length).toBe(count);
  });

  // A side's feature on a person's piece: only when the piece lies on that side.
  it.each([
    ['driver', 'RIGHT', 'RHD', 1],
    ['driver', 'RIGHT', 'LHD', 0],
    ['driver', 'LEFT', 'LHD', 1],
    ['passenger', 'LEFT', 'RHD', 1],
    ['passenger', 'LEFT', 'LHD', 0],
    ['driver', 'DRIVER', 'LHD', 1],
  ] as const)('on a %s piece, follows %s, cut %s: %i', (side, follows, hand, count) => {
    const foot = piece('foot', { side }, lopsided, [feature('CUTOUT', hole, follows)]);
    const [part] = derive(patternSet('RHD', [foot]), hand).values();
    expect(part!.inner.length).toBe(count);
  });
});

describe('heel pads', () => {
  const pad = oblong(200, 50, 380, 200);
  const names = (
    side: 'pair' | 'centre',
    heelPads: 'driver' | 'both' | 'none',
    hand: Hand,
  ): string[] => {
    const entry = side === 'pair' ? ({ side, drawnSide: 'right' } as const) : ({ side } as const);
    const outlinePath = side === 'pair' ? lopsided : oblong(-500, 0, 500, 300);
    const mat = piece('mat', { ...entry, pad: 'rubber' }, outlinePath, [
      feature('PAD', pad, 'DRIVER'),
    ]);
    return [...derive(patternSet('RHD', [mat]), hand, { heelPads }).values()]
      .filter(({ kind }) => kind === 'pad')
      .map(({ name, cut }) => `${name} ${boxOfPath(cut).minX}`)
      .sort();
  };

  it.each([
    ['pair', 'driver', 'RHD', ['mat-pad-right 200']],
    ['pair', 'driver', 'LHD', ['mat-pad-left -380']],
    ['pair', 'both', 'RHD', ['mat-pad-left -380', 'mat-pad-right 200']],
    ['pair', 'both', 'LHD', ['mat-pad-left -380', 'mat-pad-right 200']],
    ['pair', 'none', 'RHD', []],
    ['centre', 'driver', 'RHD', ['mat-pad-right 200']],
    ['centre', 'driver', 'LHD', ['mat-pad-left -380']],
    ['centre', 'both', 'LHD', ['mat-pad-left -380', 'mat-pad-right 200']],
    ['centre', 'none', 'LHD', []],
  ] as const)('on a %s, %s, cut %s: %j', (side, heelPads, hand, expected) => {
    expect(names(side, heelPads, hand)).toEqual(expected);
  });
});

describe('the stitch line that holds a heel pad', () => {
  const pad = oblong(200, 50, 300, 150);
  const mat = piece('mat', { side: 'pair', drawnSide: 'right', pad: 'rubber' }, shape, [
    feature('PAD', pad, 'DRIVER'),
    feature('STITCH', oblong(210, 60, 290, 140), 'DRIVER'),
    // This one lies beside the pad, and holds something else.
    feature('STITCH', oblong(320, 60, 380, 140)),
  ]);
  const stitched = (heelPads: string): string[] =>
    [...derive(patternSet('RHD', [mat]), 'LHD', { heelPads }).values()]
      .filter(({ kind }) => kind === 'piece')
      .map(({ name, marks }) => {
        const count = (role: string): number => marks.filter((mark) => mark.role === role).length;
        return `${name}: ${count('PAD')} ${count('STITCH')}`;
      });

  it.each([
    ['none', ['mat-left: 0 1', 'mat-right: 0 1']],
    ['driver', ['mat-left: 1 2', 'mat-right: 0 1']],
    ['both', ['mat-left: 1 2', 'mat-right: 1 2']],
  ])('is there where the pad is: %s', (heelPads, wanted) => {
    expect(stitched(heelPads).toSorted()).toEqual(wanted);
  });
});

describe('heel pads whose layer says nobody', () => {
  const right = oblong(200, 50, 380, 200);
  const left = oblong(-380, 50, -200, 200);
  const pads = (
    entry: Partial<PieceEntry>,
    drawn: Feature[],
    heelPads: 'driver' | 'both' | 'none',
    hand: Hand,
  ): string[] => {
    const { side } = entry;
    const outlinePath = side === 'centre' ? oblong(-500, 0, 500, 300) : oblong(100, 0, 500, 300);
    const mat = piece('mat', { ...entry, pad: 'rubber' }, outlinePath, drawn);
    return [...derive(patternSet('RHD', [mat]), hand, { heelPads }).values()]
      .filter(({ kind }) => kind === 'pad')
      .map(({ name }) => name)
      .sort();
  };
  const [pair, centre] = [{ side: 'pair', drawnSide: 'right' }, { side: 'centre' }] as const;
  const [onLeft, onRight] = [feature('PAD', left), feature('PAD', right)];

  it.each([
    ['a pair', pair, [onRight], 'driver', 'RHD', ['mat-pad-right']],
    ['a pair', pair, [onRight], 'driver', 'LHD', ['mat-pad-left']],
    ['a pair', pair, [onRight], 'both', 'LHD', ['mat-pad-left', 'mat-pad-right']],
    ['a pair', pair, [onRight], 'none', 'LHD', []],
    ['a centre piece', centre, [onLeft, onRight], 'driver', 'RHD', ['mat-pad-right']],
    ['a centre piece', centre, [onLeft, onRight], 'driver', 'LHD', ['mat-pad-left']],
    ['a centre piece', centre, [onLeft, onRight], 'both', 'LHD', ['mat-pad-left', 'mat-pad-right']],
    ['the driver’s piece', { side: 'driver' }, [onRight], 'driver', 'LHD', ['mat-pad-left']],
    ['the passenger’s piece', { side: 'passenger' }, [onRight], 'driver', 'LHD', []],
    ['the passenger’s piece', { side: 'passenger' }, [onRight], 'both', 'RHD', ['mat-pad-left']],
    ['the right one', { side: 'right' }, [onRight], 'driver', 'RHD', ['mat-pad-right']],
    ['the right one', { side: 'right' }, [onRight], 'driver', 'LHD', []],
    ['the left of a centre piece', centre, [feature('PAD', left, 'LEFT')], 'driver', 'RHD', []],
  ] as const)('on %s: %#', (_, entry, drawn, heelPads, hand, expected) => {
    expect(pads(entry, [...drawn], heelPads, hand)).toEqual(expected);
  });
});

describe('heel pads drawn for the passenger too', () => {
  const pads = [
    feature('PAD', oblong(200, 50, 380, 200), 'DRIVER'),
    feature('PAD', oblong(-300, 60, -150, 180), 'PASSENGER'),
  ];
  const floor = piece('floor', { pad: 'rubber' }, oblong(-500, 0, 500, 300), pads);

  it.each([
    ['driver', 'RHD', ['floor-pad-right 200']],
    ['both', 'RHD', ['floor-pad-left -300', 'floor-pad-right 200']],
    ['both', 'LHD', ['floor-pad-left -380', 'floor-pad-right 150']],
  ] as const)('%s, cut %s: %j', (heelPads, hand, expected) => {
    const found = [...derive(patternSet('RHD', [floor]), hand, { heelPads }).values()]
      .filter(({ kind }) => kind === 'pad')
      .map(({ name, cut }) => `${name} ${boxOfPath(cut).minX}`);
    expect(found.sort()).toEqual(expected);
  });
});

describe('laws of handedness, on random outlines', () => {
  const asymmetric = outline.map((path) => transformPath(translation({ x: 900, y: 0 }), path));

  it('cutting the other hand of a mirrored set gives the first set back, to the last bit', () => {
    fc.assert(
      fc.property(
        asymmetric,
        fc.constantFrom('driver' as const, 'passenger' as const),
        (path, side) => {
          const drawn = derive(patternSet('RHD', [piece('foot', { side }, path)]), 'RHD');
          const other = [
            ...derive(patternSet('RHD', [piece('foot', { side }, path)]), 'LHD').values(),
          ][0]!;
          expect(drawn.size).toBe(1);
          const back = derive(patternSet('LHD', [piece('foot', { side }, other.net)]), 'RHD');
          expect([...back.values()].map(({ net, name }) => ({ net, name }))).toEqual(
            [...drawn.values()].map(({ net, name }) => ({ net, name })),
          );
        },
      ),
    );
  });

  it('a pair never comes out as two of one side, and both halves keep area, length and direction', () => {
    fc.assert(
      fc.property(
        asymmetric,
        fc.constantFrom('left' as const, 'right' as const),
        (path, drawnSide) => {
          const parts = [
            ...derive(
              patternSet('RHD', [piece('mat', { side: 'pair', drawnSide }, path)]),
              'LHD',
            ).values(),
          ];
          const [a, b] = parts as [Part, Part];
          expect(parts.map(({ side }) => side).sort()).toEqual(['left', 'right']);
          expect(b.net).toEqual(mirror(a.net));
          for (const { net } of parts) {
            expect(signedArea(net) / areaOf(path)).toBeCloseTo(1, 9);
            expect(pathLength(net) / pathLength(path)).toBeCloseTo(1, 9);
          }
        },
      ),
    );
  });

  it('the pile points the same way on both halves of a pair and in both hands', () => {
    const slanted = {
      ...piece('mat', { side: 'pair', drawnSide: 'right' }, lopsided),
      pile: pileAt(-70),
    };
    for (const hand of hands) {
      const parts = derive(patternSet('RHD', [slanted]), hand);
      expect([...parts.keys()].sort()).toEqual(['mat-left', 'mat-right']);
      for (const part of parts.values()) expect(part.pileDeg).toBeCloseTo(290, 9);
    }
  });
});

describe('AXIS lines', () => {
  it('a block drawn lying down is stood up on its centreline', () => {
    // The centreline runs along y = 50, towards -x: what is drawn above it lies to the right.
    const axis = { from: { x: 300, y: 50 }, to: { x: 0, y: 50 } };
    const floor = {
      ...piece('floor', {}, oblong(0, -50, 300, 150), [
        feature('CUTOUT', oblong(100, 100, 120, 130)),
      ]),
      axis,
      pile: pileAt(0),
    };
    const part = derive(patternSet('RHD', [floor]), 'RHD').get('floor')!;
    const box = boxOfPath(part.inner[0]!.path);
    expect([box.minX, box.maxX]).toEqual([50, 80]);
    expect(part.pileDeg).toBe(270);
  });
});

describe('AXIS lines drawn from front to back', () => {
  it('are the same centreline: nothing is turned', () => {
    const backwards = { from: { x: 0, y: 300 }, to: { x: 0, y: 0 } };
    const features = [feature('CUTOUT', hole)];
    const floor = { ...piece('floor', {}, oblong(-500, 0, 500, 300), features), axis: backwards };
    expect(innerBoxes(derive(patternSet('RHD', [floor]), 'RHD').get('floor'))).toEqual([
      [400, 450],
    ]);
  });
});

describe('allowances', () => {
  // By hand: 400 x 300 with 10 below (seam), 30 left (tuck), none above and right.
  it('move each stretch by what its kind is allowed', () => {
    const traces = [feature('SEAM', line(100, 0, 500, 0)), feature('TUCK', line(100, 300, 100, 0))];
    const part = derive(
      patternSet('RHD', [piece('mat', { side: 'left' }, shape, traces)]),
      'RHD',
    ).get('mat-left')!;
    expect(areaOf(part.net)).toBe(120000);
    const { minX, minY, maxX, maxY } = boxOfPath(part.cut);
    for (const [value, expected] of [
      [minX, 70],
      [minY, -10],
      [maxX, 500],
      [maxY, 300],
    ] as const) {
      expect(value).toBeCloseTo(expected, 9);
    }
    expect(areaOf(part.cut)).toBeCloseTo(430 * 310, 6);
    expect(part.edges.map(({ kind, onShow }) => [kind, onShow]).sort()).toEqual([
      ['bound', true],
      ['seam', false],
      ['tuck', false],
    ]);
  });

  it('notches move out to the cut line and go in by the depth', () => {
    const features = [
      feature('SEAM', line(500, 0, 100, 0)),
      feature('NOTCH', { closed: false, vertices: [{ x: 250, y: 0, bulge: 0 }] }),
    ];
    const part = derive(
      patternSet('RHD', [piece('mat', { side: 'left' }, shape, features)]),
      'RHD',
    ).get('mat-left')!;
    expect(toNanometre(part.notches)).toEqual([
      { from: { x: 250, y: -10 }, to: { x: 250, y: -5 } },
    ]);
  });

  it('each notch moves by the allowance of the edge it stands on', () => {
    const features = [
      feature('SEAM', line(100, 0, 500, 0)),
      feature('TUCK', line(100, 300, 500, 300)),
      feature('NOTCH', { closed: false, vertices: [{ x: 250, y: 300, bulge: 0 }] }),
      feature('NOTCH', { closed: false, vertices: [{ x: 500, y: 150, bulge: 0 }] }),
      feature('NOTCH', line(200, 0, 200, 8)),
    ];
    const [part] = derive(
      patternSet('RHD', [piece('mat', { side: 'left' }, shape, features)]),
      'RHD',
    ).values();
    // Tuck 30, bound 0, seam 10; each slit is as deep as the material says, however long its line is.
    expect(toNanometre(part!.notches)).toEqual([
      { from: { x: 250, y: 330 }, to: { x: 250, y: 325 } },
      { from: { x: 500, y: 150 }, to: { x: 495, y: 150 } },
      { from: { x: 200, y: -10 }, to: { x: 200, y: -5 } },
    ]);
    // The piece's own depth; under the seam no more than its 10 mm.
    const own = { side: 'left' as const, notch: 12 };
    const [deep] = derive(patternSet('RHD', [piece('mat', own, shape, features)]), 'RHD').values();
    expect(toNanometre(deep!.notches).map(({ to }) => to)).toEqual([
      { x: 250, y: 318 },
      { x: 488, y: 150 },
      { x: 200, y: 0 },
    ]);
  });
});

describe('how a piece may lie on the roll', () => {
  const entry = {
    side: 'pair',
    drawnSide: 'right',
    turns: 'two-way',
    tilt: 4,
    pad: 'rubber',
    board: { material: 'board', inset: 2 },
  } as const;
  const pad = feature('PAD', oblong(200, 50, 300, 150));

  it('goes with its carpet in both halves, and not with pads and boards', () => {
    const parts = derive(patternSet('RHD', [piece('mat', entry, shape, [pad])]), 'RHD', {
      quantity: 2,
    });
    for (const name of ['mat-left', 'mat-right']) {
      expect(parts.get(name)).toMatchObject({ turns: 'two-way', tilt: 4 });
    }
    for (const name of ['mat-pad-right', 'mat-board-left', 'mat-board-right']) {
      expect(parts.get(name)).toBeDefined();
      expect(parts.get(name)).not.toHaveProperty('turns');
      expect(parts.get(name)).not.toHaveProperty('tilt');
    }
  });

  it('is its material’s where the set says nothing', () => {
    const { turns: _, tilt: __, ...plain } = entry;
    const parts = derive(patternSet('RHD', [piece('mat', plain, shape)]), 'LHD');
    expect([...parts.keys()]).toEqual(expect.arrayContaining(['mat-left', 'mat-right']));
    for (const part of parts.values()) {
      expect(part).not.toHaveProperty('turns');
      expect(part).not.toHaveProperty('tilt');
    }
  });
});
