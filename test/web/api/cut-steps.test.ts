import { describe, expect, it } from 'vitest';
import type { CutStep, RollToCut, StepTick } from '../../../src/web/api/cut-steps.ts';
import {
  bitesCut,
  cuttingCard,
  isCut,
  lastTicked,
  nextStep,
  stepsOf,
} from '../../../src/web/api/cut-steps.ts';

const loop: RollToCut = { roll: 'loop', bites: 2, hasRest: true };
const board: RollToCut = { roll: 'board', bites: 1, hasRest: false };

function ticked(...steps: [string, CutStep][]): StepTick[] {
  return steps.map(([roll, step]) => ({ roll, step, at: '2026-05-04T09:30:00Z' }));
}

describe('the steps of a roll', () => {
  it('go from loading over each bite to what is left, which is there only where something is', () => {
    expect(stepsOf(loop).join(', ')).toBe('load, dry, bite 1, bite 2, labels, parts, rest');
    expect(stepsOf(board).at(-1)).toBe('parts');
  });

  it('come one after the other, of each roll by itself', () => {
    expect(nextStep(loop, [])).toBe('load');
    const ticks = ticked(['loop', 'load'], ['loop', 'dry'], ['loop', 'bite 1']);
    expect(nextStep(loop, ticks)).toBe('bite 2');
    expect(lastTicked(loop, ticks)).toBe('bite 1');
    expect(nextStep(board, ticks)).toBe('load');
    expect(lastTicked(board, ticks)).toBeNull();
  });

  it('are asked for where somebody has left one out', () => {
    const ticks = ticked(['loop', 'load'], ['loop', 'bite 1'], ['loop', 'bite 2']);
    expect(nextStep(loop, ticks)).toBe('dry');
    expect(bitesCut('loop', ticks)).toEqual([1, 2]);
  });

  it('end with the last one', () => {
    const all = stepsOf(loop).map((step): [string, CutStep] => ['loop', step]);
    expect(nextStep(loop, ticked(...all))).toBeNull();
  });
});

describe('how far a run is cut', () => {
  it('is counted in bites of all its rolls', () => {
    expect(cuttingCard([loop, board], [])).toEqual({ state: 'none', bites: 0, of: 3 });
    const ticks = ticked(['loop', 'load'], ['loop', 'dry'], ['loop', 'bite 1']);
    expect(cuttingCard([loop, board], ticks)).toEqual({ state: 'begun', bites: 1, of: 3 });
  });

  it('is all of it only once the parts of every roll are there, whatever is booked', () => {
    const one = ticked(['loop', 'bite 1'], ['loop', 'bite 2'], ['loop', 'parts']);
    expect(isCut('loop', one)).toBe(true);
    expect(cuttingCard([loop, board], one).state).toBe('begun');
    const both = [...one, ...ticked(['board', 'bite 1'], ['board', 'parts'])];
    expect(cuttingCard([loop, board], both)).toEqual({ state: 'cut', bites: 3, of: 3 });
    expect(cuttingCard([], []).state).toBe('none');
  });
});
