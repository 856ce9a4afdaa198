import type { Env, MiddlewareHandler } from 'hono';
import type { z } from 'zod';
import type { Finding } from '../../base/findings.ts';
import { refuse, Refusal } from '../../base/findings.ts';
import { wayToProtoKey } from '../../base/proto-key.ts';
import { wrongness } from '../../base/schema-words.ts';

/** Middleware that leaves what it has read for `c.req.valid(part)`, and tells the page's client what to send. */
type Reader<Part extends 'json' | 'query', Schema extends z.ZodType> = MiddlewareHandler<
  Env,
  string,
  { in: Record<Part, z.input<Schema>>; out: Record<Part, z.output<Schema>> }
>;

/**
 * Reads the body of a request, which is JSON of this shape; throws a Refusal where it is not. Hono has a
 * validator of its own, but that answers what is no JSON at all in words which say nothing to a workshop.
 */
export function sent<Schema extends z.ZodType<object>>(schema: Schema): Reader<'json', Schema> {
  return async (c, next) => {
    c.req.addValidatedData('json', fitting(schema, parsed(await c.req.text())));
    await next();
  };
}

/** Reads what stands behind the question mark of an address. Throws a Refusal where it does not fit. */
export function sentAlong<Schema extends z.ZodType<object>>(
  schema: Schema,
): Reader<'query', Schema> {
  return async (c, next) => {
    c.req.addValidatedData('query', fitting(schema, c.req.query()));
    await next();
  };
}

/**
 * Reads a body that is one line of JSON of this shape, and behind it bytes as they are. Throws a Refusal
 * where the line does not fit.
 */
export function sentWithBytes<T>(
  schema: z.ZodType<T>,
  body: ArrayBuffer,
): { readonly said: T; readonly bytes: Uint8Array } {
  const all = new Uint8Array(body);
  const end = all.indexOf(0x0a);
  const head = all.subarray(0, Math.max(0, end));
  return {
    said: fitting(schema, parsed(new TextDecoder().decode(head))),
    bytes: all.subarray(end + 1),
  };
}

/** No more than these mistakes are told at once. */
const mostTold = 20;

function fitting<T>(schema: z.ZodType<T>, value: unknown): T {
  const strange = wayToProtoKey(value);
  if (strange !== null) {
    refuse('request', `"${strange.join(' ')}" is no name.`, 'Give an allowed value.');
  }
  const read = schema.safeParse(value);
  if (read.success) return read.data;
  throw new Refusal(
    read.error.issues.slice(0, mostTold).map((issue): Finding => ({
      severity: 'error',
      rule: 'request',
      message: `${issue.path.length === 0 ? 'what was sent' : `"${issue.path.map(String).join(' ')}"`} ${wrongness(issue)}.`,
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
