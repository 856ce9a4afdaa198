import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { wrongness } from '../../src/base/schema-words.ts';

/** The words for the first thing that is wrong with a value. */
function wordsFor(schema: z.ZodType, value: unknown): string {
  return wrongness(schema.safeParse(value).error!.issues[0]!);
}

describe('what does not fit a schema', () => {
  it.each<[z.ZodType, unknown, string]>([
    [z.number().max(5), 6, 'is too large: at most 5 is allowed'],
    [z.number().lt(5), 5, 'is too large: less than 5 is allowed'],
    [z.number().min(1), 0, 'is too small: at least 1 is allowed'],
    [z.number().positive(), 0, 'is too small: more than 0 is allowed'],
    [z.int(), 1.5, 'is no whole number'],
    [z.number().int(), 1.5, 'is no whole number'],
    [z.number(), 'wide', 'is no number'],
    [z.string(), 7, 'is no text: put it in quotes'],
    [z.boolean(), 'yes', 'is neither true nor false'],
    [z.array(z.number()), 'a', 'is no list'],
    [z.strictObject({}), null, 'has no keys with values'],
    [z.record(z.string(), z.number()), 3, 'has no keys with values'],
    [z.enum(['RHD', 'LHD']), 'rhd', 'is none of: RHD, LHD'],
    [z.literal(3), 2, 'is none of: 3'],
    [z.string().min(1), '', 'is empty'],
    [z.array(z.number()).min(2), [1], 'is too short: at least 2 must stand here'],
    [z.array(z.number()).max(1), [1, 2], 'is too long: at most 1 may stand here'],
    [z.tuple([z.number(), z.number()]), [1, 2, 3], 'is too long: at most 2 may stand here'],
    [
      z.record(z.string().regex(/^[a-z]+$/, 'small letters'), z.number()),
      { 'Cab Floor': 1 },
      'is no name that can stand here: small letters',
    ],
    [z.union([z.number(), z.boolean()]), 'x', 'is of no kind that can stand here'],
    [z.enum(['left'], 'write left, or degrees'), 'up', 'does not fit: write left, or degrees'],
  ])('%o is told from %o: it %s', (schema, value, words) => {
    expect(wordsFor(schema, value)).toBe(words);
  });

  it('in any other way is said in the words of the schema', () => {
    expect(wordsFor(z.string().regex(/^a/, 'begin with an a'), 'b')).toBe(
      'does not fit: begin with an a',
    );
    expect(wordsFor(z.string().max(2), 'abc')).toMatch(/^does not fit: /);
  });
});
