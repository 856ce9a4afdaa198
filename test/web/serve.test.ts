import type { ChildProcess } from 'node:child_process';
import { spawn } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { IncomingMessage } from 'node:http';
import { get, request } from 'node:http';
import type { Socket } from 'node:net';
import { connect, createServer } from 'node:net';
import { networkInterfaces, tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { Hono } from 'hono';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { Refusal, refuse } from '../../src/base/findings.ts';
import type { Channel } from '../../src/web/under-way/events.ts';
import { channel, openInbox } from '../../src/web/under-way/events.ts';
import type { Served } from '../../src/web/serve.ts';
import { serveOnPort } from '../../src/web/serve.ts';
import type { Built } from '../cli/pileway.ts';
import { build, pileway } from '../cli/pileway.ts';

type Event =
  | { kind: 'trying' | 'lay'; material: string; roll: string | null; n: number }
  | { kind: 'search' | 'step'; n: number };

let served: Served | null = null;

async function serve(app: Hono): Promise<Served> {
  served = await serveOnPort(app, { port: 0 });
  return served;
}

afterEach(async () => {
  await served?.close();
  served = null;
});

function open(path: string): Promise<IncomingMessage> {
  return new Promise((resolve, reject) => {
    get({ host: '127.0.0.1', port: served!.port, path }, resolve).on('error', reject);
  });
}

/** Gathers what an answer says, until it ends or is cut off. */
function reading(answer: IncomingMessage): { text: string; isOver: boolean; over: Promise<void> } {
  const read = { text: '', isOver: false, over: Promise.resolve() };
  answer.setEncoding('utf8');
  answer.on('data', (data: string) => (read.text += data));
  answer.on('error', () => {});
  read.over = new Promise((resolve) =>
    answer.on('close', () => {
      read.isOver = true;
      resolve();
    }),
  );
  return read;
}

/** Kinds and numbers of the events in a text. */
function told(text: string): string[] {
  return [...text.matchAll(/event: (\w+)\ndata: (.*)\n\n/g)].map(
    ([, kind, data]) => `${kind} ${(JSON.parse(data!) as Event).n}`,
  );
}

const step = (n: number): Event => ({ kind: 'step', n });

describe('the server', () => {
  const app = new Hono().get('/', (c) => c.text('page'));

  it('listens on this machine for this machine alone', async () => {
    const { port, url } = await serve(app);
    expect(url).toBe(`http://127.0.0.1:${port}/`);
    (await open('/')).resume();
    const outward = Object.values(networkInterfaces())
      .flatMap((addresses) => addresses ?? [])
      .filter(({ internal }) => !internal)
      .map(({ address, scopeid }) => (scopeid ? `${address}%${scopeid}` : address));
    for (const host of ['127.0.0.2', '::1', ...outward]) {
      expect([host, await reaches(host, port)]).toEqual([host, false]);
    }
  });

  it('says that a port is taken', async () => {
    const { port } = await serve(app);
    await expect(serveOnPort(app, { port })).rejects.toThrow(
      `port ${port} is taken: another page may be open already. Name another with --port.`,
    );
    await expect(serveOnPort(app, { port })).rejects.toBeInstanceOf(Refusal);
  });

  it('closes though somebody listens to events, sends slowly or says nothing', async () => {
    const events = channel<Event>();
    const slow = new Hono()
      .get('/events', (c) => events.listen(c, 'week'))
      .post('/slow', async (c) => c.text(await c.req.text()))
      .onError((_, c) => c.text('failed', 500));
    const { port, close } = await serve(slow);
    const heard = reading(await open('/events'));
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
    await vi.waitFor(() => expect(events.listeners('week')).toBe(0));
    expect(await reaches('127.0.0.1', port)).toBe(false);
    silent.destroy();
  });

  it('lets answers under way be finished', async () => {
    const { close } = await serve(
      new Hono().get('/', async (c) => {
        await after(200);
        return c.text('whole');
      }),
    );
    const answer = open('/');
    await after(50);
    const closed = close();
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

describe('events', () => {
  const app = (events: Channel<Event>): Hono =>
    new Hono()
      .get('/events/:run', (c) => events.listen(c, c.req.param('run'), () => [step(0)]))
      .get('/refused', (c) => events.listen(c, 'week', () => refuse('gone', 'no run.', 'Look.')))
      .onError((error, c) => c.text(error.message, 404));

  it('reach all who listen under the name, after what a newcomer is told', async () => {
    const events = channel<Event>();
    await serve(app(events));
    const answer = await open('/events/week');
    expect(answer.headers['content-type']).toBe('text/event-stream');
    const [one, two] = [reading(answer), reading(await open('/events/week'))];
    const other = reading(await open('/events/other'));
    expect(events.listeners('week')).toBe(2);
    events.tell('week', step(1));
    events.tell('nobody', step(9));
    events.tell('week', { kind: 'lay', material: 'a\nb', roll: null, n: 2 });
    await vi.waitFor(() => expect(told(two.text)).toEqual(['step 0', 'step 1', 'lay 2']));
    await vi.waitFor(() => expect(told(one.text)).toEqual(['step 0', 'step 1', 'lay 2']));
    expect(told(other.text)).toEqual(['step 0']);
    events.close();
    await Promise.all([one.over, two.over, other.over]);
    expect(events.listeners('week')).toBe(0);
  });

  it('go to nobody who has gone, or only asked for the head', async () => {
    const events = channel<Event>();
    await serve(app(events));
    const answer = await open('/events/week');
    reading(answer);
    answer.destroy();
    await vi.waitFor(() => expect(events.listeners('week')).toBe(0));
    const { port } = served!;
    await new Promise((resolve) =>
      request({ host: '127.0.0.1', port, path: '/events/week', method: 'HEAD' }, resolve).end(),
    );
    expect(events.listeners('week')).toBe(0);
  });

  it('leave nobody behind where the beginning is refused', async () => {
    const events = channel<Event>();
    await serve(app(events));
    const answer = await open('/refused');
    expect(answer.statusCode).toBe(404);
    answer.resume();
    expect(events.listeners('week')).toBe(0);
  });

  it('cut off whoever reads nothing, and hold up nobody else', async () => {
    const events = channel<Event & { ballast?: string }>();
    await serve(app(events as Channel<Event>));
    const stalled = await stalledReader('/events/week');
    const brisk = reading(await open('/events/week'));
    await vi.waitFor(() => expect(events.listeners('week')).toBe(2));
    // More than the system takes for somebody who reads nothing, then what waits for him here.
    const ballast = 'x'.repeat(1_000_000);
    for (let n = 1; n <= 10; n++) events.tell('week', { ...step(n), ballast });
    for (let n = 11; n <= 1500; n++) {
      events.tell('week', step(n));
      if (n % 100 > 0) continue;
      await vi.waitFor(() => expect(brisk.text.includes(`"n":${n}}`)).toBe(true));
    }
    expect(events.listeners('week')).toBe(1);
    events.tell('week', step(9999));
    await vi.waitFor(() => expect(told(brisk.text.slice(-1000)).at(-1)).toBe('step 9999'));
    stalled.destroy();
  });

  it('are followed by signs of life', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    try {
      const box = openInbox<Event>();
      const waits = box.filled(15_000);
      vi.advanceTimersByTime(15_000);
      expect(await waits).toBe(false);
      const filled = box.filled(15_000);
      box.put(step(1));
      expect(await filled).toBe(true);
      const ended = box.filled(15_000);
      expect(await ended).toBe(true);
      expect(vi.getTimerCount()).toBe(0);
    } finally {
      vi.useRealTimers();
    }
  });
});

function stalledReader(path: string): Promise<Socket> {
  return new Promise((resolve) => {
    const socket = connect(served!.port, '127.0.0.1', () => {
      socket.write(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${served!.port}\r\n\r\n`);
      socket.pause();
      resolve(socket);
    });
    socket.on('error', () => {});
  });
}

describe('an inbox', () => {
  const taken = (box: ReturnType<typeof openInbox<Event>>): string[] => {
    const all: string[] = [];
    for (let event = box.take(); event !== null; event = box.take()) {
      all.push(`${event.kind} ${event.n}`);
    }
    return all;
  };

  it('keeps only the newest of what passes, for each roll', () => {
    const box = openInbox<Event>();
    for (let n = 0; n < 100_000; n++) {
      box.put({ kind: 'trying', material: 'loop', roll: null, n });
      box.put({ kind: 'lay', material: n % 2 ? 'loop' : 'felt', roll: null, n });
      box.put({ kind: 'search', n });
    }
    expect(box.size()).toBe(4);
    expect(taken(box)).toEqual(['lay 99998', 'trying 99999', 'lay 99999', 'search 99999']);
  });

  it('keeps all else in order, and is over where that is too much', () => {
    let ends = 0;
    const box = openInbox<Event>(() => ends++);
    for (let n = 0; n < 1000; n++) box.put(step(n));
    box.put({ kind: 'search', n: 1 });
    expect(box.isOver()).toBe(true);
    expect([box.size(), ends]).toEqual([0, 1]);
    box.put(step(1));
    box.end();
    expect([box.size(), ends]).toEqual([0, 1]);
    const fine = openInbox<Event>();
    for (let n = 0; n < 1000; n++) fine.put(step(n));
    expect(fine.isOver()).toBe(false);
    expect(taken(fine)).toHaveLength(1000);
  });
});

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
    await vi.waitFor(() => expect(stdout).toContain('\n'), { timeout: 20_000 });
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
    await vi.waitFor(() =>
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
    await vi.waitFor(() => expect(readFileSync(join(folder, 'opened'), 'utf8')).toBe(`${url}\n`));
    child!.kill('SIGINT');
  });

  it('refuses a port that is taken or none, and a folder that is no workshop', async () => {
    const taken = createServer();
    await new Promise<void>((resolve) => taken.listen(0, '127.0.0.1', resolve));
    const { port } = taken.address() as { port: number };
    rmSync(join(folder, 'closed'), { force: true });
    const refusals = {
      [`--port ${port}`]: `ERROR  port ${port} is taken: another page may be open already. Name another with --port.  [port]\n`,
      '--port 65536': '--port 65536 does not fit',
      '--port 1.5': '--port 1.5 does not fit',
      '--port x': '--port NaN does not fit',
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
