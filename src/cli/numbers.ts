import type { z } from 'zod';
import { refuse } from '../base/findings.ts';

/** Checks a number of the command line against a schema. Throws a Refusal if it does not fit. */
export function checkNumber(name: string, schema: z.ZodType, value: number | undefined): void {
  if (value === undefined) return;
  const result = schema.safeParse(value);
  if (result.success) return;
  const reason = result.error.issues[0]!.message;
  refuse('argument', `--${name} ${value} does not fit: ${reason}.`, 'Write an allowed value.');
}
