import type { Context } from 'hono';
import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import type { Refused } from '../api/refused.ts';
import { findingsOfFailure } from '../failure.ts';
import { quotable } from '../workshop/quoted.ts';
import type { Workshop } from '../workshop/workshop.ts';

/** Rules of refusals that another window or a search is the cause of: trying again may help. */
const conflicts = new Set(['changed-since', 'busy', 'changing']);

/** Answers a request that is refused, or that the program fails at. */
export function refusal(c: Context, error: unknown, shop: Workshop): Response {
  const findings = findingsOfFailure(error).map((one) => quotable(one, shop));
  const status = !(error instanceof Refusal) ? 500 : conflicts.has(findings[0]!.rule) ? 409 : 422;
  return c.json({ findings } satisfies Refused, status);
}

/** Answers a request for something that there is not. */
export function notThere(c: Context): Response {
  const finding: Finding = {
    severity: 'error',
    rule: 'not-there',
    message: 'there is nothing under this address.',
    todo: 'Load the page again.',
    where: {},
  };
  return c.json({ findings: [finding] } satisfies Refused, 404);
}

/** An answer with its findings as the page may show them. */
export function named<T extends Refused>(answer: T, shop: Workshop): T {
  return { ...answer, findings: answer.findings.map((one) => quotable(one, shop)) };
}
