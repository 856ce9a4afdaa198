import { describe, expect, it } from 'vitest';
import type { CutStep, StepTick } from '../../../../src/web/api/cut-steps.ts';
import type { BiteWork } from '../../../../src/web/api/cutting.ts';
import type { PicturedLay, PicturedRoll } from '../../../../src/web/api/pictured.ts';
import type { RollAtMachine } from '../../../../src/web/page/cutting/step-words.ts';
import {
  beforeWords,
  beginAgainWords,
  cutSoFarWords,
  loadFacts,
  partsOfBite,
  rollState,
  stepWords,
} from '../../../../src/web/page/cutting/step-words.ts';

const bite = (own: Partial<BiteWork>): BiteWork => ({
  start: 0,
  feed: 0,
  labels: [],
  check: null,
  mark: null,
  ...own,
});

/** A lay of three parts in two bites, one of which is cut in both. */
const at: RollAtMachine = {
  key: 'loop-sand',
  roll: {
    title: 'loop carpet',
    colour: 'sand',
    name: null,
    width: 2000,
    selvedge: 20,
    startMargin: 15,
    length: null,
    dyeLot: null,
    outline: null,
  } as PicturedRoll,
  lay: { length: 4123, placements: [{}, {}, {}] } as unknown as PicturedLay,
  work: {
    pile: 'one-way',
    side: 'the pile',
    bites: [
      bite({ labels: ['a.1.7', 'long.1.7'], mark: [3000.4, 12] }),
      bite({ start: 2990, feed: 2990, labels: ['long.1.7', 'b.1.7'], check: [10.4, 12] }),
    ],
  },
  machine: { title: 'Long bay', face: 'up', knife: 'trailing', bed: 3200, inches: false },
  rest: { name: 'R1', length: 4999 },
};

function said(step: CutStep, one: RollAtMachine = at): string {
  const { title, lines } = stepWords(step, one);
  return [title, ...lines].join(' ');
}

function ticks(roll: string, ...steps: CutStep[]): StepTick[] {
  return steps.map((step) => ({ roll, step, at: '2026-05-04T09:30:00Z' }));
}

describe('what the operator is told of a bite', () => {
  it('is how far to feed, where the cross must lie, and where the next one is cut', () => {
    expect(said('bite 1')).toContain('Cut bite 1 of 2');
    expect(said('bite 1')).not.toContain('Feed');
    expect(said('bite 1')).toContain('at X 3000, Y 12');
    expect(stepWords('bite 2', at).lines[0]).toBe('Feed 2990 mm, unless it is fed already.');
    expect(said('bite 2')).toContain(
      'cross of bite 1, at X 10, Y 12. If it does not, mend the feed',
    );
  });

  it('says where no cross marks the feed', () => {
    const bites = at.work.bites.map((one) => ({ ...one, check: null }));
    const unmarked = { ...at, work: { ...at.work, bites } };
    expect(said('bite 2', unmarked)).toContain('No cross marks this feed: measure it.');
  });

  it('tells the parts that come out from those that are cut on', () => {
    expect(partsOfBite(1, at.work)).toEqual({ free: ['a.1.7'], on: ['long.1.7'] });
    expect(partsOfBite(2, at.work)).toEqual({ free: ['long.1.7', 'b.1.7'], on: [] });
    expect(said('bite 1')).toContain('1 part comes out. Leave long.1.7 on the cloth');
    expect(said('bite 2')).toContain('2 parts come out.');
  });

  it('has inches beside mm where the machine has inches', () => {
    const inches = { ...at, machine: { ...at.machine, inches: true } };
    // 2990 / 25.4
    expect(stepWords('bite 2', inches).lines[0]).toBe(
      'Feed 2990 mm (117.72 in), unless it is fed already.',
    );
  });

  it('is of no number where the roll is cut in one', () => {
    const single = { ...at, work: { ...at.work, bites: at.work.bites.slice(0, 1) } };
    expect(stepWords('bite 1', single)).toMatchObject({
      title: 'Cut the roll',
      done: 'The roll is cut',
    });
  });
});

describe('what the operator is told of the roll', () => {
  it('is which way up, as the machine cuts it and as the material is', () => {
    expect(said('load')).toContain('The pile up. The pile leans from the start of the roll');
    const down = { ...at, machine: { ...at.machine, face: 'down' as const } };
    expect(said('load', down)).toContain(
      'The pile on the bed, the back up. Pictures show it so: mirrored.',
    );
    const felt = { ...at, work: { ...at.work, pile: null, side: 'the side that will be seen' } };
    expect(said('load', felt)).toContain('The side that will be seen up.');
    expect(said('load', felt)).not.toMatch(/pile/i);
  });

  it('is what it must be, with a dye lot to be noted where nobody said it', () => {
    const facts = Object.fromEntries(loadFacts(at));
    expect(facts).toMatchObject({ Colour: 'sand', 'Dye lot': 'not said: note it before you cut' });
    // 4123 mm are never promised to lie on less.
    expect(facts['Needed']).toContain('4.13 m');
  });

  it('is what is booked, rounded down', () => {
    expect(stepWords('rest', at).done).toBe('Book 4999 mm of R1');
  });
});

describe('where a roll is gone on with', () => {
  it('is told where bites are cut, and only then', () => {
    const none = ticks('loop-sand', 'load', 'dry');
    expect(beginAgainWords('loop-sand', 'bite 1', none)).toBeNull();
    const one = ticks('loop-sand', 'bite 1');
    expect(beginAgainWords('loop-sand', 'bite 2', one)).toBe(
      'Begin again with bite 2: bite 1 is cut.',
    );
    const two = ticks('loop-sand', 'bite 1', 'bite 2');
    expect(beginAgainWords('loop-sand', 'bite 3', two)).toBe(
      'Begin again with bite 3: bites 1 and 2 are cut.',
    );
    const four = ticks('loop-sand', 'bite 1', 'bite 2', 'bite 3', 'bite 4');
    expect(beginAgainWords('loop-sand', 'bite 5', four)).toContain('bites 1 to 4 are cut');
    expect(beginAgainWords('loop-sand', 'labels', four)).toBeNull();
    expect(beginAgainWords('board', 'bite 1', four)).toBeNull();
  });

  it('stands in the rack', () => {
    expect(rollState(at, 'load')).toBe('to load');
    expect(rollState(at, 'bite 2')).toBe('bite 2 of 2');
    expect(rollState(at, null)).toBe('done');
  });
});

describe('what was cut of other files', () => {
  it('is said in a sentence', () => {
    expect(beforeWords([])).toBeNull();
    expect(beforeWords(ticks('loop', 'load', 'dry', 'bite 1', 'bite 2'))).toBe(
      'Bites 1 and 2 of loop were cut from files made before; these are other files.',
    );
    expect(beforeWords(ticks('loop', 'bite 1'))).toBe(
      'Bite 1 of loop was cut from files made before; these are other files.',
    );
    expect(beforeWords([...ticks('loop', 'bite 1'), ...ticks('board', 'bite 1')])).toBe(
      'Bite 1 of loop and bite 1 of board were cut from files made before; these are other files.',
    );
    expect(beforeWords(ticks('loop', 'load'))).toBe(
      'Loop was loaded for files made before; these are other files.',
    );
  });

  it('is counted where files are about to be made anew', () => {
    expect(cutSoFarWords(ticks('loop', 'load'))).toBe('');
    expect(cutSoFarWords(ticks('loop', 'load', 'bite 1'))).toContain('1 bite is cut');
    expect(cutSoFarWords(ticks('loop', 'bite 1', 'bite 2'))).toContain('2 bites are cut');
  });
});
