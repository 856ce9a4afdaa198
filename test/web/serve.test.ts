import type { ChildProcess } from 'node:child_process';
import { spawn } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { connect, createServer } from 'node:net';
import { networkInterfaces, tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { Hono } from 'hono';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import { serveOnPort } from '../../src/web/serve.ts';
import { channel } from '../../src/web/under-way/events.ts';
import { eventually } from '../support/eventually.ts';
import type { Built } from '../cli/pileway.ts';
import { build, pileway } from '../cli/pileway.ts';
import type { Serving } from './serving.ts';
import { reading, serve } from './serving.ts';

describe('the server', () => {
  let serving: Serving | null = null;

  afterEach(() => serving?.close());

  const app = new Hono().get('/', (c) => c.text('page'));

  it('listens on this machine for this machine alone', async () => {
    serving = await serve(app);
    const { port, url } = serving;
    expect(url).toBe(`http://127.0.0.1:${port}/`);
    (await serving.open('/')).resume();
    const outward = Object.values(networkInterfaces())
      .flatMap((addresses) => addresses ?? [])
      .filter(({ internal }) => !internal)
      .map(({ address, scopeid }) => (scopeid ? `${address}%${scopeid}` : address));
    for (const host of ['127.0.0.2', '::1', ...outward]) {
      expect([host, await reaches(host, port)]).toEqual([host, false]);
    }
  });

  it('says that a port is taken', async () => {
    serving = await serve(app);
    const { port } = serving;
    await expect(serveOnPort(app, port)).rejects.toThrow(
      `port ${port} is taken: another page may be open already. Name another with --port.`,
    );
    await expect(serveOnPort(app, port)).rejects.toBeInstanceOf(Refusal);
  });

  it('closes though somebody listens to events, sends slowly or says nothing', async () => {
    const events = channel<{ kind: string }>();
    const slow = new Hono()
      .get('/events', (c) => events.listen(c, 'week'))
      .post('/slow', async (c) => c.text(await c.req.text()))
      .onError((_, c) => c.text('failed', 500));
    serving = await serve(slow);
    const { port, close } = serving;
    const heard = reading(await serving.open('/events'));
    const headers = { 'content-length': '9' };
    const sending = request({ host: '127.0.0.1', port, path: '/slow', method: 'POST', headers });
    sending.on('error', () => {});
    sending.write('x');
    const silent = connect(port, '127.0.0.1');
    silent.on('error', () => {});
    await after(50);
    const start = performance.now();
    await Promise.all([close(), close()]);
    expect(performance.now() - start).toBeLessThan(2000);
    await heard.over;
    await eventually(() => expect(events.listeners('week')).toBe(0));
    expect(await reaches('127.0.0.1', port)).toBe(false);
    silent.destroy();
  });

  it('lets answers under way be finished', async () => {
    serving = await serve(
      new Hono().get('/', async (c) => {
        await after(200);
        return c.text('whole');
      }),
    );
    const answer = serving.open('/');
    await after(50);
    const closed = serving.close();
    const read = reading(await answer);
    await read.over;
    expect(read.text).toBe('whole');
    await closed;
  });
});

/** Whether anything listens there. */
function reaches(host: string, port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect({ host, port, timeout: 1000 });
    const end = (reached: boolean) => (): void => {
      socket.destroy();
      resolve(reached);
    };
    socket.on('connect', end(true)).on('error', end(false)).on('timeout', end(false));
  });
}

/** In the place of the product's app: says what it was given, and that it was closed. */
const stub = `
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Hono } from 'hono';
export async function openPageServer({ folder, key, port, pageFolder, threads }) {
  const app = new Hono();
  app.get('/', (c) => c.json({ folder, key, port: port(), pageFolder, threads: Object.keys(threads) }));
  app.get('/hang', () => new Promise(() => {}));
  return {
    app,
    close: async () => {
      if (process.env.HANGS) await new Promise((resolve) => setTimeout(resolve, 60_000));
      writeFileSync(join(folder, 'closed'), '');
    },
  };
}
`;

