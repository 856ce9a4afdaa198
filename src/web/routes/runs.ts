import type { Hono } from 'hono';
import { z } from 'zod';
import { runSchema } from '../../run/run-file.ts';
import type { LayTable, PartMove, PartMoved } from '../api/lay.ts';
import { withMove } from '../workshop/lays-in-run.ts';
import { openRunFile, saveRunFile } from '../workshop/run-file.ts';
import { bodyOf } from './answers.ts';
import type { Desk } from './desk.ts';

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

/** Runs on their way: their files, their lays, and the making of what the machine needs. */
export function runRoutes(app: Hono, desk: Desk): void {
  const { shop, quick, events, searches, folders, cuts, told } = desk;
  app.get('/api/run/:run', (c) => {
    const run = openRunFile(shop, c.req.param('run'));
    // Whoever opens a run may soon play it: it starts at once then.
    folders.getReady(run.name);
    return c.json(run);
  });
  app.put('/api/run/:run', async (c) => {
    const run = c.req.param('run');
    const { sheet, version } = await bodyOf(c, savedRunSchema);
    searches.settle(run);
    const now = saveRunFile(shop, run, sheet, version);
    events.tell(run, { kind: 'saved', version: now });
    return c.json({ version: now });
  });
  app.get('/api/run/:run/table', async (c) => {
    const run = c.req.param('run');
    const table = await quick.run<Omit<LayTable, 'search' | 'isUnsaved'>>('table', { shop, run });
    const found = searches.laysOf(run);
    const lays = found.length === 0 ? table.lays : newer(table.lays, found);
    const search = searches.stateOf(run);
    const isUnsaved = found.length > 0 && search === null;
    return c.json({ ...table, lays, search, isUnsaved } satisfies LayTable);
  });
  app.get('/api/run/:run/events', (c) => events.listen(c, c.req.param('run')));
  app.post('/api/run/:run/search', async (c) => {
    const wish = await bodyOf(c, searchSchema);
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
    const move = await bodyOf(c, moveSchema);
    return c.json(await movedTo(desk, run, move));
  });
  app.post('/api/run/:run/cut', (c) => {
    const run = c.req.param('run');
    searches.settle(run);
    cuts.begin(run);
    return c.json({}, 202);
  });
  app.get('/api/run/:run/cut', (c) => c.json(told(cuts.stateOf(c.req.param('run')))));
}

/** Judges a move and, unless only asked, keeps it as a pin. */
async function movedTo(
  { shop, quick, events, searches }: Desk,
  run: string,
  move: PartMove,
): Promise<PartMoved> {
  searches.settle(run);
  let judged: Pick<PartMoved, 'findings' | 'near'> = { findings: [], near: null };
  if (move.to !== null) judged = await quick.run('place', { shop, run, move });
  if (move.dry || judged.findings.length > 0) return { ...judged, version: move.version };
  const { sheet } = openRunFile(shop, run);
  const version = saveRunFile(shop, run, withMove(sheet, move), move.version);
  events.tell(run, { kind: 'saved', version });
  return { ...judged, version };
}

/** Lays that a search has found in the place of those in the run file. */
function newer(lays: LayTable['lays'], found: LayTable['lays']): LayTable['lays'] {
  const replaced = new Set(found.map(({ material }) => material));
  return [...lays.filter(({ material }) => !replaced.has(material)), ...found];
}
