import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import type { OutgoingHttpHeaders } from 'node:http';
import { request } from 'node:http';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hono } from 'hono';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bodyWithin, guarded, paperPolicy } from '../../../src/web/access/guard.ts';
import type { Refused } from '../../../src/web/api/refused.ts';
import { builtPage } from '../../../src/web/routes/built-page.ts';
import type { Served } from '../../../src/web/serve.ts';
import { serveOnPort } from '../../../src/web/serve.ts';

const key = 'Kx_9-wq';
let folder = '';
let served: Served;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'page-'));
  writeFileSync(join(folder, 'secret.txt'), 'outside');
  const pageFolder = join(folder, 'page');
  mkdirSync(join(pageFolder, 'assets'), { recursive: true });
  writeFileSync(
    join(pageFolder, 'index.html'),
    '<!doctype html><meta name="pileway-key" content="" /><p>page</p>',
  );
  writeFileSync(join(pageFolder, 'icon.svg'), '<svg/>');
  writeFileSync(join(pageFolder, 'assets/index-abc.js'), 'export {}');
  const app = new Hono();
  app.onError((_, c) => c.text('failed', 500));
  app.use(guarded({ port: () => served.port, key }));
  app.use(bodyWithin(1000));
  app.get('/api/shop', (c) => c.json({ fine: true }));
  app.all('/api/echo', async (c) => c.json({ bytes: (await c.req.arrayBuffer()).byteLength }));
  app.get('/api/fault', () => {
    throw new Error('a fault');
  });
  app.get('/api/worse', () => {
    // oxlint-disable-next-line no-throw-literal
    throw 'not even an error';
  });
  app.get('/files/lay.nc', (c) => c.text('G1', 200, { 'Cache-Control': 'max-age=9' }));
  app.get('/files/sheet.html', paperPolicy, (c) => c.html('<p>paper</p>'));
  app.use(builtPage(pageFolder, key));
  served = await serveOnPort(app, 0);
});

afterAll(async () => {
  await served.close();
  rmSync(folder, { recursive: true });
});

interface Answer {
  readonly status: number;
  readonly headers: Record<string, string>;
  readonly text: string;
}

interface Ask {
  readonly method?: string;
  readonly headers?: OutgoingHttpHeaders;
  readonly body?: string | readonly string[];
}

/** Asks with exactly these headers, and for exactly this path. */
function ask(path: string, { method = 'GET', headers = {}, body }: Ask = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const { port } = served;
    const asked = request({ host: '127.0.0.1', port, path, method, headers }, (response) => {
      let text = '';
      response.setEncoding('utf8');
      response.on('data', (data: string) => (text += data));
      response.on('end', () =>
        resolve({
          status: response.statusCode!,
          headers: response.headers as Record<string, string>,
          text,
        }),
      );
    });
    asked.on('error', reject);
    if (typeof body === 'object') for (const piece of body) asked.write(piece);
    asked.end(typeof body === 'string' ? body : undefined);
  });
}

/** Sends bytes as they are and reads until the server hangs up. */
function raw(text: string): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    const socket = connect(served.port, '127.0.0.1', () => socket.write(text));
    socket.setEncoding('utf8');
    socket.on('data', (data: string) => (said += data));
    socket.on('end', () => resolve(said));
    socket.on('error', reject);
  });
}

const keyed = (headers: OutgoingHttpHeaders = {}): Ask => ({
  headers: { 'x-pileway-key': key, ...headers },
});

function ruleOf({ text }: Answer): string {
  const { findings } = JSON.parse(text) as Refused;
  expect(findings).toHaveLength(1);
  const [{ severity, rule, message, todo, where }] = findings as [Refused['findings'][0]];
  expect(severity).toBe('error');
  expect(message).toMatch(/\.$/);
  expect(todo).toMatch(/\.$/);
  expect(where).toEqual({});
  return rule;
}

