/** Who may ask this server for what, and how a browser is to treat its answers. */
import { timingSafeEqual } from 'node:crypto';
import type { HonoRequest, MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import type { Refused } from '../api/refused.ts';

interface Lock {
  /** The port that the server listens on. */
  readonly port: () => number;
  /** A secret that only the page given out by this server knows. */
  readonly key: string;
}

interface Wrong {
  readonly status: 400 | 403 | 413 | 415 | 421 | 500;
  readonly rule: string;
  readonly message: string;
  readonly todo: string;
}

/**
 * The outermost middleware, for all paths. It answers only the page of this very server, which asks
 * under the server's own name and with its key, and it sets the headers below on every answer. A route
 * may set a policy of its own, as `paperPolicy` does.
 */
export function guarded({ port, key }: Lock): MiddlewareHandler {
  const isKey = keyCheck(key);
  return async (c, next) => {
    const wrong = wrongSender(c.req, port()) ?? wrongKey(c.req, isKey);
    if (wrong === null) await next();
    else c.res = refusedResponse(wrong);
    for (const [name, value] of Object.entries(safeHeaders)) {
      if (!c.res.headers.has(name)) c.res.headers.set(name, value);
    }
    if (c.req.path === '/' || isKeyed(c.req.path)) c.res.headers.set('Cache-Control', 'no-store');
  };
}

const policy = {
  'default-src': "'none'",
  'script-src': "'self'",
  'style-src': "'self'",
  'img-src': "'self' data: blob:",
  'font-src': "'self'",
  'connect-src': "'self'",
  'worker-src': "'self' blob:",
  'frame-src': "'self'",
  'object-src': "'none'",
  'base-uri': "'none'",
  'form-action': "'none'",
  'frame-ancestors': "'none'",
};

/** Headers that every answer carries, also one that refuses. */
const safeHeaders: Readonly<Record<string, string>> = {
  'Content-Security-Policy': policyText(policy),
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'DENY',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Permissions-Policy':
    'camera=(), microphone=(), geolocation=(), display-capture=(), midi=(), payment=(), serial=(), usb=()',
};

/** Papers carry their style in themselves, run no script, and the page may show them in a frame. */
const paperHeaders = {
  'Content-Security-Policy': policyText({
    'default-src': "'none'",
    'style-src': "'unsafe-inline'",
    'img-src': 'data:',
    'font-src': 'data:',
    'base-uri': "'none'",
    'form-action': "'none'",
    'frame-ancestors': "'self'",
  }),
  'X-Frame-Options': 'SAMEORIGIN',
};

/** Middleware for routes that give out the papers of a run: the page may show them in a frame. */
export const paperPolicy: MiddlewareHandler = async (c, next) => {
  await next();
  for (const [name, value] of Object.entries(paperHeaders)) {
    if (!c.res.headers.has(name)) c.res.headers.set(name, value);
  }
};

function policyText(rules: Readonly<Record<string, string>>): string {
  return Object.entries(rules)
    .map(([name, value]) => `${name} ${value}`)
    .join('; ');
}

/** Says what is wrong with where a request claims to come from; null where nothing is. */
function wrongSender(request: HonoRequest, port: number): Wrong | null {
  const host = request.header('host');
  // Browsers leave out port 80, which is every web server's own.
  const hosts = ['127.0.0.1', 'localhost'].map((name) => (port === 80 ? name : `${name}:${port}`));
  // Somebody else's name can be made to lead to this machine; it is seen here.
  if (host === undefined || !hosts.includes(host) || new URL(request.url).host !== host) {
    return {
      status: 421,
      rule: 'host',
      message: 'this request came under a name that is not this server’s.',
      todo: `Open http://127.0.0.1:${port}/ instead.`,
    };
  }
  const origin = request.header('origin');
  if ((origin === undefined || origin === `http://${host}`) && isOwnSite(request)) return null;
  return {
    status: 403,
    rule: 'origin',
    message: 'this request came from another page.',
    todo: `Open http://127.0.0.1:${port}/ and work there.`,
  };
}

/**
 * Whether a request comes from this server's own page. Servers on other ports of this machine are
 * `same-site` for a browser, and strangers to us all the same.
 */
function isOwnSite(request: HonoRequest): boolean {
  const site = request.header('sec-fetch-site');
  return site === undefined || site === 'same-origin' || site === 'none' || isFollowedLink(request);
}

/**
 * Whether a person has followed a link to the page. A link may stand anywhere: what it opens is seen by
 * that person alone.
 */
function isFollowedLink(request: HonoRequest): boolean {
  return (
    request.method === 'GET' &&
    request.path === '/' &&
    request.header('sec-fetch-mode') === 'navigate' &&
    request.header('sec-fetch-dest') === 'document'
  );
}

function isKeyed(path: string): boolean {
  return ['api', 'files'].includes(path.split('/')[1]!);
}

function wrongKey(request: HonoRequest, isKey: (given: string) => boolean): Wrong | null {
  if (!isKeyed(request.path)) return null;
  // Links and pictures cannot send headers.
  if (isKey(request.header('x-pileway-key') ?? request.query('key') ?? '')) return null;
  return {
    status: 403,
    rule: 'key',
    message: 'this page is from an earlier start of the server, or no page of it at all.',
    todo: 'Load the page again.',
  };
}

function keyCheck(key: string): (given: string) => boolean {
  const wanted = Buffer.from(key);
  return (text) => {
    const given = Buffer.from(text);
    return given.length === wanted.length && timingSafeEqual(given, wanted);
  };
}

/** Makes an answer that refuses: it has one finding, and the headers of every answer. */
export function refusedResponse({ status, rule, message, todo }: Wrong): Response {
  const refused: Refused = {
    findings: [{ severity: 'error', rule, message, todo, where: {} }],
  };
  return new Response(JSON.stringify(refused), {
    status,
    headers: { ...safeHeaders, 'Content-Type': 'application/json', 'Cache-Control': 'no-store' },
  });
}

const takenTypes = ['application/json', 'application/octet-stream'];

/**
 * Middleware that takes no body of more bytes than this, whether its length is said or it is streamed,
 * and only content types that no form of another page can send. A PUT or POST has to say its type even
 * where it has no body.
 */
export function bodyWithin(bytes: number): MiddlewareHandler {
  const limited = bodyLimit({
    maxSize: bytes,
    onError: () =>
      refusedResponse({
        status: 413,
        rule: 'size',
        message: `this is more than the ${sizeWords(bytes)} that are taken here.`,
        todo: 'Send less at once.',
      }),
  });
  return async (c, next) => {
    if (!carriesBody(c.req) || takenTypes.includes(typeOf(c.req))) return limited(c, next);
    return refusedResponse({
      status: 415,
      rule: 'content-type',
      message: `only ${takenTypes.join(' and ')} are taken here.`,
      todo: 'Send one of them, and say so in its content type.',
    });
  };
}

function carriesBody(request: HonoRequest): boolean {
  return (
    ['PUT', 'POST'].includes(request.method) ||
    Number(request.header('content-length') ?? 0) > 0 ||
    request.header('transfer-encoding') !== undefined
  );
}

/** The content type of a request, without its parameters. */
function typeOf(request: HonoRequest): string {
  return (request.header('content-type') ?? '').split(';')[0]!.trim().toLowerCase();
}

function sizeWords(bytes: number): string {
  if (bytes >= 1e6) return `${Math.floor(bytes / 1e5) / 10} MB`;
  if (bytes >= 1e3) return `${Math.floor(bytes / 100) / 10} kB`;
  return `${bytes} bytes`;
}
