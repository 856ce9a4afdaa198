import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { lengthWords } from '../../src/base/wording.ts';
import { flatten } from '../../src/geometry/paths/flatten.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { polyline } from '../../src/geometry/paths/path.ts';
import { deriveParts } from '../../src/handing/derive.ts';
import { ordersOf } from '../../src/jobs/cut.ts';
import { paperPdf } from '../../src/papers/documents/document-pdf.ts';
import type { FittingGuide } from '../../src/papers/facts/fitting-guide.ts';
import { fittingGuide } from '../../src/papers/facts/fitting-guide.ts';
import type { OrderFacts, RunFacts } from '../../src/papers/facts/run-facts.ts';
import { siteJobs } from '../../src/papers/facts/site-jobs.ts';
import { fittingPicture } from '../../src/papers/pictures/fitting/fitting-picture.ts';
import { fittingPlan } from '../../src/papers/pictures/fitting/fitting-plan.ts';
import { fittingSheet, planRoom } from '../../src/papers/sheets/fitting-sheet.ts';
import { readJob } from '../../src/run/job.ts';
import { feature, materials, oblong, order, patternSet, piece } from '../handing/fixtures.ts';
import { contoursOfPath } from './path-data.ts';
import { elementsIn, readMarkup, textOf } from './markup.ts';
import { pagesOf, poppler } from './pdf-tools.ts';

const root = join(import.meta.dirname, '../..');
const demo = ordersOf(readJob(join(root, 'patterns/fenlark-week.yaml'), join(root, 'shared')));
const lengths = lengthWords(false);
const run = { run: 'week', fingerprint: '0123456789ab', lengths } as RunFacts;

/** All papers of an order, and what they were made of. */
function fitted(facts: OrderFacts) {
  const guide = fittingGuide(facts, lengths);
  const plan = fittingPlan(facts, guide, planRoom(facts, guide, run));
  return { guide, plan, sheet: fittingSheet(facts, guide, plan, run) };
}

function stepOf({ steps }: FittingGuide, name: string): number {
  return steps.find(({ parts }) => parts.some((part) => part.name === name))!.number;
}

describe('the steps of the demo', () => {
  it('have each part of an order once, and follow each other from what lies under', () => {
    for (const facts of demo) {
      const { guide } = fitted(facts);
      const laid = guide.steps.flatMap(({ parts }) => parts.map(({ name }) => name));
      expect(laid.toSorted()).toEqual(facts.parts.map(({ name }) => name).toSorted());
      expect(guide.steps.map(({ number }) => number)).toEqual(guide.steps.map((_, i) => i + 1));
    }
    const { guide } = fitted(demo[0]!);
    // By set.yaml and the drawing: the underlay goes under, mats lie on the floor, the wheel boxes are tucked under
    // the living floor and that under the rear lip.
    for (const [lower, upper] of [
      ['cab-floor-underlay', 'cab-floor'],
      ['cab-floor', 'footwell-mat-left'],
      ['wheel-box-side-left', 'living-floor'],
      ['wheel-box-top-right', 'living-floor'],
      ['living-floor', 'rear-lip'],
    ] as const) {
      expect(stepOf(guide, lower)).toBeLessThan(stepOf(guide, upper));
    }
    for (const sewn of ['toe-board', 'seat-box-front-left', 'seat-box-front-right']) {
      expect(stepOf(guide, sewn)).toBe(stepOf(guide, 'cab-floor'));
    }
  });

  it('speak plainly, and of nothing that is the shop’s', () => {
    const texts = demo.map((facts) => {
      const { guide, plan } = fitted(facts);
      return textOf(readMarkup(fittingPicture(facts, guide, plan))).replaceAll(/\s+/g, ' ');
    });
    expect(texts[0]).toContain(
      'Cab floor, with Toe board and Seat box front (left and right) sewn to it',
    );
    expect(texts[0]).toContain('Footrest, right');
    expect(texts.join(' ')).not.toMatch(/[Ss]eam [A-Z]|allowance|\btape\b(?!,)|notch|thread/);
    for (const words of ['No mat can slide', 'pedal', 'manual', 'gets hot']) {
      expect(texts[0]).toContain(words);
    }
  });

  it('say how many sets there are', () => {
    const facts = { ...demo[0]!, order: { ...demo[0]!.order, quantity: 3 } };
    expect(fitted(facts).sheet.subtitle).toContain('3 sets, all alike.');
  });

  it.skipIf(poppler.missing)(`stand on two sheets with the plan${poppler.note}`, async () => {
    for (const facts of demo) {
      const pages = pagesOf(await paperPdf(fitted(facts).sheet));
      expect(pages).toHaveLength(2);
      expect(pages[0]).toContain('FRONT');
      expect(pages[1]).toContain('Step by step');
    }
  });
});

