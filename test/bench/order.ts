/**
 * Travel of the raised knife against other orders: `npm run bench:order`. "As given": parts in the
 * order of their labels, contours begun at their first vertex. "Nearest": the nearest next, in the same
 * measure. "Best": of all orders of few visits, tried one by one.
 */
import { join } from 'node:path';
import { circle } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import { part, rectangle } from '../knife/sample-parts.ts';
import { distance } from '../../src/geometry/paths/point.ts';
import type { Part } from '../../src/handing/part.ts';
import { readJob } from '../../src/run/job.ts';
import type { Bite, Cut } from '../../src/knife/cuts.ts';
import type { Cutter } from '../../src/knife/cutter.ts';
import { cuttingOrder } from '../../src/knife/order/order.ts';
import { passesOf } from '../../src/knife/order/passes.ts';
import type { Visit } from '../../src/knife/order/route.ts';
import { travelCost, nearestNext, route } from '../../src/knife/order/route.ts';
import type { Lay, Placement } from '../../src/lay/lay.ts';
import { layMaterials } from '../../src/jobs/lay-materials.ts';

const root = join(import.meta.dirname, '../..');
const shared = join(root, 'shared');

function endsOf({ path }: Pick<Cut, 'path'>): [Point, Point] {
  return [path.vertices[0]!, path.closed ? path.vertices[0]! : path.vertices.at(-1)!];
}

/** mm with the knife up, bite by bite over the bed; overcuts and lifts at corners not counted. */
function travel(bites: readonly Pick<Bite, 'start' | 'cuts'>[]): number {
  let at: Point = { x: 0, y: 0 };
  let sum = 0;
  for (const { start, cuts } of bites) {
    for (const cut of cuts) {
      const [begin, end] = endsOf(cut);
      sum += distance(at, { x: begin.x - start, y: begin.y });
      at = { x: end.x - start, y: end.y };
    }
  }
  return sum;
}

function asGiven(lay: Lay, parts: readonly Part[], cutter: Cutter): number {
  return travel(
    passesOf(lay, parts, cutter).map(({ start, contours }) => ({ start, cuts: contours })),
  );
}

/** Stops as the nearest next takes them, contours begun at their first vertex. */
function nearest(lay: Lay, parts: readonly Part[], cutter: Cutter): number {
  let at: Point = { x: 0, y: 0 };
  const bites = passesOf(lay, parts, cutter).map(({ start, contours }) => {
    const labels = [...new Set(contours.map(({ label }) => label))];
    const stops = labels.map((label) => contours.filter((contour) => contour.label === label));
    const visits = stops.map((own): Visit => {
      const [entry] = endsOf(own[0]!);
      const [, exit] = endsOf(own.at(-1)!);
      return { entry, exit, size: 0 };
    });
    const from = { x: at.x + start, y: at.y };
    const cuts = nearestNext({ visits, from, before: [] }).flatMap((i) => stops[i]!);
    const [, end] = endsOf(cuts.at(-1)!);
    at = { x: end.x - start, y: end.y };
    return { start, cuts };
  });
  return travel(bites);
}

function report(name: string, lay: Lay, parts: readonly Part[], cutter: Cutter): void {
  const begin = performance.now();
  const bites = cuttingOrder(lay, parts, cutter);
  const seconds = (performance.now() - begin) / 1000;
  const contours = bites.reduce((sum, { cuts }) => sum + cuts.length, 0);
  const own = travel(bites);
  const given = asGiven(lay, parts, cutter);
  const next = nearest(lay, parts, cutter);
  console.log(
    `${name.padEnd(18)} ${String(contours).padStart(5)} contours ${(own / 1000).toFixed(1).padStart(8)} m  as given ${(own / given).toFixed(3)}  nearest ${(own / next).toFixed(3)}  ${seconds.toFixed(2)} s`,
  );
}

/** The generator of Park and Miller with the factor of 1993. */
let state = 42;
function random(): number {
  state = (state * 48271) % 2147483647;
  return state / 2147483647;
}

/** Rectangles of many sizes on a grid, each with a round hole and a notch: three contours. */
function randomLay(contours: number, cutter: Cutter): { lay: Lay; parts: Part[] } {
  const count = Math.round(contours / 3);
  const columns = Math.ceil(Math.sqrt(count * 1.5));
  const [dx, dy] = [cutter.bed.length / columns, 1960 / Math.ceil(count / columns)];
  const parts: Part[] = [];
  const placements: Placement[] = [];
  for (let i = 0; i < count; i++) {
    const [w, h] = [dx * (0.3 + 0.6 * random()), dy * (0.3 + 0.6 * random())];
    const cut = rectangle(w, h);
    const label = `p${i}.1.A`;
    parts.push(
      part(label, cut, {
        order: 'A',
        edges: [],
        pileDeg: null,
        inner: [{ role: 'CUTOUT', path: circle({ x: w / 2, y: h / 2 }, Math.min(w, h) / 4) }],
        notches: [{ from: { x: w / 2, y: 0 }, to: { x: w / 2, y: Math.min(5, h / 8) } }],
      }),
    );
    placements.push({
      label,
      x: (i % columns) * dx,
      y: 20 + Math.floor(i / columns) * dy,
      rotation: 0,
    });
  }
  const order = placements.map((_, i) => i).sort(() => random() - 0.5);
  const lay: Lay = {
    material: 'loop',
    roll: { width: 2000, selvedge: 0, startMargin: 0, length: Infinity },
    rules: { turns: 'any', gap: 5, biteLength: cutter.bed.length },
    placements: order.map((i) => placements[i]!),
    length: cutter.bed.length,
    density: 1,
  };
  return { lay, parts };
}

function permutations(items: readonly number[]): number[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((item, i) =>
    permutations([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}

/** Fifty rounds of seven visits: how far from the best of their 5040 orders. */
function tiny(): void {
  const ratios = Array.from({ length: 50 }, () => {
    const visits = Array.from({ length: 7 }, (): Visit => {
      const entry = { x: 3000 * random(), y: 2000 * random() };
      return { entry, exit: entry, size: Math.ceil(3 * random()) };
    });
    const round = { visits, from: { x: 0, y: 0 }, before: [] };
    const best = Math.min(...permutations([...visits.keys()]).map((one) => travelCost(round, one)));
    return travelCost(round, route(round)) / best;
  });
  const mean = ratios.reduce((a, b) => a + b) / ratios.length;
  const exact = ratios.filter((ratio) => ratio < 1 + 1e-9).length;
  console.log(
    `50 rounds of seven visits: mean ${mean.toFixed(4)} of the best, worst ${Math.max(...ratios).toFixed(3)}, ${exact} exact`,
  );
}

const job = readJob(join(root, 'patterns/fenlark-week.yaml'), shared);
for (const lay of await layMaterials(job, { limit: { rounds: 1 } })) {
  const own = job.parts.filter(({ material }) => material === lay.material);
  report(lay.material, lay, own, job.cutter);
}
for (const contours of [99, 999, 5001]) {
  const { lay, parts } = randomLay(contours, job.cutter);
  report('drawn at random', lay, parts, job.cutter);
}
tiny();