describe('who may ask', () => {
  it('takes the page’s own requests by either name', async () => {
    for (const host of [`127.0.0.1:${served.port}`, `localhost:${served.port}`]) {
      const own = { host, origin: `http://${host}`, 'sec-fetch-site': 'same-origin' };
      const answer = await ask('/api/shop', keyed(own));
      expect(answer.status).toBe(200);
      expect(JSON.parse(answer.text)).toEqual({ fine: true });
    }
    expect((await ask('/api/shop', keyed({ 'sec-fetch-site': 'none' }))).status).toBe(200);
    expect((await ask(`/files/lay.nc?key=${key}`)).text).toBe('G1');
  });

  it('refuses every name but its own, as a foreign name that leads here', async () => {
    const port = String(served.port);
    const hosts = [
      'carpets.test',
      `carpets.test:${port}`,
      `127.0.0.1.carpets.test:${port}`,
      '127.0.0.1',
      'localhost',
      `127.0.0.1:${served.port - 1}`,
      `LOCALHOST:${port}`,
      `localhost.:${port}`,
      `127.1:${port}`,
      `0.0.0.0:${port}`,
      `[::1]:${port}`,
      `me@127.0.0.1:${port}`,
    ];
    for (const path of ['/', '/api/shop', '/assets/index-abc.js', '/none']) {
      for (const host of hosts) {
        const answer = await ask(path, keyed({ host }));
        const rule = ruleOf(answer);
        expect([host, answer.status, rule]).toEqual(
          // What is no host at all never reaches the guard.
          rule === 'request' ? [host, 400, 'request'] : [host, 421, 'host'],
        );
      }
    }
  });

  it('refuses requests with no name, with two, and to another server', async () => {
    const own = `127.0.0.1:${served.port}`;
    const end = `X-Pileway-Key: ${key}\r\nConnection: close\r\n\r\n`;
    const first = async (text: string): Promise<string> => (await raw(text)).split('\r\n')[0]!;
    expect(await first(`GET /api/shop HTTP/1.1\r\nHost: ${own}\r\n${end}`)).toContain(' 200 ');
    expect(await first(`GET /api/shop HTTP/1.0\r\n${end}`)).toContain(' 421 ');
    expect(await first(`GET /api/shop HTTP/1.1\r\n${end}`)).toContain(' 421 ');
    expect(await first(`GET /api/shop HTTP/1.1\r\nHost:\r\n${end}`)).toContain(' 421 ');
    const two = `Host: ${own}\r\nHost: carpets.test\r\n`;
    expect(await first(`GET /api/shop HTTP/1.1\r\n${two}${end}`)).toMatch(/ 4\d\d /);
    const other = `GET http://carpets.test/api/shop HTTP/1.1\r\nHost: ${own}\r\n`;
    expect(await first(other + end)).toContain(' 421 ');
  });

  it('refuses other pages', async () => {
    const port = String(served.port);
    const origins = [
      'http://carpets.test',
      'null',
      `https://127.0.0.1:${port}`,
      `http://127.0.0.1:${served.port + 1}`,
      `http://127.0.0.1:${port}.carpets.test`,
      `http://localhost:${port}`,
      '',
    ];
    for (const origin of origins) {
      const answer = await ask('/api/shop', keyed({ origin }));
      expect([origin, answer.status, ruleOf(answer)]).toEqual([origin, 403, 'origin']);
      expect(answer.headers['access-control-allow-origin']).toBeUndefined();
    }
    const asked = { origin: 'http://carpets.test', 'access-control-request-method': 'POST' };
    const preflight = await ask('/api/echo', { method: 'OPTIONS', headers: asked });
    expect(preflight.status).toBe(403);
    for (const site of ['cross-site', 'same-site', 'something-new']) {
      for (const path of ['/api/shop', '/icon.svg', '/', '/files/sheet.html']) {
        const answer = await ask(path, keyed({ 'sec-fetch-site': site }));
        expect([site, path, answer.status, ruleOf(answer)]).toEqual([site, path, 403, 'origin']);
      }
    }
  });

  it('lets a link to the page be followed, and nothing but the page', async () => {
    const link = {
      'sec-fetch-site': 'cross-site',
      'sec-fetch-mode': 'navigate',
      'sec-fetch-dest': 'document',
    };
    expect((await ask('/', { headers: link })).status).toBe(200);
    expect((await ask('/api/shop', keyed(link))).status).toBe(403);
    expect((await ask('/files/sheet.html', keyed(link))).status).toBe(403);
    expect((await ask('/', { method: 'POST', headers: link })).status).toBe(403);
    expect((await ask('/', { headers: { ...link, 'sec-fetch-dest': 'iframe' } })).status).toBe(403);
    const origin = 'http://carpets.test';
    expect((await ask('/', { headers: { ...link, origin } })).status).toBe(403);
  });

  it('wants the key for all of /api and /files, there or not', async () => {
    for (const path of [
      '/api/shop',
      '/api',
      '/api/none',
      '/files/lay.nc',
      '/files',
      '/%61pi/shop',
    ]) {
      for (const given of [undefined, '', 'Kx_9-wQ', `${key}x`, key.slice(1), 'Kx_9-wq, Kx_9-wq']) {
        const answer = await ask(
          path,
          given === undefined ? {} : keyed({ 'x-pileway-key': given }),
        );
        expect([path, given, answer.status, ruleOf(answer)]).toEqual([path, given, 403, 'key']);
      }
    }
    expect((await ask('/files/lay.nc?key=wrong')).status).toBe(403);
    expect((await ask(`/files/lay.nc?key=wrong&key=${key}`)).status).toBe(403);
    expect((await ask('/icon.svg')).status).toBe(200);
  });
});

