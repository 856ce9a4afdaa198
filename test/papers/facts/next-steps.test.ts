import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthWords } from '../../../src/base/wording.ts';
import { ordersOf } from '../../../src/jobs/cut.ts';
import { fittingGuide } from '../../../src/papers/facts/fitting-guide.ts';
import {
  nextSteps,
  tapeStep,
  wordStepWhole,
  workedOn,
} from '../../../src/papers/facts/next-steps.ts';
import type { BenchFacts } from '../../../src/handing/bench-facts.ts';
import type { OrderFacts } from '../../../src/papers/facts/run-facts.ts';
import { worksOf } from '../../../src/pattern/shop/bench.ts';
import type { Work } from '../../../src/pattern/shop/bench.ts';
import { readJob } from '../../../src/run/job.ts';

const root = join(import.meta.dirname, '../../..');
const orders = ordersOf(readJob(join(root, 'patterns/fenlark-week.yaml'), join(root, 'shared')));
const lengths = lengthWords(false);

/** The work to which each step belongs. */
const workOf: Readonly<Record<string, Work>> = {
  Bind: 'bind',
  Sew: 'sew',
  Stitch: 'sew',
  'Turn under': 'turn',
  Board: 'board',
  Wrap: 'board',
  Pad: 'pad',
};

function worded(facts: OrderFacts, name: string): string[] {
  return nextSteps(facts, name, lengths).map(wordStepWhole);
}

describe('the steps of a part', () => {
  it('come in the order of the shop’s bench, what the knife left first, the underlay last', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...orders),
        fc.shuffledSubarray([...worksOf(null)], { minLength: 5 }),
        (one, works) => {
          for (const { name } of one.parts) {
            const verbs = nextSteps({ ...one, works }, name, lengths).map(({ verb }) => verb);
            const places = verbs.flatMap((verb) => {
              const work = workOf[verb];
              return work === undefined ? [] : [works.indexOf(work)];
            });
            expect(places).toEqual(places.toSorted((a, b) => a - b));
            const firstWork = verbs.findIndex((verb) => workOf[verb] !== undefined);
            const lastWork = verbs.findLastIndex((verb) => workOf[verb] !== undefined);
            if (firstWork >= 0) expect(verbs.lastIndexOf('Free')).toBeLessThan(firstWork);
            if (verbs.includes('Underlay')) {
              expect(verbs.indexOf('Underlay')).toBeGreaterThan(lastWork);
            }
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it('say depths and what is glued, from the files of the set and the materials', () => {
    const [one] = orders;
    // The carpet's file: turned 25, tuck 30, glued; the board's file: glued; the set file: inset 0, wraps tuck.
    expect(worded(one!, 'slider-step-right').join('\n')).toMatch(
      /Turn under: \d+ mm, 25 mm deep, glued/,
    );
    const rest = worded(one!, 'footrest-right');
    expect(rest).toContain('Board: footrest-board-right, glued; edge to edge');
    expect(rest.at(-1)).toMatch(/^Wrap: \d+ mm round the board, 30 mm beyond its edge, glued$/);
    expect(worded(one!, 'glove-shelf-left')).toContain(
      'Board: glove-shelf-board-left, glued; 2 mm inside the finished edge',
    );
    expect(worded(one!, 'toe-board').join('\n')).toContain('to hold the sound pad behind it');
    // The pad's own stitch lines hold the pad: they are no step by themselves.
    const mat = worded(one!, 'footwell-mat-right');
    expect(mat.join('\n')).toContain('footwell-mat-pad-right, sewn on');
    expect(mat.join('\n')).not.toContain('Stitch');
  });

  it('begin at the sheet with the tape: a piece for each stretch, as long as table says in all', () => {
    for (const one of orders) {
      for (const facts of one.bench.values()) {
        const step = tapeStep(one, facts, lengths);
        expect(step === null).toBe(facts.tape === null);
        if (facts.tape === null) continue;
        expect(facts.tape.pieces).toHaveLength(facts.tape.runs);
        const sum = facts.tape.pieces.reduce((total, piece) => total + piece, 0);
        expect(sum).toBeCloseTo(facts.tape.total, 6);
        expect(step!.words.split(' and ')).toHaveLength(facts.tape.runs);
      }
    }
  });
});

it('a work lists just the parts that have a step of it', () => {
  for (const one of orders) {
    for (const work of worksOf(null)) {
      const withStep = one.parts.filter(({ name }) =>
        nextSteps(one, name, lengths).some(({ verb }) => workOf[verb] === work && verb !== 'Sew'),
      );
      expect(workedOn(one, work)).toEqual(withStep.map(({ name }) => name));
    }
  }
});

it('what is wrapped round its board is tucked under nothing by who fits it', () => {
  const [one] = orders;
  const guide = fittingGuide(one!, lengths);
  const words = guide.steps.find(({ parts }) => parts.some(({ piece }) => piece === 'footrest'))!;
  expect(JSON.stringify(words)).not.toContain('Tuck');
  expect(JSON.stringify(guide)).toContain('Tuck');
});

describe('a board', () => {
  const [one] = orders;
  const name = 'footrest-right';
  const changed = (more: Partial<BenchFacts>): OrderFacts => ({
    ...one!,
    bench: new Map([...one!.bench, [name, { ...one!.bench.get(name)!, ...more }]]),
  });

  it('that is not in the order leaves what was to be wrapped round it, and says so', () => {
    const { wrap } = one!.bench.get(name)!;
    const facts = changed({ under: [], wrap: { ...wrap!, isBoardThere: false } });
    expect(worded(facts, name)).toEqual([
      expect.stringMatching(/^Wrap: \d+ mm round the board, which is not in this order/),
    ]);
  });

  it('that is loose is fixed to nothing: it comes last, and counts for no work', () => {
    const under = one!.bench.get(name)!.under.map((board) => ({ ...board, fixed: 'loose' }));
    const facts = changed({ under, wrap: null });
    expect(worded(facts, name).at(-1)).toBe('Board: footrest-board-right, loose');
    expect(workedOn(facts, 'board')).not.toContain(name);
    expect(workedOn(one!, 'board')).toContain(name);
  });
});

it('places in the vehicle are measured from edges that can be touched before it is fitted', () => {
  // By the drawing: 23 mm from the sill, where 30 mm stand out until they are tucked, and 60 mm from the bound seam.
  const cab = fittingGuide(orders[0]!, lengths).jobs.find(
    ({ part }) => part.piece === 'cab-floor',
  )!;
  expect(cab.places.map(({ words }) => words)).toContain('left 53 mm, rear 60 mm');
});

it('a heel pad that is loose is fixed to nothing: it comes last, and counts for no work', () => {
  const [one] = orders;
  const name = 'footwell-mat-right';
  const own = one!.bench.get(name)!;
  const pads = own.pads.map((pad) => ({ ...pad, fixed: 'loose' }));
  const facts = { ...one!, bench: new Map([...one!.bench, [name, { ...own, pads }]]) };
  expect(worded(facts, name).at(-1)).toMatch(/^Pad: footwell-mat-pad-right, loose;/);
  expect(workedOn(facts, 'pad')).not.toContain(name);
  expect(workedOn(one!, 'pad')).toContain(name);
});
