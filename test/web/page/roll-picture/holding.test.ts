import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Finding } from '../../../../src/base/findings.ts';
import type { PartPlace } from '../../../../src/web/api/lay.ts';
import { createAsker } from '../../../../src/web/page/roll-picture/holding/asker.ts';
import type {
  Held,
  Reason,
  PlaceVerdict,
} from '../../../../src/web/page/roll-picture/holding/holding.ts';
import {
  createHolding,
  verdictHere,
} from '../../../../src/web/page/roll-picture/holding/holding.ts';
import { keyAct } from '../../../../src/web/page/roll-picture/input/keys.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

const tooNear: Finding = {
  severity: 'error',
  rule: 'gap',
  message: 'It is too near.',
  todo: 'Move it.',
  where: {},
};
const start: PartPlace = { x: 0, y: 0, rotation: 0 };
const there: PartPlace = { x: 10, y: 0, rotation: 0 };
const near: PartPlace = { x: 12, y: 0, rotation: 0 };

function after<T>(ms: number, answer: T): Promise<T> {
  return new Promise((resolve) => {
    setTimeout(() => resolve(answer), ms);
  });
}

describe('an asker', () => {
  it('asks the newest question only, with a pause, and never two at once', async () => {
    const asked: [number, number][] = [];
    const answers: number[] = [];
    let out = 0;
    let most = 0;
    const asker = createAsker<number, number>(
      async (question) => {
        asked.push([question, performance.now()]);
        most = Math.max(most, ++out);
        await after(200, null);
        out -= 1;
        return question;
      },
      () => -1,
      (_, answer) => answers.push(answer),
      120,
    );
    for (let i = 0; i < 50; i++) {
      asker.ask(i);
      await vi.advanceTimersByTimeAsync(10);
    }
    const settled = asker.settle(99);
    await vi.advanceTimersByTimeAsync(1000);
    expect(await settled).toBe(99);
    expect(most).toBe(1);
    expect(asked.map(([question]) => question)).toEqual([0, 20, 40, 99]);
    expect(answers).toEqual([0, 20, 40]);
  });

  it('takes a failure for an answer, and says nothing once it is stopped', async () => {
    const answers: number[] = [];
    const asker = createAsker<number, number>(
      async (question) => {
        await after(10, null);
        throw new Error(String(question));
      },
      () => -1,
      (_, answer) => answers.push(answer),
      120,
    );
    asker.ask(1);
    await vi.advanceTimersByTimeAsync(50);
    expect(answers).toEqual([-1]);
    asker.ask(2);
    asker.stop();
    await vi.advanceTimersByTimeAsync(500);
    expect(answers).toEqual([-1]);
  });
});

function hold(verdicts: { check: PlaceVerdict; drop: PlaceVerdict }) {
  const dropped: PartPlace[] = [];
  const seen: (Held | null)[] = [];
  const reasons: (Reason | null)[] = [];
  const holding = createHolding(
    () => ({
      check: () => after(20, verdicts.check),
      drop: (_, to) => {
        dropped.push(to);
        return after(20, verdicts.drop);
      },
    }),
    (held) => seen.push(held),
    (reason) => reasons.push(reason),
  );
  return { holding, dropped, seen, reasons };
}

const allowed: PlaceVerdict = { findings: [], near: null };