describe('bodies', () => {
  const post = (headers: OutgoingHttpHeaders, body?: Ask['body']): Promise<Answer> =>
    ask('/api/echo', {
      method: 'POST',
      headers: { 'x-pileway-key': key, ...headers },
      ...(body === undefined ? {} : { body }),
    });
  const json = { 'content-type': 'application/json; charset=utf-8' };
  const bytes = { 'content-type': 'application/octet-stream' };

  it('takes what fits, said or streamed', async () => {
    expect(JSON.parse((await post(json, 'x'.repeat(1000))).text)).toEqual({ bytes: 1000 });
    const streamed = await post(bytes, ['x'.repeat(400), 'x'.repeat(600)]);
    expect(JSON.parse(streamed.text)).toEqual({ bytes: 1000 });
  });

  it('refuses what is too large, said or streamed', async () => {
    for (const body of ['x'.repeat(1001), ['x'.repeat(600), 'x'.repeat(401)]]) {
      const answer = await post(bytes, body);
      expect([answer.status, ruleOf(answer)]).toEqual([413, 'size']);
      expect(answer.text).toContain('1 kB');
      expect(answer.headers['x-content-type-options']).toBe('nosniff');
    }
  });

  it('hangs up on a stream that does not end', async () => {
    const { port } = served;
    const headers = { ...bytes, 'x-pileway-key': key };
    const path = '/api/echo';
    await new Promise<void>((resolve) => {
      const asked = request({ host: '127.0.0.1', port, path, method: 'PUT', headers });
      const more = setInterval(() => asked.write('x'.repeat(2000)), 10);
      asked.on('response', (response) => {
        expect(response.statusCode).toBe(413);
        response.resume();
      });
      asked.on('error', () => {});
      asked.on('close', () => {
        clearInterval(more);
        resolve();
      });
    });
  });

  it('refuses what a form can send', async () => {
    const types = [
      'application/x-www-form-urlencoded',
      'multipart/form-data; boundary=x',
      'text/plain',
      'text/plain; application/json',
      'application/json, text/plain',
      '',
    ];
    for (const type of types) {
      for (const body of ['x=1', undefined]) {
        const answer = await post({ 'content-type': type }, body);
        expect([type, answer.status, ruleOf(answer)]).toEqual([type, 415, 'content-type']);
      }
    }
    expect((await post({})).status).toBe(415);
    const remove = { 'x-pileway-key': key, 'content-type': 'text/plain', 'content-length': '3' };
    expect(
      (await ask('/api/echo', { method: 'DELETE', headers: remove, body: 'x=1' })).status,
    ).toBe(415);
    expect((await ask('/api/echo', { method: 'DELETE', ...keyed() })).status).toBe(200);
  });
});

