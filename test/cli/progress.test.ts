import { describe, expect, it } from 'vitest';
import { progressOf } from '../../src/cli/progress.ts';

/** What is written of lays that are found one after the other. */
function linesOf(found: readonly (readonly [of: string, length: number])[]): string[] {
  const lines: string[] = [];
  const progress = progressOf({ progress: (text) => void lines.push(text) });
  for (const [of, length] of found) {
    progress({ of, length, words: () => `${of} ${length}` });
  }
  return lines.map((line) => line.replace(/^\d+\.\d s, /, ''));
}

describe('progress', () => {
  it('tells of a lay once, and only where it is shorter', () => {
    expect(
      linesOf([
        ['loop', 3],
        ['loop', 3],
        ['loop', 4],
        ['loop', 2],
      ]),
    ).toEqual(['loop 3', 'loop 2']);
  });

  it('tells of the first lay of the next material, however long', () => {
    expect(
      linesOf([
        ['loop', 3],
        ['felt', 5],
        ['felt', 4],
      ]),
    ).toEqual(['loop 3', 'felt 5', 'felt 4']);
  });

  it('is quiet where nobody watches', () => {
    const words = (): never => {
      throw new Error('nobody asked for words');
    };
    expect(() => progressOf({ progress: null })({ of: 'loop', length: 3, words })).not.toThrow();
  });
});
