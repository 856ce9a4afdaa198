import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';

/** A fault of the program is told like a refusal: whoever looks on has asked for something else. */
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