describe('headers', () => {
  it('are on every answer', async () => {
    const answers = [
      await ask('/'),
      await ask('/', { method: 'HEAD' }),
      await ask('/assets/index-abc.js'),
      await ask('/none'),
      await ask('/api/shop'),
      await ask('/api/shop', keyed()),
      await ask('/api/none', keyed()),
      await ask('/api/fault', keyed()),
      await ask('/api/worse', keyed()),
      await ask('/', { headers: { host: 'carpets.test' } }),
      await ask('/', { headers: { host: 'no host' } }),
      await ask('/back\\slash'),
    ];
    expect(answers.map(({ status }) => status)).toEqual([
      200, 200, 200, 404, 403, 200, 404, 500, 500, 421, 400, 400,
    ]);
    for (const { headers } of answers) {
      const rules = headers['content-security-policy']!.split('; ');
      expect(rules).toContain("default-src 'none'");
      expect(rules).toContain("script-src 'self'");
      expect(rules).toContain("frame-ancestors 'none'");
      expect(headers).toMatchObject({
        'x-content-type-options': 'nosniff',
        'x-frame-options': 'DENY',
        'referrer-policy': 'no-referrer',
        'cross-origin-resource-policy': 'same-origin',
        'cross-origin-opener-policy': 'same-origin',
      });
      expect(headers['permissions-policy']).toContain('camera=()');
    }
  });

  it('come with words where the app has none', async () => {
    expect(ruleOf(await ask('/api/worse', keyed()))).toBe('fault');
  });

  it('let only the page’s assets be kept', async () => {
    const caching = async (path: string): Promise<string> =>
      (await ask(path, keyed())).headers['cache-control']!;
    expect(await caching('/')).toBe('no-store');
    expect(await caching('/api/shop')).toBe('no-store');
    expect(await caching('/files/lay.nc')).toBe('no-store');
    expect(await caching('/icon.svg')).toBe('no-cache');
    expect(await caching('/assets/index-abc.js')).toContain('immutable');
  });

  it('let the page show papers in a frame', async () => {
    const { headers } = await ask('/files/sheet.html', keyed());
    expect(headers['x-frame-options']).toBe('SAMEORIGIN');
    const rules = headers['content-security-policy']!.split('; ');
    expect(rules).toContain("frame-ancestors 'self'");
    expect(rules).toContain("default-src 'none'");
    expect(rules.join(' ')).not.toContain('script-src');
    expect(headers['x-content-type-options']).toBe('nosniff');
  });
});

describe('the built page', () => {
  it('is given with its key and the types of its files', async () => {
    const page = await ask('/');
    expect(page.text).toContain(`<meta name="pileway-key" content="${key}" />`);
    expect(page.headers['content-type']).toBe('text/html; charset=utf-8');
    const script = await ask('/assets/index-abc.js?v=1');
    expect(script.text).toBe('export {}');
    expect(script.headers['content-type']).toBe('text/javascript; charset=utf-8');
    expect((await ask('/icon.svg')).headers['content-type']).toBe('image/svg+xml');
    expect((await ask('/', { method: 'HEAD' })).text).toBe('');
  });

  it('has nothing else to give', async () => {
    writeFileSync(join(folder, 'page/later.txt'), 'not there at the start');
    const paths = [
      '/../secret.txt',
      '/%2e%2e/secret.txt',
      '/..%2fsecret.txt',
      '/assets/..%2f..%2fsecret.txt',
      '/assets/../../secret.txt',
      '/assets/%2e%2e%2f%2e%2e%2fsecret.txt',
      '/assets/..%5c..%5csecret.txt',
      '/%252e%252e/secret.txt',
      '//secret.txt',
      '/%00',
      '/icon.svg%00.html',
      '/assets',
      '/assets/',
      '/index.html',
      '/later.txt',
      '/constructor',
      '/__proto__',
    ];
    for (const path of paths) {
      const { status, text } = await ask(path);
      expect([path, status]).toEqual([path, 404]);
      expect(text).not.toContain('outside');
    }
    expect((await ask('/..\\secret.txt')).status).toBe(400);
  });

  it('says so where it has not been built', async () => {
    const app = new Hono();
    app.use(builtPage(join(folder, 'none'), key));
    const answer = await app.request('/');
    expect(answer.status).toBe(503);
    expect(await answer.text()).toBe('The page has not been built: npm run build');
    expect((await app.request('/icon.svg')).status).toBe(404);
  });

  it('must have a place for its key', () => {
    const other = mkdtempSync(join(tmpdir(), 'page-'));
    writeFileSync(join(other, 'index.html'), '<p>page</p>');
    expect(() => builtPage(other, key)).toThrow('no place for its key');
    rmSync(other, { recursive: true });
  });
});
