import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Comparable, Detail, Item } from '../../src/compare/comparable.ts';
import type { Difference, DifferenceKind } from '../../src/compare/difference.ts';
import { differencesOf } from '../../src/compare/differences.ts';
import { longestRise } from '../../src/compare/order-difference.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../src/geometry/paths/path.ts';
import type { Transform } from '../../src/geometry/paths/transform.ts';
import {
  compose,
  reflection,
  rotation,
  transformPath,
  translation,
} from '../../src/geometry/paths/transform.ts';
import type { Random } from '../support/random.ts';
import { randomFrom } from '../support/random.ts';
import { drawnOtherwise, handedOutline } from './shapes.ts';
import { tries } from '../support/thorough.ts';

const tolerance = 0.01;
const seed = fc.integer({ min: 0, max: 2 ** 31 });

/** Parts in places of their own on a roll, each with a hole, a notch and a mark; by seed. */
function someParts(random: Random): Comparable {
  const items = Array.from({ length: 4 + random.below(5) }, (_, rank): Item => {
    const place = translation({ x: 4000 * rank, y: 0 });
    const outline = transformPath(place, handedOutline(random));
    const { x, y } = outline.vertices[0]!;
    const side = rank % 3 === 0 ? null : rank % 3 === 1 ? 'left' : 'right';
    const details: Detail[] = [
      { role: 'HOLE', path: circle({ x: x + 90, y: y + 90 }, 12 + random.below(8)) },
      {
        role: 'NOTCH',
        path: polyline(
          [
            { x: x + 60, y: y + 2 },
            { x: x + 60, y: y + 8 },
          ],
          false,
        ),
      },
      {
        role: 'MARK',
        path: polyline(
          [
            { x: x + 150, y: y + 60 },
            { x: x + 190, y: y + 110 },
            { x: x + 200, y: y + 70 },
          ],
          false,
        ),
      },
    ];
    return {
      label: `piece-${rank}${side === null ? '' : `-${side}`}.1.A1`,
      what: 'part',
      side,
      outline,
      details,
      rank,
      words: { material: 'carpet', hand: 'RHD' },
      sheet: 'carpet',
    };
  });
  return {
    kind: 'run',
    items,
    words: { title: 'a run', cutter: 'long-bay' },
    texts: ['one', 'two', 'two'],
  };
}

function shuffled<T>(values: readonly T[], { below }: Random): T[] {
  return values
    .map((value) => ({ value, key: below(1e9) }))
    .sort((a, b) => a.key - b.key)
    .map(({ value }) => value);
}

/** The same things said in another way. */
function saidOtherwise(input: Comparable, random: Random): Comparable {
  const items = input.items.map((item) => ({
    ...item,
    outline: drawnOtherwise(item.outline, random),
    details: shuffled(item.details, random).map(({ role, path }) => ({
      role,
      path: path.vertices.length > 2 || !path.closed ? drawnOtherwise(path, random) : path,
    })),
  }));
  return { ...input, items: shuffled(items, random), texts: shuffled(input.texts, random) };
}

function withItem(input: Comparable, index: number, change: (item: Item) => Item): Comparable {
  return { ...input, items: input.items.map((item, i) => (i === index ? change(item) : item)) };
}

function carriedBy(motion: Transform): (item: Item) => Item {
  return (item) => ({
    ...item,
    outline: transformPath(motion, item.outline),
    details: item.details.map(({ role, path }) => ({ role, path: transformPath(motion, path) })),
  });
}

function withDetail(role: string, change: (path: Path) => Path[]): (item: Item) => Item {
  return (item) => ({
    ...item,
    details: item.details.flatMap((one) =>
      one.role === role ? change(one.path).map((path) => ({ role, path })) : [one],
    ),
  });
}

/** One change by seed, and what must be told of it: of which kind, of which item, and what else is known. */
interface Change {
  readonly what: string;
  readonly make: (input: Comparable, k: number, random: Random) => Comparable;
  readonly kind: DifferenceKind;
  readonly holds?: (told: Difference, before: Item, random: Random) => void;
}

const step = (random: Random): number => 0.02 + random.below(5000) / 100;

