import { join, relative, resolve } from 'node:path';
import type { Context } from 'hono';
import type { z } from 'zod';
import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import type { Refused } from '../api/refused.ts';
import { findingsOfFailure } from '../failure.ts';

/** The body of a request as it must be. Throws a Refusal. */
export async function bodyOf<T>(c: Context, schema: z.ZodType<T>): Promise<T> {
  return fitting(schema, parsed(await c.req.text()));
}

/** A value of a request as it must be. Throws a Refusal. */
export function fitting<T>(schema: z.ZodType<T>, value: unknown): T {
  const read = schema.safeParse(value);
  if (read.success) return read.data;
  throw new Refusal(
    read.error.issues.slice(0, 20).map(({ path, message }) => ({
      severity: 'error',
      rule: 'request',
      message: `${path.length === 0 ? 'what was sent' : `"${path.map(String).join(' ')}"`} does not fit: ${message}.`,
      todo: 'Give an allowed value.',
      where: {},
    })),
  );
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** Those that another window or a search is the cause of: trying again may help. */
const conflicts = new Set(['changed-since', 'busy', 'changing']);

/** Answers a request that is refused, or that the program fails at. */
export function refusal(c: Context, error: unknown, folder: string): Response {
  const findings = findingsOfFailure(error).map((one) => shortened(one, folder));
  const status = !(error instanceof Refusal) ? 500 : conflicts.has(findings[0]!.rule) ? 409 : 422;
  return c.json({ findings } satisfies Refused, status);
}

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

/** An answer whose findings name files from the workshop's folder. */
export function named<T extends Refused>(answer: T, folder: string): T {
  return { ...answer, findings: answer.findings.map((one) => shortened(one, folder)) };
}

function shortened(finding: Finding, folder: string): Finding {
  const { file } = finding.where;
  const root = resolve(folder);
  if (file === undefined || !file.startsWith(join(root, '/'))) return finding;
  return { ...finding, where: { ...finding.where, file: relative(root, file) } };
}
