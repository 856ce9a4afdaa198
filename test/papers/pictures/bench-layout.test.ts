import { join } from 'node:path';
import { beforeAll, expect, it } from 'vitest';
import type { Box } from '../../../src/geometry/paths/box.ts';
import { boxesOverlap, growBox } from '../../../src/geometry/paths/box.ts';
import { alongPath, pathLength } from '../../../src/geometry/paths/path.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import type { Point } from '../../../src/geometry/paths/point.ts';
import { transformPoint } from '../../../src/geometry/paths/transform.ts';
import type { Part } from '../../../src/handing/part.ts';
import type { BenchLayout } from '../../../src/papers/pictures/bench-layout.ts';
import { layOutBench } from '../../../src/papers/pictures/bench-layout.ts';
import type { OrderFacts } from '../../../src/papers/facts/run-facts.ts';
import { madeRun } from '../../support/made-run.ts';

const root = join(import.meta.dirname, '../../..');
let orders: readonly OrderFacts[];

beforeAll(async () => {
  const { facts } = await madeRun(
    {
      runFile: join(root, 'patterns/fenlark-week.yaml'),
      sharedFolder: join(root, 'shared'),
      limit: { rounds: 1 },
    },
    'fenlark-week',
  );
  orders = facts.orders;
});

/** Points on all that is drawn of a part, in its own frame. */
function drawnPoints({ net, cut, inner, marks, notches }: Part): Point[] {
  const paths: Path[] = [net, cut, ...inner.map(({ path }) => path)];
  const lines = marks.map(({ path }) => path).filter(({ vertices }) => vertices.length > 1);
  return [
    ...[...paths, ...lines].flatMap((path) => {
      const length = pathLength(path);
      const count = Math.ceil(length / 3);
      return Array.from({ length: count }, (_, i) => alongPath(path, (i * length) / count).point);
    }),
    ...marks.filter(({ path }) => path.vertices.length === 1).map(({ path }) => path.vertices[0]!),
    ...notches.flatMap(({ from, to }) => [from, to]),
  ];
}

function isIn({ minX, minY, maxX, maxY }: Box, { x, y }: Point): boolean {
  return x > minX && x < maxX && y > minY && y < maxY;
}

/** What the marks of a picture hide, in words. */
function hidden(part: Part, { marks, onPage, width, height }: BenchLayout): string[] {
  const points = drawnPoints(part).map((point) => transformPoint(onPage, point));
  return marks.flatMap(({ kind, words, box }, i) => {
    const name = `${part.label}: ${kind} ${words}`;
    const sheet = { minX: 0, minY: 0, maxX: width, maxY: height };
    return [
      ...(points.some((point) => isIn(box, point)) ? [`${name} hides what is drawn`] : []),
      ...(marks.slice(i + 1).some((other) => boxesOverlap(growBox(box, -0.01), other.box))
        ? [`${name} lies on another`]
        : []),
      ...(box.minX < sheet.minX || box.maxX > sheet.maxX || box.minY < 0 || box.maxY > height
        ? [`${name} is off the picture`]
        : []),
    ];
  });
}

function allParts(): [Part, OrderFacts][] {
  return orders.flatMap((order) => order.parts.map((part): [Part, OrderFacts] => [part, order]));
}

it('no arrow, name, letter or figure hides anything in the pictures of the sewing sheet', () => {
  const wide = { width: 104, height: 60 };
  const found = allParts().flatMap(([part, { bench, left }]) => {
    const own = left.get(part.name)!;
    const usual = layOutBench(part, { width: 38, height: 42 }, bench.get(part.name)!, own);
    return hidden(
      part,
      usual.isCrowded ? layOutBench(part, wide, bench.get(part.name)!, own) : usual,
    );
  });
  expect(found).toEqual([]);
});

it('each seam has its letter, each notch that meets another its name, each pile its arrow', () => {
  for (const [part, { bench }] of allParts()) {
    const facts = bench.get(part.name)!;
    const { marks } = layOutBench(part, { width: 104, height: 60 }, facts, []);
    const words = (wanted: string): string[] =>
      marks.filter(({ kind }) => kind === wanted).map((mark) => mark.words);
    expect(words('letter')).toEqual(facts.seams.map(({ letter }) => letter));
    expect(words('notch')).toEqual(
      facts.seams.flatMap(({ notches }) => notches.map(({ name }) => name)),
    );
    expect(words('arrow')).toHaveLength(part.pileDeg === null ? 0 : 1);
  }
});

it('the arrow hides nothing in the pictures of labels', () => {
  const sizes = [
    { width: 24, height: 18 },
    { width: 14, height: 8 },
  ];
  const found = allParts().flatMap(([part, { left }]) =>
    sizes.flatMap((size) => hidden(part, layOutBench(part, size, null, left.get(part.name)!))),
  );
  expect(found).toEqual([]);
});
