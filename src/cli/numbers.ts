import type { z } from 'zod';
import { refuse } from '../base/findings.ts';
import { wrongness } from '../base/schema-words.ts';

/** Checks a number of the command line against a schema. Throws a Refusal if it does not fit. */
export function checkNumber(name: string, schema: z.ZodType, value: number | undefined): void {
  if (value === undefined) return;
  // What is no number arrives as NaN.
  if (Number.isNaN(value)) refuse('argument', `--${name} takes a number.`, 'Write one.');
  const issue = schema.safeParse(value).error?.issues[0];
  if (issue === undefined) return;
  refuse('argument', `--${name} ${value} ${wrongness(issue)}.`, 'Write an allowed value.');
}