const changes: readonly Change[] = [
  {
    what: 'a part moved',
    kind: 'moved',
    make: (input, k, random) =>
      withItem(input, k, carriedBy(translation({ x: step(random), y: 0 }))),
    holds: (told, _, random) => expect(told.distance).toBeCloseTo(step(random), 3),
  },
  {
    what: 'a part turned',
    kind: 'turned',
    make: (input, k, random) =>
      withItem(input, k, (item) => {
        const { x, y } = item.outline.vertices[0]!;
        const about = compose(
          translation({ x, y }),
          compose(rotation(1 + random.below(300)), translation({ x: -x, y: -y })),
        );
        return carriedBy(about)(item);
      }),
    holds: (told, _, random) => {
      const deg = 1 + random.below(300);
      expect(told.turnDeg).toBeCloseTo(deg > 180 ? deg - 360 : deg, 2);
    },
  },
  {
    what: 'a part mirrored',
    kind: 'mirrored',
    make: (input, k) =>
      withItem(input, k, (item) => carriedBy(reflection(item.outline.vertices[0]!, 90))(item)),
    holds: (told, before) => {
      const now = before.side === null ? 'other' : before.side === 'left' ? 'right' : 'left';
      expect(told.message).toContain(`now the ${now} hand`);
    },
  },
  {
    what: 'a corner moved',
    kind: 'outline',
    make: (input, k, random) => {
      const by = step(random);
      return withItem(input, k, (item) => ({
        ...item,
        outline: {
          ...item.outline,
          vertices: item.outline.vertices.map((v, i) => (i === 3 ? { ...v, x: v.x + by } : v)),
        },
      }));
    },
    holds: (told, before, random) => {
      const by = step(random);
      expect(told.distance).toBeLessThanOrEqual(by + 1e-6);
      expect(told.distance).toBeGreaterThan(0.3 * by);
      // The corner goes straight right: the area grows by half of that times the height of its two sides' far ends.
      const [a, , c] = before.outline.vertices.slice(2, 5);
      expect(told.areaDifference).toBeCloseTo((by * (c!.y - a!.y)) / 2, 1);
      expect(
        Math.hypot(
          told.at!.x - (before.outline.vertices[3]!.x + by),
          told.at!.y - before.outline.vertices[3]!.y,
        ),
      ).toBeLessThan(by + 3);
    },
  },
  {
    what: 'an arc bulged',
    kind: 'outline',
    make: (input, k) =>
      withItem(input, k, (item) => ({
        ...item,
        outline: {
          ...item.outline,
          vertices: item.outline.vertices.map((v, i) =>
            i === 1 ? { ...v, bulge: v.bulge + 0.01 } : v,
          ),
        },
      })),
  },
  {
    what: 'a part left out',
    kind: 'removed',
    make: (input, k) => ({ ...input, items: input.items.filter((_, i) => i !== k) }),
  },
  {
    what: 'a part more',
    kind: 'added',
    make: (input, k) => ({
      ...input,
      items: [
        ...input.items,
        {
          ...carriedBy(translation({ x: 0, y: 5000 }))(input.items[k]!),
          label: 'more.1.A1',
          rank: 99,
        },
      ],
    }),
  },
  {
    what: 'a hole left out',
    kind: 'detail',
    make: (input, k) =>
      withItem(
        input,
        k,
        withDetail('HOLE', () => []),
      ),
  },
  {
    what: 'a hole more',
    kind: 'detail',
    make: (input, k) =>
      withItem(
        input,
        k,
        withDetail('HOLE', (path) => [path, transformPath(translation({ x: 60, y: 0 }), path)]),
      ),
  },
  {
    what: 'a hole moved',
    kind: 'detail',
    make: (input, k, random) =>
      withItem(
        input,
        k,
        withDetail('HOLE', (path) => [transformPath(translation({ x: 0, y: step(random) }), path)]),
      ),
    holds: (told, _, random) => expect(told.distance).toBeCloseTo(step(random), 3),
  },
  {
    what: 'a hole wider',
    kind: 'detail',
    make: (input, k) =>
      withItem(
        input,
        k,
        withDetail('HOLE', (path) => {
          const [a, b] = path.vertices;
          return [circle({ x: (a!.x + b!.x) / 2, y: a!.y }, (a!.x - b!.x) / 2 + 0.5)];
        }),
      ),
    holds: (told) => expect(told.distance).toBeCloseTo(0.5, 3),
  },
  {
    what: 'a notch deeper',
    kind: 'detail',
    make: (input, k) =>
      withItem(
        input,
        k,
        withDetail('NOTCH', ({ vertices: [a, b] }) => [
          polyline([a!, { x: b!.x, y: b!.y + 2 }], false),
        ]),
      ),
    holds: (told) => expect(told.distance).toBeCloseTo(2, 6),
  },
  {
    what: 'a mark mirrored where it is',
    kind: 'detail',
    make: (input, k) =>
      withItem(
        input,
        k,
        withDetail('MARK', (path) => [transformPath(reflection(path.vertices[0]!, 90), path)]),
      ),
  },
  {
    what: 'two parts cut in another order',
    kind: 'order',
    make: (input, k) => {
      const other = (k + 1) % input.items.length;
      const ranks = input.items.map(({ rank }) => rank);
      return {
        ...input,
        items: input.items.map((item, i) =>
          i === k
            ? { ...item, rank: ranks[other]! }
            : i === other
              ? { ...item, rank: ranks[k]! }
              : item,
        ),
      };
    },
  },
  {
    what: 'a word of a part',
    kind: 'words',
    make: (input, k) =>
      withItem(input, k, (item) => ({ ...item, words: { ...item.words, hand: 'LHD' } })),
  },
  {
    what: 'a word of the whole',
    kind: 'words',
    make: (input) => ({ ...input, words: { ...input.words, title: 'another' } }),
  },
  {
    what: 'a text',
    kind: 'words',
    make: (input) => ({ ...input, texts: ['one', 'two', 'three'] }),
  },
  { what: 'a text less', kind: 'words', make: (input) => ({ ...input, texts: ['one', 'two'] }) },
  {
    what: 'a name',
    kind: 'words',
    make: (input, k) => withItem(input, k, (item) => ({ ...item, label: 'renamed.1.A1' })),
  },
];

