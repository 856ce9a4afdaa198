/** What the page can ask of the server: each route calls what a command calls, and adds no rules. */
import { extname, join, relative, resolve } from 'node:path';
import type { Context } from 'hono';
import { Hono } from 'hono';
import { z } from 'zod';
import type { Finding } from '../findings.ts';
import { Refusal } from '../findings.ts';
import { orderSchema } from '../handing/order.ts';
import { rollSchema, runSchema } from '../run.ts';
import type { Move, Moved, Refused, RunEvent, Table } from './api.ts';
import { openCuts } from './cuts.ts';
import { channel } from './events.ts';
import { bodyWithin, guarded, paperPolicy } from './guard.ts';
import { withMove } from './lays-in-run.ts';
import { openRunFile, saveRunFile } from './run-file.ts';
import { openRunFolders } from './run-folders.ts';
import { findingsOf, openSearches } from './searches.ts';
import { builtPage } from './static.ts';
import { forgetRoll, rememberRoll } from './stock-file.ts';
import type { Threads } from './threads.ts';
import { workshopIn } from './workshop.ts';

export interface AppOptions {
  /** The workshop's folder. */
  readonly folder: string;
  readonly key: string;
  readonly port: () => number;
  /** Of the built page. */
  readonly pageFolder: string;
  readonly threads: Threads;
}

export interface App {
  readonly app: Hono;
  /** Ends searches, their lays saved, and all that listens. */
  readonly close: () => Promise<void>;
}

/** Bytes that are taken: a run with a thousand orders, and a drawing. */
const limits = { json: 8e6, drawing: 64e6 };

/** Opens the page's server for a workshop. Throws a Refusal where the folder is none. */
export async function openApp({
  folder,
  key,
  port,
  pageFolder,
  threads,
}: AppOptions): Promise<App> {
  const shop = workshopIn(folder);
  const events = channel<RunEvent>();
  const searches = openSearches(shop, threads, events);
  const folders = openRunFolders(shop, threads);
  const cuts = openCuts(shop, threads, events, (one) => shortened(one, folder));
  // A thread is ready and knows the shop before the page first asks.
  await threads.run('shop', { shop });

  const app = new Hono();
  app.use(guarded({ port, key }));
  app.use('/api/drawing/*', bodyWithin(limits.drawing));
  app.use('/api/*', async (c, next) =>
    c.req.path.startsWith('/api/drawing/') ? next() : bodyWithin(limits.json)(c, next),
  );
  app.onError((error, c) => refusal(c, error, folder));

  app.get('/api/shop', async (c) => c.json(await threads.run('shop', { shop })));
  app.get('/api/set/:set/check', async (c) =>
    c.json(await threads.run('check', { shop, set: c.req.param('set') })),
  );
  app.post('/api/plan', async (c) => {
    const order = await body(c, orderSchema);
    return c.json(await threads.run('plan', { shop, order }));
  });
  app.post('/api/drawing/:set', async (c) => {
    const drawing = new Uint8Array(await c.req.arrayBuffer());
    const units = fitting(unitsSchema, c.req.query('units') ?? null);
    const set = c.req.param('set');
    return c.json(await threads.run('import', { shop, set, drawing, units }));
  });

  app.put('/api/roll', async (c) => {
    const { material, roll } = await body(c, keptRollSchema);
    rememberRoll(shop, material, roll);
    return c.json({});
  });
  app.delete('/api/roll/:material/:name', (c) => {
    forgetRoll(shop, c.req.param('material'), c.req.param('name'));
    return c.json({});
  });

  app.get('/api/run/:run', (c) => {
    const run = openRunFile(shop, c.req.param('run'));
    // Whoever opens a run may soon play it: it starts at once then.
    folders.getReady(run.name);
    return c.json(run);
  });
  app.put('/api/run/:run', async (c) => {
    const run = c.req.param('run');
    const { sheet, version } = await body(c, savedRunSchema);
    searches.checkIdle(run);
    const now = saveRunFile(shop, run, sheet, version);
    events.tell(run, { kind: 'saved', version: now });
    return c.json({ version: now });
  });
  app.get('/api/run/:run/table', async (c) => {
    const run = c.req.param('run');
    const table = await threads.run<Omit<Table, 'search' | 'isUnsaved'>>('table', { shop, run });
    const found = searches.laysOf(run);
    const lays = found.length === 0 ? table.lays : newer(table.lays, found);
    const search = searches.stateOf(run);
    const isUnsaved = found.length > 0 && search === null;
    return c.json({ ...table, lays, search, isUnsaved } satisfies Table);
  });
  app.get('/api/run/:run/events', (c) => events.listen(c, c.req.param('run')));
  app.post('/api/run/:run/search', async (c) => {
    const wish = await body(c, searchSchema);
    searches.begin(c.req.param('run'), {
      seconds: wish.seconds,
      ...(wish.material === undefined ? {} : { material: wish.material }),
    });
    return c.json({}, 202);
  });
  app.post('/api/run/:run/stop', async (c) => {
    await searches.stop(c.req.param('run'));
    return c.json({});
  });
  app.post('/api/run/:run/save', (c) => c.json({ version: searches.save(c.req.param('run')) }));
  app.post('/api/run/:run/move', async (c) => {
    const run = c.req.param('run');
    const move = await body(c, moveSchema);
    return c.json(await moved(run, move));
  });
  app.post('/api/run/:run/cut', (c) => {
    const run = c.req.param('run');
    searches.checkIdle(run);
    cuts.begin(run);
    return c.json({}, 202);
  });
  app.get('/api/run/:run/cut', (c) => c.json(cuts.stateOf(c.req.param('run'))));

  const moved = async (run: string, move: Move): Promise<Moved> => {
    searches.checkIdle(run);
    let judged: Pick<Moved, 'findings' | 'near'> = { findings: [], near: null };
    if (move.to !== null) judged = await threads.run('place', { shop, run, move });
    if (move.dry || judged.findings.length > 0) return { ...judged, version: move.version };
    const { sheet } = openRunFile(shop, run);
    const version = saveRunFile(shop, run, withMove(sheet, move), move.version);
    events.tell(run, { kind: 'saved', version });
    return { ...judged, version };
  };

  app.get('/api/out/:run', async (c) => c.json(await folders.folder(c.req.param('run'))));
  app.get('/api/out/:run/rehearsal/:lay', async (c) => {
    const { run, lay } = c.req.param();
    return c.body(await folders.rehearsal(run, lay), 200, {
      'Content-Type': 'application/octet-stream',
    });
  });
  app.post('/api/out/:run/recut', async (c) => {
    const wish = await body(c, recutSchema);
    return c.json(await threads.run('recut', { shop, run: c.req.param('run'), ...wish }));
  });
  app.post('/api/compare', async (c) => {
    const runs = await body(c, z.strictObject({ before: z.string(), after: z.string() }));
    return c.json(await threads.run('compare', { shop, ...runs }));
  });
  app.use('/files/*', paperPolicy);
  app.get('/files/:run', async (c) => {
    const run = c.req.param('run');
    const zip = await folders.zip(run);
    return c.body(zip as Uint8Array<ArrayBuffer>, 200, {
      'Content-Type': 'application/zip',
      'Content-Disposition': `attachment; filename="${run}.zip"`,
    });
  });
  app.get('/files/:run/:file', async (c) => {
    const { file, bytes } = await folders.file(c.req.param('run'), c.req.param('file'));
    const { type, shown } = fileTypes[extname(file.name)] ?? unknownType;
    return c.body(bytes as Uint8Array<ArrayBuffer>, 200, {
      'Content-Type': type,
      'Content-Disposition': `${shown ? 'inline' : 'attachment'}; filename="${file.name}"`,
    });
  });

  app.all('/api/*', (c) => notThere(c));
  app.all('/files/*', (c) => notThere(c));
  app.use(builtPage(pageFolder, key));

  return {
    app,
    close: async () => {
      await Promise.all([searches.close(), cuts.close()]);
      events.close();
    },
  };
}

