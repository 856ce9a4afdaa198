import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Rehearsal, RehearsalMoves } from '../../../../src/web/api/rehearsal.ts';
import { rehearsalOf } from '../../../../src/web/page/rehearsal/rehearsal-body.ts';
import { addMoves, keptEvery } from '../../../../src/web/page/rehearsal/strokes.ts';
import {
  beginOf,
  biteFrom,
  biteOf,
  clockTime,
  messageAt,
  momentAt,
  movesOver,
  partAtMove,
  spokenTime,
  stepBack,
  stepOn,
} from '../../../../src/web/page/rehearsal/timeline.ts';

/** Travel to (100, 0), turn there, cut to (100, 50) and (0, 50), travel home. */
const moves: RehearsalMoves = {
  x: Float32Array.of(0, 100, 100, 100, 0, 0),
  y: Float32Array.of(0, 0, 0, 50, 50, 0),
  at: Float32Array.of(0, 1, 1.5, 2.5, 4.5, 5),
  down: Uint8Array.of(0, 0, 2, 1, 1, 0),
  line: Uint32Array.of(3, 4, 5, 6, 7, 8),
};

const head = {
  bites: [
    { fed: 0, firstMove: 0, seconds: 0 },
    { fed: 1000, firstMove: 4, seconds: 2.5 },
  ],
  parts: [
    { label: 'a', move: 1, seconds: 0 },
    { label: 'b', move: 4, seconds: 2.5 },
  ],
  messages: [
    { move: 0, line: 2, text: 'Load the roll.' },
    { move: 4, line: 7, text: 'Feed.' },
    { move: 6, line: 9, text: 'Done.' },
  ],
} satisfies Partial<Rehearsal>;

describe('the moment of a rehearsal', () => {
  it('is on the straight line between the ends of two moves', () => {
    expect(momentAt(moves, 0.25)).toEqual({ move: 1, x: 25, y: 0, down: 0, line: 4 });
    expect(momentAt(moves, 1.25)).toMatchObject({ x: 100, y: 0, down: 2 });
    expect(momentAt(moves, 3)).toEqual({ move: 4, x: 75, y: 50, down: 1, line: 7 });
  });

  it('is the beginning of the next move where one ends', () => {
    expect(momentAt(moves, beginOf(moves, 3))).toMatchObject({ move: 3, x: 100, y: 0, down: 1 });
  });

  it('stays at the end', () => {
    expect(momentAt(moves, 5)).toEqual({ move: 6, x: 0, y: 0, down: null, line: 8 });
    expect(momentAt(moves, 99).move).toBe(6);
  });

  it('is nowhere in a program without moves', () => {
    const none = { ...moves, x: moves.x.subarray(0, 0), at: moves.at.subarray(0, 0) };
    expect(momentAt({ ...none, y: none.x }, 1)).toMatchObject({ move: 0, x: 0, y: 0, down: null });
  });

  it('is found as a search one by one finds it', () => {
    const times = fc.array(fc.integer({ min: 0, max: 20 }), { maxLength: 40 });
    fc.assert(
      fc.property(times, fc.integer({ min: -1, max: 21 }), (unsorted, seconds) => {
        const at = Float32Array.from(unsorted).sort();
        expect(movesOver({ at }, seconds)).toBe(at.filter((end) => end <= seconds).length);
      }),
    );
  });

  it('steps from end to end, past moves that take no time', () => {
    const halting = { ...moves, at: Float32Array.of(0, 1, 1, 1, 4.5, 5) };
    expect([stepOn(halting, 0), stepOn(halting, 1), stepOn(halting, 5)]).toEqual([1, 4.5, 5]);
    expect([stepBack(halting, 5), stepBack(halting, 4.5), stepBack(halting, 0)]).toEqual([
      4.5, 1, 0,
    ]);
  });
});

