import { describe, expect, it } from 'vitest';
import type { CutStep, StepTick } from '../../../../src/web/api/cut-steps.ts';
import { rollToShow } from '../../../../src/web/page/cutting/roll-to-show.ts';

const rolls = ['loop', 'board', 'felt'].map((roll) => ({ roll, bites: 1, hasRest: false }));
const all: CutStep[] = ['load', 'dry', 'bite 1', 'labels', 'parts'];

function ticks(roll: string, steps: readonly CutStep[]): StepTick[] {
  return steps.map((step) => ({ roll, step, at: '2026-05-04T09:30:00Z' }));
}

describe('the roll that the desk shows', () => {
  it('is the first, then the one that is being cut, then the next that has steps left', () => {
    const shown = (given: StepTick[], chosen: string | null = null) =>
      rollToShow(rolls, given, chosen)?.roll ?? null;
    expect(shown([])).toBe('loop');
    expect(shown(ticks('board', ['load']))).toBe('board');
    expect(shown([...ticks('loop', ['load']), ...ticks('board', ['load'])])).toBe('board');
    const board = ticks('board', all);
    expect(shown(board)).toBe('loop');
    expect(shown([...ticks('loop', all), ...board])).toBe('felt');
    expect(shown([...ticks('loop', all), ...board, ...ticks('felt', all)])).toBeNull();
  });

  it('is the one that somebody chose, as long as it is there', () => {
    const given = ticks('board', ['load']);
    expect(rollToShow(rolls, given, 'felt')?.roll).toBe('felt');
    expect(rollToShow(rolls, given, 'gone')?.roll).toBe('board');
  });
});