describe('the plan of the demo', () => {
  it('is as large as its sheet allows', () => {
    for (const facts of demo) {
      const { guide, plan } = fitted(facts);
      const room = planRoom(facts, guide, run);
      expect(plan.height).toBeGreaterThan(room - 1);
      expect(plan.height).toBeLessThanOrEqual(room);
    }
  });

  it('draws numbers, letters and arrows over no hole, no pad and no other of them', () => {
    for (const facts of demo) {
      const elements = elementsIn(readMarkup(`<svg>${fitted(facts).plan.svg}</svg>`));
      const paths = elements
        .filter(({ name }) => name === 'path')
        .map(({ attributes }) => attributes);
      const holes = paths
        .filter((one) => one['stroke-width'] === '0.2' && one['stroke-dasharray'] === undefined)
        .flatMap((one) => contoursOfPath(one['d']!))
        .map((contour) => flatten({ closed: true, vertices: contour } as Path, 0.05));
      const count = facts.parts
        .filter(({ kind }) => kind === 'piece')
        .flatMap(({ inner }) => inner);
      expect(holes).toHaveLength(count.length);
      const rings = elements
        .filter(({ name, attributes }) => name === 'circle' && attributes['r'] === '2.4')
        .map(({ attributes }) => ({ x: Number(attributes['cx']), y: Number(attributes['cy']) }));
      expect(rings.length).toBeGreaterThan(
        facts.parts.filter(({ kind }) => kind === 'piece').length,
      );
      // The arrows of piles: a shaft from its tail to its tip.
      const arrows = paths
        .filter((one) => one['stroke-linecap'] === 'round' && Number(one['stroke-width']) < 0.5)
        .map((one) =>
          one['d']!.match(/-?[\d.]+/g)!
            .slice(0, 4)
            .map(Number),
        )
        // The key has one too, where its group is moved to.
        .filter(([x]) => x !== 0)
        .map(([x0, y0, x1, y1]) =>
          [0, 0.25, 0.5, 0.75, 1].map((t) => ({
            x: x0! + t * (x1! - x0!),
            y: y0! + t * (y1! - y0!),
          })),
        );
      expect(arrows.length).toBeGreaterThan(3);
      const off = (a: { x: number; y: number }, b: { x: number; y: number }): number =>
        Math.hypot(a.x - b.x, a.y - b.y);
      for (const [i, ring] of rings.entries()) {
        for (const hole of holes)
          for (const point of hole) expect(off(ring, point)).toBeGreaterThan(2.4);
        for (const other of rings.slice(0, i)) expect(off(ring, other)).toBeGreaterThan(4.8);
        for (const arrow of arrows)
          for (const point of arrow) expect(off(ring, point)).toBeGreaterThan(2.4);
      }
      for (const arrow of arrows) {
        for (const hole of holes) {
          for (const corner of hole) {
            for (const point of arrow) expect(off(corner, point)).toBeGreaterThan(0.6);
          }
        }
      }
    }
  });
});

describe('what is done in the vehicle', () => {
  const mark = { ...feature('HOLE', polyline([{ x: 420, y: 130 }], false)), name: 'bolt' };
  const rest = piece(
    'rest',
    { side: 'driver', onSite: { bolt: { do: 'pierce it', size: 12 } } },
    oblong(400, 100, 600, 400),
    [mark],
  );
  const set = patternSet('RHD', [rest]);
  const jobs = (hand: 'RHD' | 'LHD') =>
    siteJobs(
      [{ number: 1, parts: deriveParts(set, order(hand), materials).parts }],
      set.content,
      lengths,
    );

  it('has its place from the drawing, by the nearer edges, and its size', () => {
    const [job, ...more] = jobs('RHD');
    expect(more).toEqual([]);
    expect(job).toMatchObject({ where: '1 Rest, right', what: 'pierce it', size: '12 mm' });
    expect(job!.places).toMatchObject([
      { letter: 'a', at: { x: 420, y: 130 }, words: 'left 20 mm, rear 30 mm' },
    ]);
  });

  it('goes over to the other side with what goes with the driver', () => {
    const [job] = jobs('LHD');
    expect(job!.where).toBe('1 Rest, left');
    expect(job!.places).toMatchObject([
      { at: { x: -420, y: 130 }, words: 'right 20 mm, rear 30 mm' },
    ]);
  });

  it('is lettered in the plan of the demo, on the driver’s side of either hand', () => {
    for (const facts of demo) {
      const { guide, plan } = fitted(facts);
      const letters = guide.jobs.flatMap(({ places }) => places.map(({ letter }) => letter));
      expect(new Set(letters).size).toBe(letters.length);
      const drawn = elementsIn(readMarkup(`<svg>${plan.svg}</svg>`))
        .filter(({ name }) => name === 'text')
        .map(textOf);
      for (const letter of letters) expect(drawn).toContain(letter);
      const footrest = guide.jobs.find(({ part }) => part.piece === 'footrest')!;
      expect(footrest.places).toHaveLength(3);
      for (const { at } of footrest.places) {
        expect(Math.sign(at.x)).toBe(facts.order.hand === 'RHD' ? 1 : -1);
      }
    }
  });
});
