import { clothName } from '../../pattern/shop/cloth.ts';
import { Hono } from 'hono';
import type { RunContent } from '../../run/run-file.ts';
import type { LayTable, PartMove, PartMoved } from '../api/lay.ts';
import { layBackSchema, partMoveSchema, searchWishSchema } from '../api/lay.ts';
import type { SentRunFile } from '../api/run-file.ts';
import { savedRunSchema, seenRunSchema } from '../api/run-file.ts';
import { earlierLays, withEarlierLay } from '../workshop/earlier-lays.ts';
import { withMove, withoutLaid } from '../workshop/lays-in-run.ts';
import { openRunFile, refuseChanged, saveRunFile } from '../workshop/run-file.ts';
import { redoRunStep, runSteps, undoRunStep } from '../workshop/run-history.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFileIn } from '../workshop/workshop.ts';
import type { Desk } from './desk.ts';
import { sent } from './sent.ts';

/**
 * Routes for runs on their way: their run files, their lays, and the making of what the machine needs.
 */
export function runRoutes(desk: Desk) {
  const { shop, threads, quick, events, searches, folders, cuts, told } = desk;
  return new Hono()
    .get('/api/run/:run', (c) => {
      const run = openRunFile(shop, c.req.param('run'));
      // Whoever opens a run may soon play it; it is made ready to start at once.
      folders.getReady(run.name);
      return c.json({ ...run, ...runSteps(shop, run.name) } satisfies SentRunFile);
    })
    .put('/api/run/:run', sent(savedRunSchema), (c) => {
      const run = c.req.param('run');
      const { content, version } = c.req.valid('json');
      searches.settle(run);
      const now = saved(desk, run, content, version);
      return c.json({ version: now, ...runSteps(shop, run) });
    })
    .post('/api/run/:run/undo', sent(seenRunSchema), (c) =>
      c.json(stepped(desk, c.req.param('run'), c.req.valid('json').version, undoRunStep)),
    )
    .post('/api/run/:run/redo', sent(seenRunSchema), (c) =>
      c.json(stepped(desk, c.req.param('run'), c.req.valid('json').version, redoRunStep)),
    )
    .get('/api/run/:run/table', async (c) => {
      const run = c.req.param('run');
      const table = await quick.run('table', { shop, run });
      const found = searches.laysOf(run);
      const lays = found.length === 0 ? table.lays : newer(table.lays, found);
      const search = searches.stateOf(run);
      const isUnsaved = found.length > 0 && search === null;
      const earlier = earlierLays(shop, run);
      return c.json({ ...table, lays, search, earlier, isUnsaved } satisfies LayTable);
    })
    .get('/api/run/:run/faults', async (c) =>
      c.json(told(await threads.run('faults', { shop, run: c.req.param('run') }))),
    )
    .post('/api/run/:run/lay-back', sent(layBackSchema), async (c) => {
      const run = c.req.param('run');
      const { version, id } = c.req.valid('json');
      searches.settle(run);
      const { parts } = await quick.run('table', { shop, run });
      const labels = new Set(parts.map(({ label }) => label));
      const { content } = openRunFile(shop, run);
      const back = withEarlierLay(shop, run, content, id, labels);
      return c.json({ version: saved(desk, run, back, version) });
    })
    .get('/api/run/:run/together', async (c) =>
      c.json(told(await quick.run('together', { shop, run: c.req.param('run') }))),
    )
    .get('/api/run/:run/events', (c) => events.listen(c, c.req.param('run')))
    .post('/api/run/:run/search', sent(searchWishSchema), (c) => {
      searches.begin(c.req.param('run'), c.req.valid('json'));
      return c.json({}, 202);
    })
    .post('/api/run/:run/stop', async (c) => {
      await searches.stop(c.req.param('run'));
      return c.json({});
    })
    .post('/api/run/:run/save', (c) => c.json({ version: searches.save(c.req.param('run')) }))
    .post('/api/run/:run/move', sent(partMoveSchema), async (c) =>
      c.json(await movedTo(desk, c.req.param('run'), c.req.valid('json'))),
    )
    .post('/api/run/:run/cut', async (c) => {
      const run = c.req.param('run');
      searches.settle(run);
      await forgetGone(desk, run);
      cuts.begin(run);
      return c.json({}, 202);
    })
    .post('/api/run/:run/cut/stop', async (c) => {
      await cuts.stop(c.req.param('run'));
      return c.json({});
    })
    .get('/api/run/:run/cut', (c) => c.json(told(cuts.stateOf(c.req.param('run')))));
}

/** Saves a run file, and tells whoever has it open; gives the new version. Throws as saveRunFile does. */
function saved(
  { shop, events }: Desk,
  run: string,
  content: RunContent,
  version: string | null,
): string {
  const now = saveRunFile(shop, run, content, version);
  events.tell(run, { kind: 'saved', version: now });
  return now;
}

/** Takes out of the run file what lies there of parts that its orders have no more: `cut` refuses such a file. */
async function forgetGone(desk: Desk, run: string): Promise<void> {
  const { shop, quick } = desk;
  const { content, version } = openRunFile(shop, run);
  // A run that is refused is told by the making of its files.
  const gone = await quick.run('gone-labels', { shop, run }).catch(() => []);
  if (gone.length > 0) saved(desk, run, withoutLaid(content, gone), version);
}

/** Takes a step of a run back or does it again, if the run is the one that somebody looks at. */
function stepped(
  { shop, events, searches }: Desk,
  run: string,
  version: string,
  step: (shop: Workshop, run: string) => void,
): { version: string } {
  searches.settle(run);
  refuseChanged(runFileIn(shop, run), version);
  step(shop, run);
  const now = openRunFile(shop, run).version;
  events.tell(run, { kind: 'saved', version: now });
  return { version: now };
}

/** Judges a move and, unless it was only asked, keeps the part where it was put as a pin. */
async function movedTo(desk: Desk, run: string, move: PartMove): Promise<PartMoved> {
  const { shop, quick, searches } = desk;
  const { to, dry, version } = move;
  searches.settle(run);
  const judged =
    to === null ? { findings: [], near: null } : await quick.run('place', { shop, run, move, to });
  if (dry || judged.findings.length > 0) return { ...judged, version };
  const { content } = openRunFile(shop, run);
  return { ...judged, version: saved(desk, run, withMove(content, move), version) };
}

/** The lays of the run file, with those that a search has found in the place of older ones. */
function newer(lays: LayTable['lays'], found: LayTable['lays']): LayTable['lays'] {
  const replaced = new Set(found.map(clothOf));
  return [...lays.filter((lay) => !replaced.has(clothOf(lay))), ...found];
}

function clothOf({ material, colour }: LayTable['lays'][number]): string {
  return clothName(material, colour);
}