describe('pileway serve', () => {
  let built: Built;
  let folder = '';
  let child: ChildProcess | null = null;

  beforeAll(() => {
    built = build();
    const web = join(dirname(built.main), '../web');
    mkdirSync(web, { recursive: true });
    writeFileSync(join(web, 'app.js'), stub);
    folder = mkdtempSync(join(tmpdir(), 'workshop-'));
    mkdirSync(join(folder, 'patterns'));
  });

  afterEach(() => {
    child?.kill('SIGKILL');
    child = null;
  });

  afterAll(() => {
    built.remove();
    rmSync(folder, { recursive: true });
  });

  interface Started {
    readonly url: string;
    readonly stderr: () => string;
    readonly ended: Promise<number | null>;
  }

  /** Starts it and waits until it says where the page is. */
  async function start(args: readonly string[], env: NodeJS.ProcessEnv = {}): Promise<Started> {
    const own = spawn(process.execPath, [built.main, 'serve', ...args], {
      cwd: folder,
      env: { ...process.env, ...env },
    });
    child = own;
    let [stdout, stderr] = ['', ''];
    own.stdout.on('data', (data: Buffer) => (stdout += data.toString()));
    own.stderr.on('data', (data: Buffer) => (stderr += data.toString()));
    const ended = new Promise<number | null>((resolve) => own.on('close', resolve));
    await eventually(() => expect(stdout).toContain('\n'));
    const line = /^page {6}(http:\/\/127\.0\.0\.1:\d+\/) {2}\(Ctrl-C ends it\)\n$/.exec(stdout);
    expect(line).not.toBeNull();
    return { url: line![1]!, stderr: () => stderr, ended };
  }

  it('gives out the page until Ctrl-C or a plea to end', async () => {
    const keys: string[] = [];
    for (const signal of ['SIGINT', 'SIGTERM'] as const) {
      rmSync(join(folder, 'closed'), { force: true });
      const { url, ended } = await start(['--port', '0']);
      const given = (await (await fetch(url)).json()) as Record<string, string>;
      expect(given).toEqual({
        folder,
        key: given.key,
        port: Number(new URL(url).port),
        pageFolder: join(dirname(built.main), '../web/page'),
        threads: ['run', 'close'],
      });
      expect(given.key).toMatch(/^[\w-]{32}$/);
      keys.push(given.key!);
      const hanging = fetch(`${url}hang`).catch(() => {});
      await after(50);
      const begun = performance.now();
      child!.kill(signal);
      // As npx does, which passes on what the terminal has sent already.
      child!.kill(signal);
      expect(await ended).toBe(0);
      expect(performance.now() - begun).toBeLessThan(3000);
      expect(readFileSync(join(folder, 'closed'), 'utf8')).toBe('');
      await hanging;
    }
    expect(new Set(keys).size).toBe(2);
  });

  it('ends at once when Ctrl-C comes again while it closes', async () => {
    const { ended } = await start(['--port', '0'], { HANGS: 'yes' });
    child!.kill('SIGINT');
    await after(1200);
    expect(child!.exitCode).toBeNull();
    child!.kill('SIGINT');
    expect(await ended).toBe(0);
  });

  it('opens the page, or says that it could not', async () => {
    const none = join(folder, 'none');
    const { url, stderr } = await start(['--port', '0', '--open'], { PATH: none });
    await eventually(() =>
      expect(stderr()).toBe(`No browser could be opened. Open ${url} yourself.\n`),
    );
    child!.kill('SIGINT');
  });

  it.runIf(process.platform === 'linux')('opens it by what the system has for it', async () => {
    const bin = join(folder, 'bin');
    mkdirSync(bin);
    const opener = join(bin, 'xdg-open');
    writeFileSync(opener, `#!/bin/sh\necho "$1" > ${join(folder, 'opened')}\n`);
    chmodSync(opener, 0o755);
    const { url } = await start(['--port', '0', '--open'], { PATH: bin });
    await eventually(() => expect(readFileSync(join(folder, 'opened'), 'utf8')).toBe(`${url}\n`));
    child!.kill('SIGINT');
  });

  it('refuses a port that is taken or none, and a folder that is no workshop', async () => {
    const taken = createServer();
    await new Promise<void>((resolve) => taken.listen(0, '127.0.0.1', resolve));
    const { port } = taken.address() as { port: number };
    rmSync(join(folder, 'closed'), { force: true });
    const refusals = {
      [`--port ${port}`]: `ERROR  port ${port} is taken: another page may be open already. Name another with --port.  [port]\n`,
      '--port 65536': '--port 65536 is too large',
      '--port 1.5': '--port 1.5 is no whole number',
      '--port x': '--port takes a number',
      '--folder patterns': 'this folder holds no patterns/. Run it in the workshop’s folder',
      extra: 'extra',
    };
    for (const [args, words] of Object.entries(refusals)) {
      const { code, stdout, stderr } = await pileway(built.main, folder, [
        'serve',
        ...args.split(' '),
      ]);
      expect([args, code, stdout]).toEqual([args, 2, '']);
      expect(stderr).toContain(words);
    }
    expect(readFileSync(join(folder, 'closed'), 'utf8')).toBe('');
    taken.close();
  });
});
