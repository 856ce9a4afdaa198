import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { commentLines, messageLine } from '../../../src/program/writing/comments.ts';

describe('comments', () => {
  it('are plain, short and not nested, whatever is said', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 400 }), (text) => {
        expect(commentLines(text).length > 0).toBe(
          text.trim() !== '' || commentLines('').length > 0,
        );
        for (const line of [...commentLines(text), messageLine(text)]) {
          expect(line).toMatch(/^\([\x20-\x27\x2a-\x7e]*\)$/);
          expect(line.length).toBeLessThanOrEqual(80);
        }
      }),
    );
  });

  it('keep words whole and drop accents', () => {
    expect(commentLines('Größe (neu): 12 × 3')).toEqual(['(Gro?e [neu]: 12 ? 3)']);
    const long = commentLines('a word after another '.repeat(12));
    expect(long.length).toBeGreaterThan(2);
    expect(long.map((line) => line.slice(1, -1)).join(' ')).toBe(
      'a word after another '.repeat(12).trim(),
    );
  });

  it('never make a message of what is none', () => {
    expect(commentLines('MSG, feed now')).toEqual(['(MSG - feed now)']);
    expect(messageLine('feed now')).toBe('(MSG, feed now)');
  });
});