describe('a part in the hand', () => {
  it('is laid down where it may lie, and is let go when the lay has it', async () => {
    const { holding, dropped } = hold({ check: allowed, drop: allowed });
    holding.take('a', start, null);
    holding.move(there);
    void holding.release();
    await vi.advanceTimersByTimeAsync(100);
    expect(dropped).toEqual([there]);
    expect(holding.now()?.phase).toBe('down');
    holding.arrived();
    expect(holding.now()).toBeNull();
  });

  it('says nothing of a place that it has left', async () => {
    const { holding } = hold({ check: { findings: [tooNear], near }, drop: allowed });
    holding.take('a', start, null);
    holding.move(there);
    await vi.advanceTimersByTimeAsync(200);
    expect(verdictHere(holding.now()!)?.findings).toEqual([tooNear]);
    holding.move(near);
    expect(verdictHere(holding.now()!)).toBeNull();
    await vi.advanceTimersByTimeAsync(200);
    expect(verdictHere(holding.now()!)?.findings).toEqual([tooNear]);
  });

  it('goes to where it may lie near there', async () => {
    const { holding, dropped } = hold({ check: { findings: [tooNear], near }, drop: allowed });
    holding.take('a', start, { x: 1, y: 1 });
    holding.move(there);
    await vi.advanceTimersByTimeAsync(200);
    expect(holding.now()?.verdict?.near).toEqual(near);
    void holding.release();
    await vi.advanceTimersByTimeAsync(100);
    expect(dropped).toEqual([near]);
  });

  it('goes back where it is refused, and the reason stays for six seconds', async () => {
    const { holding, dropped, reasons } = hold({
      check: { findings: [tooNear], near: null },
      drop: allowed,
    });
    holding.take('a', start, null);
    holding.move(there);
    void holding.release();
    await vi.advanceTimersByTimeAsync(100);
    expect(dropped).toEqual([]);
    expect(holding.now()?.phase).toBe('back');
    expect(reasons.at(-1)).toEqual({ label: 'a', words: 'It is too near. Move it.' });
    await vi.advanceTimersByTimeAsync(1000);
    expect(holding.now()).toBeNull();
    expect(reasons.at(-1)).not.toBeNull();
    await vi.advanceTimersByTimeAsync(6000);
    expect(reasons.at(-1)).toBeNull();
  });

  it('goes back too where laying it down is refused', async () => {
    const { holding } = hold({ check: allowed, drop: { findings: [tooNear], near: null } });
    holding.take('a', start, null);
    holding.move(there);
    void holding.release();
    await vi.advanceTimersByTimeAsync(100);
    expect(holding.now()?.phase).toBe('back');
  });

  it('is put back without a question, and asks nothing where it was never moved', async () => {
    const { holding, dropped, seen } = hold({ check: allowed, drop: allowed });
    holding.take('a', start, null);
    void holding.release();
    expect(holding.now()).toBeNull();
    holding.take('a', start, null);
    holding.move(there);
    holding.putBack();
    await vi.advanceTimersByTimeAsync(500);
    expect(seen.at(-1)).toBeNull();
    expect(dropped).toEqual([]);
  });
});

describe('keys', () => {
  const plain = { shiftKey: false, altKey: false, ctrlKey: false, metaKey: false };
  const press = (key: string, changes = {}) => ({ key, ...plain, ...changes });
  const idle = { focused: false, movable: true, holding: false };
  const focused = { ...idle, focused: true };
  const holding = { ...focused, holding: true };

  it('move the picture, or the part that a walk has come to', () => {
    expect(keyAct(press('ArrowLeft'), idle)).toMatchObject({ what: 'pan' });
    expect(keyAct(press('ArrowLeft'), focused)).toEqual({ what: 'nudge', x: -10, y: 0 });
    expect(keyAct(press('ArrowUp', { shiftKey: true }), focused)).toMatchObject({ y: 1 });
    expect(keyAct(press('ArrowUp', { altKey: true }), holding)).toMatchObject({ y: 100 });
    expect(keyAct(press('ArrowUp'), { ...focused, movable: false })).toMatchObject({ what: 'pan' });
  });

  it('select, lay down, put back and leave', () => {
    expect(keyAct(press('Enter'), focused)).toEqual({ what: 'select', add: false });
    expect(keyAct(press(' '), idle)).toBeNull();
    expect(keyAct(press('Enter'), holding)).toEqual({ what: 'drop' });
    expect(keyAct(press('Escape'), holding)).toEqual({ what: 'back' });
    expect(keyAct(press('Escape'), focused)).toEqual({ what: 'leave' });
    expect(keyAct(press('Escape'), idle)).toBeNull();
  });

  it('turn, walk, zoom and fit', () => {
    expect(keyAct(press('R', { shiftKey: true }), holding)).toEqual({
      what: 'turn',
      quarter: true,
    });
    expect(keyAct(press('r'), focused)).toEqual({ what: 'turn', quarter: false });
    expect(keyAct(press('r'), idle)).toBeNull();
    expect(keyAct(press('n'), idle)).toEqual({ what: 'walk', by: 1 });
    expect(keyAct(press('PageUp'), idle)).toEqual({ what: 'walk', by: -1 });
    expect(keyAct(press('+'), idle)).toMatchObject({ what: 'zoom' });
    expect(keyAct(press('0'), idle)).toEqual({ what: 'fit' });
  });

  it('are left to the browser with Control', () => {
    expect(keyAct(press('+', { ctrlKey: true }), idle)).toBeNull();
    expect(keyAct(press('Tab'), focused)).toBeNull();
  });
});