const placeSchema = z.strictObject({ x: z.number(), y: z.number(), rotation: z.number() });
const moveSchema = z.strictObject({
  version: z.string(),
  material: z.string(),
  roll: z.string().nullable(),
  label: z.string(),
  to: placeSchema.nullable(),
  dry: z.boolean(),
});
const savedRunSchema = z.strictObject({ sheet: runSchema, version: z.string().nullable() });
const searchSchema = z.strictObject({
  seconds: z.number().min(0).max(86_400),
  material: z.string().optional(),
});
const keptRollSchema = z.strictObject({ material: z.string(), roll: rollSchema });
const recutSchema = z.strictObject({
  labels: z.array(z.string()).min(1),
  remnant: z.string().nullable(),
});
const unitsSchema = z.enum(['mm', 'cm', 'm', 'in']).nullable();

const unknownType = { type: 'application/octet-stream', shown: false };
const fileTypes: Readonly<Record<string, typeof unknownType>> = {
  '.html': { type: 'text/html; charset=utf-8', shown: true },
  '.pdf': { type: 'application/pdf', shown: true },
  '.svg': { type: 'image/svg+xml', shown: true },
  '.csv': { type: 'text/csv; charset=utf-8', shown: false },
  '.json': { type: 'application/json', shown: false },
};

/** Lays that a search has found in the place of those in the run file. */
function newer(lays: Table['lays'], found: Table['lays']): Table['lays'] {
  const replaced = new Set(found.map(({ material }) => material));
  return [...lays.filter(({ material }) => !replaced.has(material)), ...found];
}

/** The body of a request as it must be. Throws a Refusal. */
async function body<T>(c: Context, schema: z.ZodType<T>): Promise<T> {
  return fitting(schema, parsed(await c.req.text()));
}

function fitting<T>(schema: z.ZodType<T>, value: unknown): T {
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

function refusal(c: Context, error: unknown, folder: string): Response {
  const findings = findingsOf(error).map((one) => shortened(one, folder));
  const status = !(error instanceof Refusal) ? 500 : conflicts.has(findings[0]!.rule) ? 409 : 422;
  return c.json({ findings } satisfies Refused, status);
}

function notThere(c: Context): Response {
  const finding: Finding = {
    severity: 'error',
    rule: 'not-there',
    message: 'there is nothing under this address.',
    todo: 'Load the page again.',
    where: {},
  };
  return c.json({ findings: [finding] } satisfies Refused, 404);
}

/** Files are named from the workshop's folder. */
function shortened(finding: Finding, folder: string): Finding {
  const { file } = finding.where;
  const root = resolve(folder);
  if (file === undefined || !file.startsWith(join(root, '/'))) return finding;
  return { ...finding, where: { ...finding.where, file: relative(root, file) } };
}
