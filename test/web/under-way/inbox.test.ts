import { describe, expect, it, vi } from 'vitest';
import { openInbox } from '../../../src/web/under-way/inbox.ts';

type Event =
  | { kind: 'trying' | 'lay'; material: string; roll: string | null; n: number }
  | { kind: 'search' | 'step'; n: number };

const step = (n: number): Event => ({ kind: 'step', n });

describe('an inbox', () => {
  const taken = (box: ReturnType<typeof openInbox<Event>>): string[] => {
    const all: string[] = [];
    for (let event = box.take(); event !== null; event = box.take()) {
      all.push(`${event.kind} ${event.n}`);
    }
    return all;
  };

  it('keeps only the newest of what passes, for each roll', () => {
    const box = openInbox<Event>();
    for (let n = 0; n < 100_000; n++) {
      box.put({ kind: 'trying', material: 'loop', roll: null, n });
      box.put({ kind: 'lay', material: n % 2 ? 'loop' : 'felt', roll: null, n });
      box.put({ kind: 'search', n });
    }
    expect(box.size()).toBe(4);
    expect(taken(box)).toEqual(['lay 99998', 'trying 99999', 'lay 99999', 'search 99999']);
  });

  it('keeps all else in order, and is over where that is too much', () => {
    let ends = 0;
    const box = openInbox<Event>(() => ends++);
    for (let n = 0; n < 1000; n++) box.put(step(n));
    box.put({ kind: 'search', n: 1 });
    expect(box.isOver()).toBe(true);
    expect([box.size(), ends]).toEqual([0, 1]);
    box.put(step(1));
    box.end();
    expect([box.size(), ends]).toEqual([0, 1]);
    const fine = openInbox<Event>();
    for (let n = 0; n < 1000; n++) fine.put(step(n));
    expect(fine.isOver()).toBe(false);
    expect(taken(fine)).toHaveLength(1000);
  });

  it('says after a while that nothing has come, and at once that something has', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    try {
      const box = openInbox<Event>();
      const waits = box.filled(15_000);
      vi.advanceTimersByTime(15_000);
      expect(await waits).toBe(false);
      const filled = box.filled(15_000);
      box.put(step(1));
      expect(await filled).toBe(true);
      const ended = box.filled(15_000);
      expect(await ended).toBe(true);
      expect(vi.getTimerCount()).toBe(0);
    } finally {
      vi.useRealTimers();
    }
  });
});
