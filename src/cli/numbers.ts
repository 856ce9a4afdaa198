import type { z } from 'zod';
import { refuse } from '../base/findings.ts';
import { wrongness } from '../base/schema-words.ts';

/** Checks a number of the command line against a schema. Throws a Refusal if it does not fit. */
export function checkNumber(name: string, schema: z.ZodType, value: number | undefined): void {
  if (value === undefined) return;
  const issue = schema.safeParse(value).error?.issues[0];
  if (issue === undefined) return;
  refuse('argument', `--${name} ${value} ${wrongness(issue)}.`, 'Write an allowed value.');
}
