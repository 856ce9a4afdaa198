import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import type { RunContent } from '../../../src/run/run-file.ts';
import { openRunFile, saveRunFile } from '../../../src/web/workshop/run-file.ts';
import {
  beginRunSteps,
  redoRunStep,
  runHistoryIn,
  runSteps,
  undoRunStep,
  wordRunChange,
} from '../../../src/web/workshop/run-history.ts';
import { runFile } from '../../support/wren.ts';
import { shopForEach } from '../in-shop.ts';

const run = 'wren-week';
const inShop = shopForEach();

const text = (): string => readFileSync(join(inShop().root, runFile), 'utf8');

function change(
  changed: (content: RunContent) => RunContent,
  step: 'one' | 'search' | 'none' = 'one',
): void {
  const { content, version } = openRunFile(inShop().shop, run);
  saveRunFile(inShop().shop, run, changed(content), version, step);
}

const titled =
  (title: string) =>
  (content: RunContent): RunContent => ({ ...content, title });

/** The run with parts laid, at so many places along the roll. */
const laidAt =
  (x: number) =>
  (content: RunContent): RunContent => ({
    ...content,
    rolls: {
      loop: {
        ...[content.rolls['loop']!].flat()[0]!,
        laid: [{ part: 'floor.1.A1', at: [x, 900], rotation: 90 }],
      },
    },
  });

describe('what is done to a run', () => {
  it('goes back and forth without end, to the very text', () => {
    const steps = fc.array(fc.stringMatching(/^[a-z]{1,8}$/), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(steps, (titles) => {
        const texts = [text()];
        for (const title of titles) {
          change(titled(title));
          if (text() !== texts.at(-1)) texts.push(text());
        }
        for (const before of texts.slice(0, -1).toReversed()) {
          undoRunStep(inShop().shop, run);
          expect(text()).toBe(before);
        }
        for (const after of texts.slice(1)) {
          redoRunStep(inShop().shop, run);
          expect(text()).toBe(after);
        }
      }),
      { numRuns: 15 },
    );
  });

  it('can be taken back after the server was started anew', async () => {
    const before = text();
    change(titled('Another'));
    vi.resetModules();
    const anew = await import('../../../src/web/workshop/run-history.ts');
    expect(anew.runSteps(inShop().shop, run)).toEqual({ undo: 'title changed', redo: null });
    anew.undoRunStep(inShop().shop, run);
    expect(text()).toBe(before);
    expect(anew.runSteps(inShop().shop, run)).toEqual({ undo: null, redo: 'title changed' });
  });

  it('counts a whole search as one step, however often it wrote down what it had found', () => {
    const before = text();
    beginRunSteps(inShop().shop, run);
    change(laidAt(900), 'none');
    change(laidAt(800), 'none');
    change(laidAt(700), 'search');
    expect(runSteps(inShop().shop, run)).toEqual({ undo: 'parts laid', redo: null });
    undoRunStep(inShop().shop, run);
    expect(text()).toBe(before);
    redoRunStep(inShop().shop, run);
    expect(openRunFile(inShop().shop, run).content).toMatchObject({
      rolls: { loop: { laid: [{ at: [700, 900] }] } },
    });
  });

  it('can be taken back as far as it was kept where the server was killed while it searched', () => {
    const before = text();
    beginRunSteps(inShop().shop, run);
    change(laidAt(900), 'none');
    expect(runSteps(inShop().shop, run)).toEqual({
      undo: 'changed outside of this page',
      redo: null,
    });
    undoRunStep(inShop().shop, run);
    expect(text()).toBe(before);
  });

  it('has what an editor did in between as a step of its own', () => {
    change(titled('One'));
    const one = text();
    writeFileSync(join(inShop().root, runFile), one.replace('One', 'By hand'));
    expect(runSteps(inShop().shop, run).undo).toBe('changed outside of this page');
    change(titled('Two'));
    undoRunStep(inShop().shop, run);
    expect(text()).toContain('By hand');
    undoRunStep(inShop().shop, run);
    expect(text()).toBe(one);
  });

  it('has it once, though what came next changed nothing', async () => {
    change(titled('One'));
    writeFileSync(join(inShop().root, runFile), text().replace('One', 'By hand'));
    change((content) => content);
    change(titled('Two'));
    vi.resetModules();
    const anew = await import('../../../src/web/workshop/run-history.ts');
    for (const title of ['By hand', 'One', 'Wren, three sets']) {
      anew.undoRunStep(inShop().shop, run);
      expect(text()).toContain(`title: ${title}\n`);
    }
  });

  it('is refused where there is nothing to take back or to do again', () => {
    expect(() => undoRunStep(inShop().shop, run)).toThrow('there is nothing to undo');
    change(titled('One'));
    expect(() => redoRunStep(inShop().shop, run)).toThrow('there is nothing to do again');
  });

  it('begins anew where its folder was deleted', () => {
    change(titled('One'));
    rmSync(runHistoryIn(inShop().shop, run), { recursive: true });
    expect(runSteps(inShop().shop, run)).toEqual({ undo: null, redo: null });
  });
});

describe('a step is called', () => {
  const words = (changed: (content: RunContent) => RunContent): string => {
    const { content } = openRunFile(inShop().shop, run);
    return wordRunChange(content, changed(content));
  };

  it('by the order, the roll or whatever else it changed', () => {
    const orders =
      (others: (all: RunContent['orders']) => RunContent['orders']) =>
      (content: RunContent): RunContent => ({ ...content, orders: others(content.orders) });
    const first = (more: object) => orders(([one, ...rest]) => [{ ...one!, ...more }, ...rest]);
    expect(words(first({ hand: 'LHD' }))).toBe('order A1 changed to LHD');
    expect(words(first({ order: 'B7' }))).toBe('order A1 called B7');
    expect(words(orders((all) => all.slice(1)))).toBe('order A1 taken out');
    expect(words(orders((all) => [...all, { ...all[0]!, order: 'A9' }]))).toBe('order A9 added');
    expect(words(orders((all) => all.toReversed()))).toBe('orders in another order');
    expect(words(laidAt(100))).toBe('roll of loop changed');
    expect(words((content) => ({ ...content, cutter: 'short-bed' }))).toBe('cutter changed');
  });
});
