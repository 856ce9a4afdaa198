import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { request } from 'node:http';
import { dirname, join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { unzipSync } from 'fflate';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import type { RunOptions } from '../../src/base/threads/host.ts';
import type { RunEvent } from '../../src/web/api/events.ts';
import type { SentMarks, StepWish } from '../../src/web/api/cutting.ts';
import type { RunFolder } from '../../src/web/api/files.ts';
import type { LayTable, PartMoved } from '../../src/web/api/lay.ts';
import type { Plan } from '../../src/web/api/orders.ts';
import type { Rehearsal } from '../../src/web/api/rehearsal.ts';
import type { SentRunFile } from '../../src/web/api/run-file.ts';
import type { SetCheck, SetFromDrawing } from '../../src/web/api/sets.ts';
import type { Shop } from '../../src/web/api/shop.ts';
import type { DrawingSight } from '../../src/web/api/sight.ts';
import type { Together } from '../../src/web/api/together.ts';
import type { PageServer } from '../../src/web/app.ts';
import { openPageServer } from '../../src/web/app.ts';
import { rehearsalOf } from '../../src/web/page/rehearsal/rehearsal-body.ts';
import type { Served } from '../../src/web/serve.ts';
import { serveOnPort } from '../../src/web/serve.ts';
import type { ServerThreads } from '../../src/web/tasks/threads.ts';
import { openServerThreads } from '../../src/web/tasks/threads.ts';
import { box, on } from '../../patterns/fenlark/pen.ts';
import {
  colouredWren,
  drawingFile,
  drawingText,
  openWorkshop,
  runFile,
  wren,
} from '../support/wren.ts';

const key = 'a-key';
const run = 'wren-week';
let root = '';
let closeShop = (): void => {};
let page: PageServer;
let served: Served;
const real = openServerThreads(4);

/** Work that goes on for as long as a test wants it to; null: all is done at once. */
let held: {
  readonly task: string;
  readonly release: () => void;
  readonly done: Promise<void>;
} | null = null;

function hold(task: string): () => void {
  let release = (): void => {};
  const done = new Promise<void>((resolve) => (release = resolve));
  held = { task, release, done };
  return release;
}

const threads = {
  run: async (task: 'lay', args: never, options: RunOptions = {}): Promise<unknown> => {
    if (task !== held?.task) return real.run(task, args, options);
    options.signal?.addEventListener('abort', held.release);
    await held.done;
    return { lays: [], findings: [] };
  },
  close: real.close,
} as ServerThreads;

beforeAll(async () => {
  const shop = openWorkshop(wren);
  closeShop = shop.close;
  root = shop.root;
  page = await openPageServer({
    folder: root,
    key,
    port: () => served.port,
    pageFolder: join(root, 'no-page'),
    threads,
    quick: threads,
    drafts: threads,
  });
  served = await serveOnPort(page.app, 0);
  // Files of the run as it stands, for all that looks at run folders.
  await cutAgain();
});

afterAll(async () => {
  await page.close();
  await served.close();
  await real.close();
  closeShop();
});

interface Answer {
  readonly status: number;
  readonly type: string;
  readonly bytes: Buffer;
}

/** Asks for exactly this path: what fetch would do to it first is no affair of a stranger's. */
function ask(method: string, path: string, body?: unknown, raw = false): Promise<Answer> {
  const type = raw ? 'application/octet-stream' : 'application/json';
  const headers = { 'x-pileway-key': key, 'content-type': type };
  return new Promise((resolve, reject) => {
    const asked = request(
      { host: '127.0.0.1', port: served.port, method, path, headers },
      (answer) => {
        const pieces: Buffer[] = [];
        answer.on('data', (piece: Buffer) => pieces.push(piece));
        answer.on('end', () =>
          resolve({
            status: answer.statusCode!,
            type: answer.headers['content-type'] ?? '',
            bytes: Buffer.concat(pieces),
          }),
        );
      },
    );
    asked.on('error', reject);
    asked.end(
      body === undefined
        ? undefined
        : raw
          ? (body as Buffer)
          : typeof body === 'string'
            ? body
            : JSON.stringify(body),
    );
  });
}

async function good<T>(method: string, path: string, body?: unknown): Promise<T> {
  const { status, bytes } = await ask(method, path, body);
  const text = bytes.toString();
  expect([path, status < 300 ? '' : text, status < 300]).toEqual([path, '', true]);
  return JSON.parse(text) as T;
}

/** Status and rule of a refusal, which is always in words and says what to do. */
async function refused(
  method: string,
  path: string,
  body?: unknown,
  raw = false,
): Promise<[number, string]> {
  const { status, bytes } = await ask(method, path, body, raw);
  const { findings } = JSON.parse(bytes.toString()) as { findings: Finding[] };
  expect(findings.length).toBeGreaterThan(0);
  for (const { message, todo } of findings) {
    expect(message.length * todo.length).toBeGreaterThan(0);
    expect(message).not.toMatch(/the program failed|\bat .*\.ts:/);
  }
  return [status, findings[0]!.rule];
}

/** What is told of a run from now on. */
async function listening(): Promise<{
  readonly told: RunEvent[];
  readonly next: (kind: RunEvent['kind'], fits?: (event: never) => boolean) => Promise<RunEvent>;
  readonly end: () => void;
}> {
  const stop = new AbortController();
  const answer = await fetch(`${served.url}api/run/${run}/events?key=${key}`, {
    signal: stop.signal,
  });
  expect(answer.headers.get('content-type')).toContain('text/event-stream');
  const told: RunEvent[] = [];
  const read = async (): Promise<void> => {
    let text = '';
    for await (const piece of answer.body!.pipeThrough(new TextDecoderStream())) {
      text += piece;
      const whole = text.split('\n\n');
      text = whole.pop()!;
      for (const one of whole) {
        const data = /^data: (.*)$/m.exec(one)?.[1];
        if (data !== undefined) told.push(JSON.parse(data) as RunEvent);
      }
    }
  };
  read().catch(() => {});
  return {
    told,
    next: async (kind, fits = () => true) => {
      for (;;) {
        const found = told.find((event) => event.kind === kind && fits(event as never));
        if (found !== undefined) return found;
        await after(10);
      }
    },
    end: () => stop.abort(),
  };
}

type CutEvent = Extract<RunEvent, { kind: 'cut' }>;

async function cutAgain(): Promise<CutEvent> {
  const { next, end } = await listening();
  expect((await ask('POST', `/api/run/${run}/cut`)).status).toBe(202);
  const event = await next('cut', ({ isUnderWay }: CutEvent) => !isUnderWay);
  end();
  return event as CutEvent;
}

const runPath = (): string => join(root, runFile);

function withText(change: (text: string) => string): void {
  writeFileSync(runPath(), change(String(wren[runFile])));
}

afterEach(() => {
  held = null;
  withText((text) => text);
});

const versionNow = async (): Promise<string> =>
  (await good<SentRunFile>('GET', `/api/run/${run}`)).version;

describe('what there is to choose from', () => {
  it('is told, with what can be read of it', async () => {
    writeFileSync(join(root, 'patterns/broken.yaml'), 'title: [');
    const shop = await good<Shop>('GET', '/api/shop');
    rmSync(join(root, 'patterns/broken.yaml'));
    expect(shop.sets).toMatchObject([
      {
        name: 'wren',
        pieces: ['floor', 'dash', 'mat', 'rest', 'cover'],
        pads: [{ piece: 'mat', side: 'pair' }],
        hasBoards: true,
        hasUnderlay: false,
      },
    ]);
    expect(shop.materials.map(({ name }) => name)).toEqual(['board', 'loop', 'rubber']);
    expect(shop.runs.map(({ name }) => name).sort()).toEqual(['broken', run]);
    const sound = shop.runs.find(({ name }) => name === run)!;
    expect(sound).toMatchObject({ folder: { parts: 25 }, findings: [] });
    // Nothing of it is cut: loop, rubber and board each have one bite or more.
    expect(sound.cutting).toMatchObject({ state: 'none', bites: 0 });
    expect(sound.cutting.of).toBeGreaterThanOrEqual(3);
    // What is wrong with a run stands with it, and not above all runs.
    expect(shop.findings).toEqual([]);
    const broken = shop.runs.find(({ name }) => name === 'broken')!;
    expect(broken).toMatchObject({ title: 'broken', orders: null, folder: null });
    expect(broken.findings.map(({ where }) => where.file)).toEqual(['patterns/broken.yaml']);
  });

  it('a set is checked; one that is not there is refused', async () => {
    const { name, title } = await good<SetCheck>('GET', '/api/set/wren/check');
    expect({ name, title }).toEqual({ name: 'wren', title: 'Wren van, cab' });
    expect((await refused('GET', '/api/set/robin/check'))[0]).toBe(422);
  });

  it('a plan shows the set for the other hand; orders that are none are refused', async () => {
    const order = { order: 'A1', set: 'wren', hand: 'LHD' };
    const plan = await good<Plan>('POST', '/api/plan', order);
    expect(plan).toMatchObject({ drawn: 'RHD', hand: 'LHD' });
    expect(plan.parts.length).toBeGreaterThan(5);
    expect(await refused('POST', '/api/plan', { ...order, hand: 'left' })).toEqual([
      422,
      'request',
    ]);
    expect((await refused('POST', '/api/plan', { ...order, set: 'robin' }))[0]).toBe(422);
  });
});

describe('what was sent and is none', () => {
  it.each([
    ['PUT', `/api/run/${run}`],
    ['POST', '/api/plan'],
    ['POST', `/api/run/${run}/search`],
    ['POST', `/api/run/${run}/move`],
    ['PUT', '/api/roll'],
    ['POST', '/api/compare'],
    ['POST', `/api/out/${run}/recut`],
  ])('%s %s: no JSON, another shape, nothing', async (method, path) => {
    const before = readFileSync(runPath(), 'utf8');
    for (const body of ['{', '', 'null', '[]', '"x"', '{"a":1}', '1e999', '{"__proto__":{}}']) {
      expect([body, ...(await refused(method, path, body))]).toEqual([body, 422, 'request']);
    }
    expect(readFileSync(runPath(), 'utf8')).toBe(before);
  });

  it.each([
    ['GET', '/api/nothing'],
    ['PATCH', `/api/run/${run}`],
    ['POST', '/api/shop'],
    ['DELETE', `/api/out/${run}`],
    ['PUT', `/files/${run}/loop.nc`],
  ])('%s %s is nothing that can be asked', async (method, path) => {
    const body = ['GET', 'DELETE'].includes(method) ? undefined : {};
    expect(await refused(method, path, body)).toEqual([404, 'not-there']);
  });
});

/** What lies in a folder, without the histories of runs. */
function named(folder: string): string[] {
  return readdirSync(folder)
    .filter((name) => !name.endsWith('.history'))
    .sort();
}

describe('a run file', () => {
  it('goes one step back and forth, for whoever looks at it as it is', async () => {
    const { content, version } = await good<SentRunFile>('GET', `/api/run/${run}`);
    const title = (): Promise<string> =>
      good<SentRunFile>('GET', `/api/run/${run}`).then((one) => one.content.title);
    const saved = await good<SentRunFile>('PUT', `/api/run/${run}`, {
      content: { ...content, title: 'Another' },
      version,
    });
    expect(saved).toMatchObject({ undo: 'title changed', redo: null });
    expect((await refused('POST', `/api/run/${run}/undo`, { version }))[0]).toBe(409);
    const { next, end } = await listening();
    const undone = await good<{ version: string }>('POST', `/api/run/${run}/undo`, {
      version: saved.version,
    });
    expect(await next('saved')).toEqual({ kind: 'saved', version: undone.version });
    expect([await title(), undone.version]).toEqual([content.title, version]);
    await good('POST', `/api/run/${run}/redo`, undone);
    expect(await title()).toBe('Another');
    const { version: last } = await good<SentRunFile>('GET', `/api/run/${run}`);
    await good('POST', `/api/run/${run}/undo`, { version: last });
    end();
  });

  it('is read, saved with its version, and told to whoever looks on', async () => {
    const { content, version } = await good<SentRunFile>('GET', `/api/run/${run}`);
    const { next, end } = await listening();
    const saved = await good<{ version: string }>('PUT', `/api/run/${run}`, {
      content: { ...content, title: 'Saved' },
      version,
    });
    expect(await next('saved')).toEqual({ kind: 'saved', version: saved.version });
    end();
    expect(await good('GET', `/api/run/${run}`)).toEqual({
      name: run,
      content: { ...content, title: 'Saved' },
      ordersFile: null,
      version: saved.version,
      undo: 'title changed',
      redo: null,
    });
    expect(await refused('PUT', `/api/run/${run}`, { content, version })).toEqual([
      409,
      'changed-since',
    ]);
    expect(await refused('PUT', `/api/run/${run}`, { content, version: null })).toEqual([
      409,
      'changed-since',
    ]);
  });

  it('that is new is written; a sheet that is no run is not', async () => {
    const { content } = await good<SentRunFile>('GET', `/api/run/${run}`);
    await good('PUT', '/api/run/robin-week', { content, version: null });
    const file = join(root, 'patterns/robin-week.yaml');
    expect(existsSync(file)).toBe(true);
    rmSync(file);
    const [order] = content.orders;
    for (const orders of [[], [order, order], [{ ...order, quantity: 0 }]]) {
      const [status] = await refused('PUT', '/api/run/robin-week', {
        content: { ...content, orders },
        version: null,
      });
      expect(status).toBe(422);
    }
    expect(existsSync(file)).toBe(false);
  });

  it.each(['', '/table'])('that is not there is refused: GET%s', async (path) => {
    expect(await refused('GET', `/api/run/robin${path}`)).toEqual([422, 'file']);
  });

  it.each(['search', 'cut', 'move', 'save'])(
    'that is not there is refused: POST /%s',
    async (what) => {
      const move = {
        version: '',
        material: 'loop',
        colour: null,
        roll: null,
        label: 'a',
        to: null,
        dry: false,
      };
      const [status] = await refused(
        'POST',
        `/api/run/robin/${what}`,
        what === 'move' ? move : { seconds: 1 },
      );
      expect(status).toBe(422);
      expect(existsSync(join(root, 'out/robin'))).toBe(false);
      expect(existsSync(join(root, 'patterns/robin.yaml'))).toBe(false);
    },
  );
});

describe('a search', () => {
  it('under way keeps all from changing the run, until it is stopped', async () => {
    hold('lay');
    const { content, version } = await good<SentRunFile>('GET', `/api/run/${run}`);
    expect((await ask('POST', `/api/run/${run}/search`, { seconds: 60 })).status).toBe(202);
    const move = {
      version,
      material: 'loop',
      colour: null,
      roll: null,
      label: 'floor.1.A1',
      to: null,
      dry: true,
    };
    for (const [method, path, body] of [
      ['POST', 'search', { seconds: 1 }],
      ['PUT', '', { content, version }],
      ['POST', 'move', move],
      ['POST', 'cut', undefined],
    ] as const) {
      const address = `/api/run/${run}${path === '' ? '' : `/${path}`}`;
      expect([path, ...(await refused(method, address, body))]).toEqual([path, 409, 'busy']);
    }
    expect((await good<LayTable>('GET', `/api/run/${run}/table`)).search).toMatchObject({
      left: 60,
    });
    await good('POST', `/api/run/${run}/stop`);
    expect((await good<LayTable>('GET', `/api/run/${run}/table`)).search).toBeNull();
    await good('POST', `/api/run/${run}/move`, move);
  });

  it('lays all that the run has parts of, tells it, and saves it', async () => {
    const { told, next, end } = await listening();
    await good('POST', `/api/run/${run}/search`, { seconds: 0.6 });
    const laid = await next('laid');
    end();
    expect(laid).toMatchObject({ findings: [], version: await versionNow() });
    expect(told.map(({ kind }) => kind)).toContain('lay');
    const { parts, lays, isUnsaved } = await good<LayTable>('GET', `/api/run/${run}/table`);
    expect(isUnsaved).toBe(false);
    const labels = lays.flatMap(({ placements }) => placements.map(({ label }) => label));
    expect(labels.sort()).toEqual(parts.map(({ label }) => label).sort());
  });

  it.each([{ seconds: -1 }, { seconds: 1e6 }, { seconds: '1' }, {}])(
    'for %j is refused',
    async (wish) => {
      expect(await refused('POST', `/api/run/${run}/search`, wish)).toEqual([422, 'request']);
    },
  );

  it('with nothing under way may be stopped; there is nothing to save', async () => {
    await good('POST', `/api/run/${run}/stop`);
    await good('POST', '/api/run/robin/stop');
    expect(await refused('POST', `/api/run/${run}/save`)).toEqual([422, 'nothing-to-save']);
  });
});

describe('a run whose orders are kept in a CSV', () => {
  it('is laid like any other, and neither its CSV nor the name of it is touched', async () => {
    const [yaml, csv] = ['in-csv.yaml', 'in-csv.csv'].map((name) => join(root, 'patterns', name));
    const table = 'order;set;hand;alone\r\nC1;wren;RHD;rest cover\r\n';
    writeFileSync(csv!, table);
    writeFileSync(yaml!, '# by hand\ntitle: Mine\ncutter: long-bay\norders: in-csv.csv # Ann\n');
    const address = '/api/run/in-csv';
    await good('POST', `${address}/search`, { seconds: 0.3 });
    await expect
      .poll(() => readFileSync(yaml!, 'utf8'), { timeout: 20_000 })
      .toMatch(
        /^# by hand\ntitle: Mine\n(.*\n)*orders: in-csv\.csv # Ann\nrolls:\n(.*\n)*.*laid:/m,
      );
    const opened = await good<SentRunFile>('GET', address);
    expect(opened).toMatchObject({
      ordersFile: 'in-csv.csv',
      content: { orders: [{ order: 'C1' }] },
    });
    const { content, version } = opened;
    const others = {
      content: { ...content, orders: [{ ...content.orders[0]!, hand: 'LHD' }] },
      version,
    };
    expect(await refused('PUT', address, others)).toEqual([422, 'orders-in-csv']);
    const { runs } = await good<Shop>('GET', '/api/shop');
    expect(runs.find(({ name }) => name === 'in-csv')?.orders).toHaveLength(1);
    // What is known of the run follows its CSV alone, too.
    writeFileSync(csv!, `${table}C2;wren;LHD;rest\r\n`);
    expect((await good<SentRunFile>('GET', address)).version).not.toBe(version);
    const again = await good<Shop>('GET', '/api/shop');
    expect(again.runs.find(({ name }) => name === 'in-csv')?.orders).toHaveLength(2);
    expect(readFileSync(csv!, 'utf8')).toContain(table);
    rmSync(yaml!);
    rmSync(csv!);
  });
});

describe('a shop that keeps its carpets in colours', () => {
  const more = Object.entries(colouredWren).filter(([name]) => !(name in wren));
  const changed = Object.entries(colouredWren).filter(
    ([name, text]) => name in wren && wren[name] !== text,
  );
  beforeEach(() => {
    for (const [name, text] of [...more, ...changed]) writeFileSync(join(root, name), text);
  });
  afterAll(async () => {
    for (const [name] of more) rmSync(join(root, name));
    for (const [name] of changed) writeFileSync(join(root, name), wren[name]!);
  });

  it('tells what its orders may choose', async () => {
    const { sets, materials, finishes } = await good<Shop>('GET', '/api/shop');
    expect(sets[0]).toMatchObject({
      groups: { cab: ['floor', 'dash'], feet: ['mat', 'rest'] },
      options: [
        { name: 'lock', words: 'second lock', values: null, usual: false },
        { name: 'size', words: 'wheelbase', values: ['short', 'long'], usual: 'short' },
      ],
      materials: {
        carpet: { usual: 'loop', fixed: [] },
        pad: { usual: 'rubber', fixed: [] },
        board: { usual: null, fixed: ['board'] },
        underlay: { usual: null, fixed: [] },
      },
      finish: 'tape',
      colours: null,
    });
    const ofUses = materials.map(({ name, uses, colours }) => [
      name,
      uses.join(' '),
      colours?.length,
    ]);
    expect(ofUses).toEqual([
      ['board', 'board', undefined],
      ['loop', 'carpet pad', 3],
      ['rubber', 'pad', undefined],
      ['velour', 'carpet pad', 2],
    ]);
    expect(materials[1]!.colours![0]).toEqual({ name: 'claret', sample: '#6b1f2a' });
    expect(finishes).toEqual([
      { name: 'leather', title: 'leather strip', colours: ['black', 'tan'] },
      { name: 'tape', title: 'tape', colours: null },
    ]);
  });

  it('says which orders share a roll, and shows rolls in their colours', async () => {
    const { cloths } = await good<Together>('GET', `/api/run/${run}/together`);
    expect(cloths[0]).toMatchObject({ material: 'loop', colour: 'claret' });
    expect(cloths[0]!.orders.map(({ order }) => order)).toEqual(['C3', 'C2', 'C1']);
    const { rolls } = await good<LayTable>('GET', `/api/run/${run}/table`);
    expect(rolls.map(({ material, colour, sample }) => [material, colour, sample])).toEqual([
      ['loop', 'claret', '#6b1f2a'],
      ['loop', 'navy', '#1d2b4f'],
      ['velour', 'stone', '#8a8580'],
      ['board', null, null],
      ['rubber', null, null],
    ]);
  });

  it('says so without an order that is wrong, and names the file as the page may show it', async () => {
    const text = String(colouredWren[runFile]);
    writeFileSync(join(root, runFile), text.replace('carpet: { colour: navy }', 'binding: sand'));
    const { left, findings } = await good<Together>('GET', `/api/run/${run}/together`);
    writeFileSync(join(root, runFile), text);
    expect(left).toEqual(['N1']);
    expect(findings.map(({ where }) => where.file)).toEqual([runFile]);
  });

  it('forgets a roll of one colour, and keeps that of another by the same name', async () => {
    await good('DELETE', '/api/roll/loop/R1?colour=navy');
    const { stock } = await good<Shop>('GET', '/api/shop');
    const kept = [stock['loop']!].flat().map(({ name, colour }) => `${name} ${colour}`);
    expect(kept).toEqual(['R1 claret', 'R2 navy']);
  });
});

describe('a part moved by hand', () => {
  const label = 'floor.1.A1';
  async function moved(more: object, version?: string): Promise<PartMoved> {
    const to = { x: 1000, y: 700, rotation: 270 };
    const move = {
      version: version ?? (await versionNow()),
      material: 'loop',
      colour: null,
      roll: null,
      label,
      to,
      dry: false,
    };
    return good<PartMoved>('POST', `/api/run/${run}/move`, { ...move, ...more });
  }

  it('is pinned where it may lie, and let go', async () => {
    const { parts } = await good<LayTable>('GET', `/api/run/${run}/table`);
    const [rotation] = parts.find((part) => part.label === label)!.turns;
    const before = await versionNow();
    const to = { x: 1000, y: 700, rotation: rotation! };
    expect(await moved({ to, dry: true })).toMatchObject({ findings: [], version: before });
    expect(await versionNow()).toBe(before);
    const { findings, version } = await moved({ to });
    expect({ findings, version }).toEqual({ findings: [], version: await versionNow() });
    const [lay] = (await good<LayTable>('GET', `/api/run/${run}/table`)).lays;
    expect(lay).toMatchObject({ placements: [{ label, ...to }], pinned: [label] });
    await moved({ to: null });
    const [freed] = (await good<LayTable>('GET', `/api/run/${run}/table`)).lays;
    expect(freed).toMatchObject({ placements: [{ label, ...to }], pinned: [] });
  });

  it('to where it may not lie stays; the nearest place is told', async () => {
    const before = readFileSync(runPath(), 'utf8');
    const { parts } = await good<LayTable>('GET', `/api/run/${run}/table`);
    const [rotation] = parts.find((part) => part.label === label)!.turns;
    const found = await moved({ to: { x: 0, y: 700, rotation: rotation! } });
    expect(found.findings.length).toBeGreaterThan(0);
    expect(readFileSync(runPath(), 'utf8')).toBe(before);
    const { near } = await moved({ to: { x: -1e5, y: 0, rotation: rotation! } });
    expect(near).toBeNull();
  });

  it('with a version that is old, to a roll or of a name that is none, is refused', async () => {
    const move = {
      version: '0000000000000000',
      material: 'loop',
      colour: null,
      roll: null,
      label,
      to: null,
      dry: false,
    };
    const path = `/api/run/${run}/move`;
    const before = readFileSync(runPath(), 'utf8');
    expect(await refused('POST', path, move)).toEqual([409, 'changed-since']);
    const to = { x: 1000, y: 700, rotation: 0 };
    const now = { ...move, version: await versionNow(), to };
    for (const wrong of [
      { roll: 'x' },
      { material: 'nylon' },
      { label: 'hood.1.A1' },
      { material: 'rubber' },
    ]) {
      expect(await refused('POST', path, { ...now, ...wrong })).toEqual([422, 'unknown-part']);
    }
    expect(await refused('POST', path, { ...now, to: { x: 1, y: 2 } })).toEqual([422, 'request']);
    expect(readFileSync(runPath(), 'utf8')).toBe(before);
  });

  it.each([{ material: 'nylon' }, { material: '__proto__' }, { label: 'hood' }, { roll: 'x' }])(
    'let go, of %j, does the run file no harm',
    async (wrong) => {
      const { content } = await good<SentRunFile>('GET', `/api/run/${run}`);
      await moved({ to: null, ...wrong });
      expect((await good<SentRunFile>('GET', `/api/run/${run}`)).content).toEqual(content);
    },
  );
});

describe('rolls of the shop', () => {
  const file = (): string => join(root, 'shared/rolls.yaml');

  it('are kept and forgotten', async () => {
    await good('PUT', '/api/roll', { material: 'loop', roll: { name: 'L7', length: 3000 } });
    expect((await good<Shop>('GET', '/api/shop')).stock).toMatchObject({
      loop: [{ name: 'L7', length: 3000 }],
    });
    await good('DELETE', '/api/roll/loop/L7');
    expect((await good<Shop>('GET', '/api/shop')).stock).toEqual({});
    await good('DELETE', '/api/roll/loop/L7');
    rmSync(file());
  });

  it('that are none are refused', async () => {
    const kept = { name: 'L1', length: 900 };
    for (const material of ['constructor', '../x', '', 'loop\n', 'velvet']) {
      expect((await refused('PUT', '/api/roll', { material, roll: kept }))[0]).toBe(422);
    }
    const strange: unknown = JSON.parse('{ "material": "loop", "roll": { "__proto__": {} } }');
    expect(await refused('PUT', '/api/roll', strange)).toEqual([422, 'request']);
    expect(await refused('PUT', '/api/roll', { material: 'loop', roll: { length: 3 } })).toEqual([
      422,
      'roll-name',
    ]);
    for (const roll of [
      { name: 'a b' },
      { name: '../x' },
      { name: 'x', width: 0 },
      { name: 'x', of: 1 },
    ]) {
      expect(await refused('PUT', '/api/roll', { material: 'loop', roll })).toEqual([
        422,
        'request',
      ]);
    }
    expect(existsSync(file())).toBe(false);
  });
});

describe('a run folder', () => {
  it('is shown proven, with its files, and each is given', async () => {
    const folder = await good<RunFolder>('GET', `/api/out/${run}`);
    expect(folder).toMatchObject({ name: run, proven: true, changes: [] });
    expect(folder.files.every(({ offered }) => offered)).toBe(true);
    for (const { name, size } of folder.files) {
      const { status, bytes } = await ask('GET', `/files/${run}/${name}`);
      expect([name, status, bytes.length]).toEqual([name, 200, size]);
      expect(bytes.equals(readFileSync(join(root, 'out', run, name)))).toBe(true);
    }
    expect((await ask('GET', `/files/${run}/sheet.html`)).type).toContain('text/html');
    expect((await ask('GET', `/files/${run}/loop.nc`)).type).toBe('application/octet-stream');
  });

  it('is given as one, every file of it', async () => {
    const { status, type, bytes } = await ask('GET', `/files/${run}`);
    expect([status, type]).toEqual([200, 'application/zip']);
    const files = unzipSync(bytes);
    const names = readdirSync(join(root, 'out', run)).sort();
    expect(Object.keys(files).sort()).toEqual(names.map((name) => `${run}/${name}`));
    for (const name of names) {
      expect(
        Buffer.from(files[`${run}/${name}`]!).equals(readFileSync(join(root, 'out', run, name))),
      ).toBe(true);
    }
  });

  it('plays its programs; a lay that it has not is refused', async () => {
    const { status, bytes } = await ask('GET', `/api/out/${run}/rehearsal/loop`);
    expect(status).toBe(200);
    const { rehearsal, moves } = rehearsalOf(new Uint8Array(bytes).buffer);
    expect(rehearsal).toMatchObject({
      file: 'loop.nc',
      material: 'loop',
    } satisfies Partial<Rehearsal>);
    expect(moves.x).toHaveLength(rehearsal.count);
    expect(rehearsal.parts.map(({ label }) => label)).toContain('floor.1.A1');
    expect(await refused('GET', `/api/out/${run}/rehearsal/nylon`)).toEqual([422, 'unknown-name']);
    expect(await refused('GET', '/api/out/robin/rehearsal/loop')).toEqual([422, 'file']);
  });

  it('with a program that was changed is not proven, and nothing of it goes to a machine', async () => {
    const program = join(root, 'out', run, 'loop.nc');
    const before = readFileSync(program, 'utf8');
    writeFileSync(program, before.replace(/^G1 X(\d)/m, 'G1 X1$1'));
    try {
      const folder = await good<RunFolder>('GET', `/api/out/${run}`);
      expect(folder.proven).toBe(false);
      expect(folder.findings.length).toBeGreaterThan(0);
      for (const { name, offered } of folder.files) {
        const isForMachine = /\.(nc|dxf)$/.test(name);
        expect([name, offered]).toEqual([name, !isForMachine]);
        if (!isForMachine) continue;
        expect(await refused('GET', `/files/${run}/${name}`)).toEqual([422, 'not-proven']);
      }
      expect(await refused('GET', `/files/${run}`)).toEqual([422, 'not-proven']);
      expect((await ask('GET', `/files/${run}/sheet.pdf`)).status).toBe(200);
      // To look is not to change: programs stay where they are.
      expect(existsSync(program)).toBe(true);
    } finally {
      writeFileSync(program, before);
    }
    expect((await good<RunFolder>('GET', `/api/out/${run}`)).proven).toBe(true);
    expect((await ask('GET', `/files/${run}/loop.nc`)).status).toBe(200);
  });

  it('with something strange in it says so, and gives nothing of it out', async () => {
    const strange = ['loop (copy).nc', 'a note.txt'].map((name) => join(root, 'out', run, name));
    for (const file of strange) writeFileSync(file, 'G0 X1');
    try {
      const folder = await good<RunFolder>('GET', `/api/out/${run}`);
      const shown = folder.files.map(({ name }) => name);
      expect(shown).toContain('loop.nc');
      expect(folder.proven).toBe(false);
      const said = folder.findings.map(({ message }) => message).join();
      for (const name of ['loop (copy).nc', 'a note.txt']) {
        expect(shown).not.toContain(name);
        expect(said).toContain(name);
      }
    } finally {
      for (const file of strange) rmSync(file);
    }
  });

  it('that is none is refused', async () => {
    writeFileSync(join(root, 'out/notes.txt'), 'x');
    mkdirSync(join(root, 'out/empty'));
    for (const name of ['robin', 'notes.txt', 'empty']) {
      expect([name, ...(await refused('GET', `/api/out/${name}`))]).toEqual([name, 422, 'file']);
      expect((await refused('GET', `/files/${name}`))[0]).toBe(422);
      expect((await refused('GET', `/files/${name}/run.json`))[0]).toBe(422);
    }
    rmSync(join(root, 'out/notes.txt'));
    rmSync(join(root, 'out/empty'), { recursive: true });
    expect(await refused('GET', `/files/${run}/other.nc`)).toEqual([422, 'file']);
  });

  it('that is older than its run gives papers, and nothing to a machine', async () => {
    const file = join(root, runFile);
    const before = readFileSync(file, 'utf8');
    const machine = /\.(nc|dxf)$/;
    const names = readdirSync(join(root, 'out', run));
    const expectGiven = async (): Promise<void> => {
      expect((await good<RunFolder>('GET', `/api/out/${run}`)).changes).toEqual([]);
      expect((await ask('GET', `/files/${run}`)).status).toBe(200);
      for (const name of names) {
        expect([name, (await ask('GET', `/files/${run}/${name}`)).status]).toEqual([name, 200]);
      }
    };
    try {
      writeFileSync(file, `# what is due\n${before}`);
      await expectGiven();
      writeFileSync(file, before.replace('quantity: 2', 'quantity: 3'));
      const folder = await good<RunFolder>('GET', `/api/out/${run}`);
      expect(folder).toMatchObject({ proven: true, changes: ['order A1 was changed'] });
      for (const { name, offered } of folder.files) {
        expect([name, offered]).toEqual([name, !machine.test(name)]);
        const { status } = await ask('GET', `/files/${run}/${name}`);
        expect([name, status]).toEqual([name, machine.test(name) ? 422 : 200]);
      }
      for (const path of [
        `/files/${run}`,
        `/files/${run}/loop.nc`,
        `/api/out/${run}/rehearsal/loop`,
      ]) {
        expect(await refused('GET', path)).toEqual([422, 'older-than-run']);
      }
      const { changes } = await good<RunFolder>('GET', `/api/out/${run}/proof`);
      expect(changes).toEqual(['order A1 was changed']);
    } finally {
      writeFileSync(file, before);
    }
    await expectGiven();
  });

  it('has what is left of its roll remembered once, by the name of the roll', async () => {
    const path = `/api/out/${run}/rest`;
    const wish = { material: 'loop', colour: null, name: 'L7' };
    expect(await refused('POST', path, wish)).toEqual([422, 'roll-name']);
    expect(await refused('POST', path, { ...wish, length: 9000 })).toEqual([422, 'request']);
    const stock = join(root, 'shared/rolls.yaml');
    try {
      withText((text) => text.replace('loop: {', 'loop: { name: L7,'));
      await cutAgain();
      const { rests } = await good<RunFolder>('GET', `/api/out/${run}`);
      const { said } = await good<{ said: string }>('POST', path, wish);
      expect(said).toMatch(/^L7 is kept in shared\/rolls\.yaml with \d+ mm\.$/);
      expect(readFileSync(stock, 'utf8')).toContain(`length: ${rests[0]!.roll.length}`);
      expect((await good<{ said: string }>('POST', path, wish)).said).toContain('already');
      writeFileSync(stock, 'rolls: { loop: { name: L7, length: 300 } }');
      expect(await refused('POST', path, wish)).toEqual([422, 'rest-kept']);
      expect(readFileSync(stock, 'utf8')).toContain('length: 300');
    } finally {
      rmSync(stock, { force: true });
      withText((text) => text);
      await cutAgain();
    }
  });

  it('is cut again in part, and compared', async () => {
    const wish = { labels: ['rest-left.1.A2'], remnant: null };
    const { name } = await good<{ name: string }>('POST', `/api/out/${run}/recut`, wish);
    expect(name).toBe(`${run}-recut`);
    const again = await good<{ name: string }>('POST', `/api/out/${run}/recut`, wish);
    expect(again.name).toBe(`${run}-recut-2`);
    expect(await good<RunFolder>('GET', `/api/out/${name}`)).toMatchObject({
      proven: true,
      recutOf: run,
      changes: [],
    });
    expect(await good('POST', '/api/compare', { before: run, after: run })).toMatchObject({
      equal: true,
      count: 0,
      groups: [],
    });
    const other = await good<{ equal: boolean; groups: unknown[] }>('POST', '/api/compare', {
      before: run,
      after: name,
    });
    expect(other.equal).toBe(false);
    expect(other.groups.length).toBeGreaterThan(0);
    for (const folder of [name, again.name]) rmSync(join(root, 'out', folder), { recursive: true });
    // What was ticked of a recut that is gone is not ticked of the next one, which has the same files.
    const marks = join(root, `out/${run}-recut.marks.yaml`);
    writeFileSync(marks, 'cuttings: []');
    const third = await good<{ name: string }>('POST', `/api/out/${run}/recut`, wish);
    expect(third.name).toBe(`${run}-recut-2`);
    rmSync(join(root, 'out', third.name), { recursive: true });
    rmSync(marks);
    expect(
      (await refused('POST', `/api/out/${run}/recut`, { labels: ['x'], remnant: null }))[0],
    ).toBe(422);
    expect((await refused('POST', `/api/out/${run}/recut`, { ...wish, remnant: 'x' }))[0]).toBe(
      422,
    );
    expect(await refused('POST', `/api/out/${run}/recut`, { labels: [], remnant: null })).toEqual([
      422,
      'request',
    ]);
    expect((await refused('POST', '/api/compare', { before: run, after: 'robin' }))[0]).toBe(422);
    expect(readdirSync(join(root, 'out'))).toEqual([run]);
  });
});

describe('the cutting of a run folder', () => {
  const path = `/api/out/${run}`;
  const marks = (): string => join(root, `out/${run}.marks.yaml`);
  const ticked = async (): Promise<string[]> =>
    (await good<SentMarks>('GET', `${path}/marks`)).ticks.map(
      ({ roll, step }) => `${roll} ${step}`,
    );
  const wish = async (step: string, roll = 'loop'): Promise<object> => {
    const { fingerprint } = await good<RunFolder>('GET', path);
    return { files: fingerprint, roll, step };
  };
  afterEach(() => rmSync(marks(), { force: true }));

  it('knows how each roll is fed, and which parts come out of which bite, as the programs cut them', async () => {
    const { lays, work, machine } = await good<RunFolder>('GET', path);
    expect(machine).toMatchObject({ face: 'up', bed: 3200, inches: false });
    for (const [i, { placements, material }] of lays.entries()) {
      const { bites, pile } = work[i]!;
      expect(bites.flatMap(({ labels }) => labels).sort()).toEqual(
        placements.map(({ label }) => label).sort(),
      );
      // The sum of all feeds is where the last bite lies; only carpet has a pile.
      expect(bites.reduce((sum, { feed }) => sum + feed, 0)).toBeCloseTo(bites.at(-1)!.start, 6);
      expect([material, pile]).toEqual([material, material === 'loop' ? 'one-way' : null]);
    }
  });

  it('is ticked step by step, told to whoever looks on, and counted on the card of the run', async () => {
    const { next, end } = await listening();
    await good('POST', `${path}/tick`, await wish('load'));
    await next('ticked');
    end();
    await good('POST', `${path}/tick`, await wish('dry'));
    await good('POST', `${path}/tick`, await wish('bite 1'));
    expect(await ticked()).toEqual(['loop load', 'loop dry', 'loop bite 1']);
    expect(await refused('POST', `${path}/tick`, await wish('parts'))).toEqual([
      409,
      'changed-since',
    ]);
    const { runs } = await good<Shop>('GET', '/api/shop');
    expect(runs.find(({ name }) => name === run)!.cutting).toMatchObject({
      state: 'begun',
      bites: 1,
    });
    await good('POST', `${path}/untick`, await wish('bite 1'));
    expect(await ticked()).toEqual(['loop load', 'loop dry']);
    await good('POST', `${path}/begin`, { files: ((await wish('load')) as StepWish).files });
    expect(await ticked()).toEqual([]);
  });

  it('is not ticked of other files than those that are there, nor of files that must not be cut', async () => {
    const load = await wish('load');
    const other = { ...load, files: '0123456789ab' };
    for (const way of ['tick', 'untick']) {
      expect(await refused('POST', `${path}/${way}`, other)).toEqual([409, 'changed-since']);
    }
    expect(await refused('POST', `${path}/tick`, { ...load, more: 1 })).toEqual([422, 'request']);
    const program = join(root, 'out', run, 'loop.nc');
    const before = readFileSync(program, 'utf8');
    writeFileSync(program, `${before} `);
    expect(await refused('POST', `${path}/tick`, load)).toEqual([422, 'not-proven']);
    writeFileSync(program, before);
    withText((text) => text.replace('quantity: 2', 'quantity: 3'));
    expect(await refused('POST', `${path}/tick`, load)).toEqual([422, 'not-proven']);
    expect(existsSync(marks())).toBe(false);
  });

  it('that cannot be read is told with its line, by the way from the workshop', async () => {
    writeFileSync(marks(), 'cuttings:\n  - files: [\n');
    const { ticks, findings } = await good<SentMarks>('GET', `${path}/marks`);
    expect(ticks).toEqual([]);
    expect(findings[0]!.where).toMatchObject({ file: `out/${run}.marks.yaml`, line: 3 });
    const { runs } = await good<Shop>('GET', '/api/shop');
    expect(runs.find(({ name }) => name === run)!.cutting.state).toBe('unknown');
  });
});

describe('making the files', () => {
  it('of a run that is refused is told, and the files before stay', async () => {
    const before = readFileSync(join(root, 'out', run, 'run.json'), 'utf8');
    withText((text) => text.replace('length: 9000', 'length: 600'));
    const event = await cutAgain();
    expect(event.findings.some(({ severity }) => severity === 'error')).toBe(true);
    expect(await good('GET', `/api/run/${run}/cut`)).toEqual({
      isUnderWay: false,
      progress: null,
      ended: 'refused',
      findings: event.findings,
    });
    expect(readFileSync(join(root, 'out', run, 'run.json'), 'utf8')).toBe(before);
    expect(readdirSync(join(root, 'out'))).toEqual([run]);
  });

  it('forgets what lies there of an order that is for the other hand now', async () => {
    const gone = '{ part: rest-right.1.A1, at: [900, 900], rotation: 90 }';
    const kept = '{ part: floor.1.A1, at: [1000, 900], rotation: 90 }';
    withText((text) =>
      text
        .replace('hand: RHD', 'hand: LHD')
        .replace('length: 9000', `length: 9000, laid: [${gone}, ${kept}]`),
    );
    const { findings } = await cutAgain();
    expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    const { content } = await good<SentRunFile>('GET', `/api/run/${run}`);
    expect([content.rolls['loop']].flat()[0]!.laid.map(({ part }) => part)).toEqual(['floor.1.A1']);
    withText((text) => text);
    await cutAgain();
  });

  it('is refused while it is under way, and its state is told', async () => {
    const release = hold('cut');
    const { next, end } = await listening();
    expect((await ask('POST', `/api/run/${run}/cut`)).status).toBe(202);
    expect(await refused('POST', `/api/run/${run}/cut`)).toEqual([409, 'busy']);
    expect(await good('GET', `/api/run/${run}/cut`)).toMatchObject({
      isUnderWay: true,
      progress: { share: 0 },
      findings: [],
    });
    release();
    await next('cut', ({ isUnderWay }: CutEvent) => !isUnderWay);
    end();
    expect(await good('GET', `/api/run/${run}/cut`)).toMatchObject({
      isUnderWay: false,
      progress: null,
      findings: [],
    });
  });

  it('is stopped on request; where nothing is under way there is nothing to stop', async () => {
    const release = hold('cut');
    const { next, end } = await listening();
    expect((await ask('POST', `/api/run/${run}/cut`)).status).toBe(202);
    await good('POST', `/api/run/${run}/cut/stop`);
    expect(await next('cut', ({ isUnderWay }: CutEvent) => !isUnderWay)).toMatchObject({
      progress: null,
    });
    end();
    release();
    await good('POST', `/api/run/${run}/cut/stop`);
  });
});

describe('a drawing that is sent', () => {
  const drawing = Buffer.from(String(wren[drawingFile]));

  /** A drawing as the page sends it: what is said of it as one line of JSON, then its bytes. */
  const sent = (bytes: Buffer, said: object): Buffer =>
    Buffer.concat([Buffer.from(`${JSON.stringify({ name: 'sent.dxf', ...said })}\n`), bytes]);

  it('makes a set, and nothing else', async () => {
    const before = readdirSync(join(root, 'patterns')).sort();
    const body = sent(drawing, { units: 'mm' });
    const { status, bytes } = await ask('POST', '/api/drawing/robin', body, true);
    expect(status).toBe(200);
    const { set, title, asked, pieces } = JSON.parse(bytes.toString()) as SetFromDrawing;
    expect(set).toBe('robin');
    expect(title).toBe('Robin');
    // What nobody said, each with its reason in words.
    expect(asked.map((one) => [one.key, one.value])).toEqual([
      ['title', 'Robin'],
      ['drawn', 'RHD'],
      ['pile', 'rearward'],
    ]);
    for (const piece of pieces) {
      expect(piece.asked.map((one) => one.key)).toEqual(['side', 'material']);
      for (const { why } of piece.asked) expect(why).toMatch(/\w+ \w+/);
    }
    expect(pieces.map(({ name }) => name).sort()).toEqual([
      'cover',
      'dash',
      'floor',
      'mat',
      'rest',
    ]);
    expect(readdirSync(join(root, 'patterns')).sort()).toEqual([...before, 'robin'].sort());
    const { groups } = await good<SetCheck>('GET', '/api/set/robin/check');
    const words = groups.flatMap(({ findings }) => findings.map((one) => one.words));
    expect(words.some((one) => one.includes('"drawn: RHD" is a guess'))).toBe(true);
    rmSync(join(root, 'patterns/robin'), { recursive: true });
  });

  it('is told what no layer of it explains, by the line of the drawing', async () => {
    const words = drawingText([
      {
        name: 'TUB',
        entities: [...on('OUTLINE', box(0, 0, 400, 300)), ...on('RED', box(100, 100, 280, 190))],
      },
    ]);
    const body = sent(Buffer.from(words), { units: 'mm' });
    const { bytes } = await ask('POST', '/api/drawing/tub', body, true);
    const { findings } = JSON.parse(bytes.toString()) as SetFromDrawing;
    expect(findings.map(({ rule }) => rule)).toEqual(['unknown-layer']);
    expect(findings[0]!.message).toContain('a closed line of 180 by 90 mm');
    expect(findings[0]!.where.line).toBeGreaterThan(1);
    expect(findings[0]!.where.file).toBeUndefined();
    rmSync(join(root, 'patterns/tub'), { recursive: true });
  });

  const noise = Buffer.from(Array.from({ length: 999 }, (_, i) => (i * 7919) % 256));

  it.each<[string, string, Buffer]>([
    ['as a set that is there', 'wren', sent(drawing, { units: 'mm' })],
    ['in units that are none', 'robin', sent(drawing, { units: 'ell' })],
    ['that is no DXF', 'robin', sent(Buffer.from('%PDF-1.4 no drawing'), { units: 'mm' })],
    ['of nothing', 'robin', sent(Buffer.alloc(0), { units: 'mm' })],
    ['of noise', 'robin', sent(noise, {})],
    ['with nothing said of it', 'robin', drawing],
    ['with nothing at all', 'robin', Buffer.alloc(0)],
    [
      'with a layer that it has not',
      'robin',
      sent(drawing, { units: 'mm', layers: [['X', 'PAD']] }),
    ],
    [
      'with a customer that is no name',
      'robin',
      sent(drawing, { units: 'mm', drawnBy: '../../x' }),
    ],
    ['with a layer that is no pair', 'robin', sent(drawing, { units: 'mm', layers: [['X']] })],
  ])('%s is refused, with nothing written', async (_, set, bytes) => {
    const before = readFileSync(join(root, 'patterns/wren/set.yaml'), 'utf8');
    expect((await refused('POST', `/api/drawing/${set}`, bytes, true))[0]).toBe(422);
    expect(named(join(root, 'patterns'))).toEqual(['wren', `${run}.yaml`]);
    expect(readFileSync(join(root, 'patterns/wren/set.yaml'), 'utf8')).toBe(before);
  });

  it('is looked at, and nothing is made of it', async () => {
    const before = readdirSync(join(root, 'patterns')).sort();
    const { status, bytes } = await ask('POST', '/api/drawing', sent(drawing, {}), true);
    expect(status).toBe(200);
    const { units, pieces } = JSON.parse(bytes.toString()) as DrawingSight;
    expect([units.asked, pieces.length]).toEqual(['must', 5]);
    expect(readdirSync(join(root, 'patterns')).sort()).toEqual(before);
  });

  it.each([
    ['/api/drawing', 64e6, '64 MB'],
    ['/api/drawing/robin', 64e6, '64 MB'],
    ['/api/plan', 8e6, '8 MB'],
  ])(
    '%s that is said to be more than is taken is refused before it comes',
    async (path, most, words) => {
      const answer = (length: number): Promise<Answer> =>
        new Promise((resolve, reject) => {
          const headers = {
            'x-pileway-key': key,
            'content-type': 'application/octet-stream',
            'content-length': length,
          };
          const { port } = served;
          const asked = request({ host: '127.0.0.1', port, method: 'POST', path, headers });
          asked.on('error', reject);
          asked.on('response', (response) => {
            response.on('data', (bytes: Buffer) => {
              resolve({ status: response.statusCode!, type: '', bytes });
              asked.destroy();
            });
          });
          asked.flushHeaders();
        });
      const { status, bytes } = await answer(most + 1);
      expect([status, bytes.toString()]).toEqual([413, expect.stringContaining(words)]);
    },
  );
});

describe('what lies outside of patterns, shared and out', () => {
  const secret = 'TOP-SECRET-5150';
  const tricks = [
    '..',
    '../secret',
    '..%2fsecret',
    '%2e%2e%2fsecret',
    '%2e%2e/secret',
    '..%5csecret',
    '%252e%252e%252fsecret',
    '....//secret',
    '.%2e%2fsecret',
    'wren-week/../../secret',
    'wren-week%2f..%2f..%2fsecret',
    'secret%00',
    '..%2fsecret%00.yaml',
    '%00',
    '%2fetc%2fpasswd',
    '/etc/passwd',
    'file:%2f%2f%2fetc%2fpasswd',
    '~',
    '%c0%ae%c0%ae%2fsecret',
    '%uff0e%uff0e%2fsecret',
    'wren%2fset',
    '.',
    '%',
  ];

  function secretFiles(): string[] {
    return readdirSync(join(root, 'secret'), { recursive: true, encoding: 'utf8' }).sort();
  }

  /** All that lies in the workshop, with its size and time. */
  function everything(): string[] {
    return readdirSync(root, { recursive: true, encoding: 'utf8' })
      .map((name) => ({ name, of: statSync(join(root, name)) }))
      .filter(({ of }) => of.isFile())
      .map(({ name, of }) => `${name} ${of.size} ${of.mtimeMs}`)
      .sort();
  }

  beforeAll(() => {
    mkdirSync(join(root, 'secret'));
    for (const name of ['set.yaml', 'run.json', 'loop.nc', 'week.yaml']) {
      writeFileSync(join(root, 'secret', name), `${secret}: [`);
    }
    writeFileSync(join(root, 'secret.yaml'), `${secret}: [`);
  });

  it.each(tricks)('is neither read nor written: %s', async (trick) => {
    const before = everything();
    const asked: [string, string, unknown?][] = [
      ['GET', `/api/run/${trick}`],
      ['GET', `/api/run/${trick}/table`],
      ['GET', `/api/set/${trick}/check`],
      ['GET', `/api/out/${trick}`],
      ['GET', `/api/out/${trick}/rehearsal/loop`],
      ['GET', `/api/out/${run}/rehearsal/${trick}`],
      ['GET', `/files/${trick}`],
      ['GET', `/files/${trick}/run.json`],
      ['GET', `/files/${run}/${trick}`],
      ['GET', `/${trick}`],
      ['GET', `/assets/${trick}`],
      ['POST', `/api/run/${trick}/cut`],
      ['POST', `/api/run/${trick}/search`, { seconds: 0 }],
      [
        'PUT',
        `/api/run/${trick}`,
        { content: (await good<SentRunFile>('GET', `/api/run/${run}`)).content, version: null },
      ],
      ['POST', `/api/drawing/${trick}`, '0\nEOF\n'],
      ['POST', `/api/out/${trick}/recut`, { labels: ['a'], remnant: null }],
    ];
    for (const [method, path, body] of asked) {
      const { status, bytes } = await ask(method, path, body);
      const text = bytes.toString('latin1');
      // Some of them are another way to say `/`, where there is no page in this test.
      expect([method, path, status >= 400 && status !== 500]).toEqual([method, path, true]);
      expect(text).not.toContain(secret);
      expect(text).not.toContain('root:');
    }
    for (const name of [decodeURIComponentOr(trick), trick]) {
      const bodies: [string, unknown][] = [
        ['/api/compare', { before: name, after: run }],
        ['/api/plan', { order: 'A1', set: name, hand: 'RHD' }],
      ];
      for (const [path, body] of bodies) {
        const { status, bytes } = await ask('POST', path, body);
        expect([path, name, status]).toEqual([path, name, 422]);
        expect(bytes.toString('latin1')).not.toContain(secret);
      }
    }
    expect(everything()).toEqual(before);
    expect(secretFiles()).toEqual(['loop.nc', 'run.json', 'set.yaml', 'week.yaml']);
  });

  it('is not quoted where a link inside the workshop leads to it', async () => {
    const links: [string, string][] = [
      ['patterns/leak.yaml', 'secret.yaml'],
      ['patterns/leak/set.yaml', 'secret/set.yaml'],
      ['shared/rolls.yaml', 'secret.yaml'],
      ['out/leak/run.json', 'secret/run.json'],
    ];
    for (const [link, to] of links) {
      mkdirSync(dirname(join(root, link)), { recursive: true });
      symlinkSync(join(root, to), join(root, link));
    }
    try {
      const asked: [string, string, unknown?][] = [
        ['GET', '/api/shop'],
        ['GET', '/api/run/leak'],
        ['GET', '/api/run/leak/table'],
        ['GET', '/api/set/leak/check'],
        ['POST', '/api/plan', { order: 'A1', set: 'leak', hand: 'RHD' }],
        ['GET', '/api/out/leak'],
        ['GET', '/files/leak'],
        ['GET', '/files/leak/run.json'],
        ['POST', '/api/compare', { before: 'leak', after: run }],
        ['PUT', '/api/roll', { material: 'loop', roll: { name: 'L1' } }],
      ];
      for (const [method, path, body] of asked) {
        const { bytes } = await ask(method, path, body);
        expect([path, bytes.toString('latin1').includes(secret)]).toEqual([path, false]);
      }
      const { findings } = await good<Shop>('GET', '/api/shop');
      expect(findings.filter(({ rule }) => rule === 'outside').length).toBeGreaterThan(0);
    } finally {
      for (const [link] of links) rmSync(join(root, link));
      for (const name of ['patterns/leak', 'out/leak'])
        rmSync(join(root, name), { recursive: true });
    }
  });

  it.each([
    ['set', { orders: [{ order: 'A1', set: '../elsewhere', hand: 'RHD' }] }],
    ['cutter', { cutter: '../../elsewhere/long-bay' }],
    ['labels', { labels: '../../elsewhere/labels' }],
  ])('is not read for a run that is sent and names it as its %s', async (_, more) => {
    cpSync(join(root, 'patterns/wren'), join(root, 'elsewhere'), { recursive: true });
    cpSync(join(root, 'shared/cutters/long-bay.yaml'), join(root, 'elsewhere/long-bay.yaml'));
    const { content, version } = await good<SentRunFile>('GET', `/api/run/${run}`);
    const body = { content: { ...content, ...more }, version };
    expect(await refused('PUT', `/api/run/${run}`, body)).toEqual([422, 'name']);
    expect(await good('GET', `/api/run/${run}`)).toMatchObject({
      name: run,
      content,
      ordersFile: null,
      version,
    });
    rmSync(join(root, 'elsewhere'), { recursive: true });
  });
});

function decodeURIComponentOr(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

it.skipIf(process.seteuid === undefined)(
  'a patterns folder that is read-only is told in words',
  async () => {
    const user = process.geteuid!();
    const patterns = join(root, 'patterns');
    const { content, version } = await good<SentRunFile>('GET', `/api/run/${run}`);
    const before = readFileSync(runPath(), 'utf8');
    chmodSync(root, 0o755);
    chmodSync(patterns, 0o555);
    if (user === 0) process.seteuid!(65_534);
    try {
      const body = { content: { ...content, title: 'Saved' }, version };
      expect(await refused('PUT', `/api/run/${run}`, body)).toEqual([422, 'target']);
    } finally {
      process.seteuid!(user);
      chmodSync(patterns, 0o755);
    }
    expect(readFileSync(runPath(), 'utf8')).toBe(before);
  },
);