describe('what goes with a moment', () => {
  it('is the bite, the part and the last message', () => {
    expect([biteOf(head, 3), biteOf(head, 4)]).toEqual([0, 1]);
    expect(partAtMove(head, 0)).toBeNull();
    expect(partAtMove(head, 3)?.label).toBe('a');
    expect(partAtMove(head, 6)?.label).toBe('b');
    expect(messageAt(head, 3)?.text).toBe('Load the roll.');
    expect(messageAt(head, 6)?.text).toBe('Done.');
    expect(messageAt({ messages: [] }, 6)).toBeNull();
  });

  it('is the bite before and after', () => {
    expect(biteFrom(head, moves, 1, 1)).toBe(2.5);
    expect(biteFrom(head, moves, 3, -1)).toBe(0);
    expect(biteFrom(head, moves, 5, -1)).toBe(2.5);
    expect(biteFrom(head, moves, 5, 1)).toBeNull();
    expect(biteFrom(head, moves, 1, -1)).toBeNull();
  });

  it('is told as time', () => {
    expect(spokenTime(134.9)).toBe('2 min 14 s');
    expect(spokenTime(3605)).toBe('1 h 0 min 5 s');
    expect(spokenTime(7)).toBe('7 s');
    expect([clockTime(134.9), clockTime(3905)]).toEqual(['2:14', '1:05:05']);
  });
});

function drawn(from: number, to: number, least = 0): string[] {
  const lines = ['up', 'cut', 'turned'].map((kind) => {
    const words: string[] = [];
    return {
      words,
      moveTo: (x: number, y: number) => void words.push(`${kind} M${x} ${y}`),
      lineTo: (x: number, y: number) => void words.push(`${kind} L${x} ${y}`),
    };
  });
  const [up, cut, turned] = lines;
  addMoves(moves, from, to, [1, 0, 0, 1, 0, 0], [up!, cut!, turned!], least);
  return lines.flatMap(({ words }) => words);
}

describe('the trail', () => {
  it('is drawn kind by kind, each from where the move before ended', () => {
    expect(drawn(0, 6)).toEqual([
      'up M0 0',
      'up L100 0',
      'up M0 50',
      'up L0 0',
      'cut M100 0',
      'cut L100 50',
      'cut L0 50',
      'turned M100 0',
      'turned L100 0',
    ]);
  });

  it('goes on where it was left', () => {
    expect(drawn(4, 5)).toEqual(['cut M100 50', 'cut L0 50']);
  });

  it('passes over points too close, but never the last of a kind', () => {
    expect(drawn(3, 5, 1000)).toEqual(['cut M100 0', 'cut L0 50']);
  });

  it('keeps fewer pictures the more they take', () => {
    expect(keptEvery(100_000, 1440 * 700)).toBeLessThan(4000);
    expect(keptEvery(100_000, 4 * 1440 * 700)).toBeGreaterThan(10_000);
    expect(keptEvery(100, 1440 * 700)).toBe(2500);
  });
});

describe('the body of a rehearsal', () => {
  it('is taken apart into its head and its columns', () => {
    const count = 6;
    const bed = {
      parts: {
        shapes: [{ d: 'M0 0' }, { d: 'M1 1' }],
        parts: [
          { label: 'a', shape: 1 },
          { label: 'b', shape: 0 },
          { label: 'c', shape: 1 },
        ],
      },
    };
    const json = new TextEncoder().encode(JSON.stringify({ ...head, bed, count, file: 'ä.nc' }));
    const length = Math.ceil((json.length + 4) / 8) * 8 - 4;
    const bytes = new Uint8Array(4 + length + 17 * count).fill(0x20, 4, 4 + length);
    new DataView(bytes.buffer).setUint32(0, length, true);
    bytes.set(json, 4);
    const columns = [moves.x, moves.y, moves.at, moves.line, moves.down];
    let at = 4 + length;
    for (const { buffer, byteLength } of columns) {
      bytes.set(new Uint8Array(buffer), at);
      at += byteLength;
    }
    const read = rehearsalOf(bytes.buffer);
    expect(read.rehearsal.file).toBe('ä.nc');
    expect(read.rehearsal.bed.parts).toEqual([
      { label: 'a', d: 'M1 1' },
      { label: 'b', d: 'M0 0' },
      { label: 'c', d: 'M1 1' },
    ]);
    expect(read.moves).toEqual(moves);
    expect(() => rehearsalOf(bytes.buffer.slice(0, -1))).toThrow(RangeError);
  });
});
