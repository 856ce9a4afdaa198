import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';

/**
 * What to say of a failure. A fault of the program is told in findings as well: a person who looks on
 * can do nothing with a stack trace.
 */
export function findingsOfFailure(error: unknown): readonly Finding[] {
  if (error instanceof Refusal) return error.findings;
  const message = error instanceof Error ? error.message : String(error);
  return [
    {
      severity: 'error',
      rule: 'fault',
      message: `the program failed: ${message}.`,
      todo: 'This is a fault of the program; report what you did.',
      where: {},
    },
  ];
}