describe('the differences of two inputs', () => {
  it('are none where the same is said in another order, from other starts, in other pieces', () => {
    fc.assert(
      fc.property(seed, (n) => {
        const input = someParts(randomFrom(n));
        expect(differencesOf(input, saidOtherwise(input, randomFrom(n + 1)), tolerance)).toEqual(
          [],
        );
      }),
      { numRuns: tries(20, 30) },
    );
  });

  it.each(changes.map((change) => [change.what, change] as const))(
    'are one and that alone: %s',
    (_, change) => {
      fc.assert(
        fc.property(seed, (n) => {
          const before = someParts(randomFrom(n));
          const k = randomFrom(n + 2).below(before.items.length);
          const changed = change.make(before, k, randomFrom(n + 3));
          const found = differencesOf(before, saidOtherwise(changed, randomFrom(n + 4)), tolerance);
          expect(found.map(({ kind }) => kind)).toEqual([change.kind]);
          const label = before.items[k]!.label;
          const [told] = found;
          if (change.kind !== 'order' && change.kind !== 'added' && told!.label !== null)
            expect(told!.label).toBe(label);
          change.holds?.(told!, before.items[k]!, randomFrom(n + 3));
        }),
        { numRuns: tries(15, 20) },
      );
    },
  );

  // All but another name.
  const nameless = changes.filter(({ what }) => what !== 'a name');
  it.each(nameless.map((change) => [change.what, change] as const))(
    'are one without any labels too: %s',
    (_, change) => {
      fc.assert(
        fc.property(seed, (n) => {
          const bare = (input: Comparable): Comparable => ({
            ...input,
            items: input.items.map((item) => ({ ...item, label: null })),
          });
          const before = someParts(randomFrom(n));
          const k = randomFrom(n + 2).below(before.items.length);
          const changed = change.make(before, k, randomFrom(n + 3));
          const found = differencesOf(
            bare(before),
            saidOtherwise(bare(changed), randomFrom(n + 4)),
            tolerance,
          );
          expect(found.map(({ kind }) => kind)).toEqual([change.kind]);
        }),
        { numRuns: tries(10, 10) },
      );
    },
  );

  it('are none within the tolerance, and told beyond it', () => {
    const before = someParts(randomFrom(3));
    const moved = withItem(before, 1, carriedBy(translation({ x: 0.4, y: 0 })));
    expect(differencesOf(before, moved, 0.41)).toEqual([]);
    expect(differencesOf(before, moved, 0.39)).toHaveLength(1);
  });

  it('tell that a part lies on another roll, though in the same place there', () => {
    const before = someParts(randomFrom(5));
    const after = withItem(before, 2, (item) => ({ ...item, sheet: 'carpet-2' }));
    expect(differencesOf(before, after, tolerance)).toMatchObject([
      {
        kind: 'moved',
        label: before.items[2]!.label,
        message: 'lies on carpet-2; it was on carpet.',
      },
    ]);
  });

  it('do not call a shape mirrored that is its own image', () => {
    const box = polyline(
      [
        { x: 0, y: 0 },
        { x: 300, y: 0 },
        { x: 300, y: 200 },
        { x: 0, y: 200 },
      ],
      true,
    );
    const item = { ...someParts(randomFrom(1)).items[0]!, outline: box, details: [] };
    const input: Comparable = { kind: 'run', items: [item], words: {}, texts: [] };
    const image = withItem(input, 0, carriedBy(reflection({ x: 500, y: 0 }, 90)));
    expect(differencesOf(input, image, tolerance).map(({ kind }) => kind)).toEqual(['moved']);
  });
});

describe('the longest rise', () => {
  it('rises, and none is longer', () => {
    const bruteForce = (values: readonly number[]): number => {
      let best = 0;
      for (let mask = 0; mask < 1 << values.length; mask++) {
        const some = values.filter((_, i) => (mask & (1 << i)) !== 0);
        if (some.every((value, i) => i === 0 || some[i - 1]! < value))
          best = Math.max(best, some.length);
      }
      return best;
    };
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(50), { maxLength: 10 }), (values) => {
        const kept = longestRise(values).map((i) => values[i]!);
        expect(kept).toEqual(kept.toSorted((a, b) => a - b));
        expect(kept).toHaveLength(bruteForce(values));
      }),
    );
  });
});
