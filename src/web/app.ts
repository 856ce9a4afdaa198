/** Puts the page's server together: who may ask, what for, and what is under way. */
import { Hono } from 'hono';
import { bodyWithin, guarded } from './access/guard.ts';
import type { RunEvent } from './api/events.ts';
import type { Refused } from './api/refused.ts';
import { named, notThere, refusal } from './routes/answers.ts';
import { builtPage } from './routes/built-page.ts';
import type { Desk } from './routes/desk.ts';
import { draftRoutes } from './routes/drafts.ts';
import { drawingRoutes } from './routes/drawings.ts';
import { folderRoutes } from './routes/folders.ts';
import { runRoutes } from './routes/runs.ts';
import { shopRoutes } from './routes/shop.ts';
import type { ServerThreads } from './tasks/threads.ts';
import { openCuts } from './under-way/cuts.ts';
import { channel } from './under-way/events.ts';
import { openGlances } from './under-way/glances.ts';
import { openRunFolders } from './under-way/run-folders.ts';
import { openSearches } from './under-way/searches.ts';
import { workshopIn } from './workshop/workshop.ts';

interface PageServerOptions {
  /** The folder of the workshop. */
  readonly folder: string;
  readonly key: string;
  readonly port: () => number;
  /** The folder of the built page. */
  readonly pageFolder: string;
  readonly threads: ServerThreads;
  /**
   * One thread alone, for work that takes no time once its files are known: that thread knows them.
   */
  readonly quick: ServerThreads;
  /** One thread alone for what is done to sets: it knows their files. */
  readonly drafts: ServerThreads;
}

export interface PageServer {
  readonly app: Hono;
  /** Ends all searches, with their lays saved, and ends whatever listens. */
  readonly close: () => Promise<void>;
}

/**
 * The most bytes that are taken: of JSON, enough for a run with a thousand orders, and of a drawing.
 */
const limits = { json: 8e6, drawing: 64e6 };

/** Opens the page's server for a workshop. Throws a Refusal where the folder is none. */
export async function openPageServer({
  folder,
  key,
  port,
  pageFolder,
  threads,
  quick,
  drafts,
}: PageServerOptions): Promise<PageServer> {
  const shop = workshopIn(folder);
  const told = <T extends Refused>(answer: T): T => named(answer, shop);
  const all = channel<RunEvent>();
  const events: typeof all = {
    ...all,
    tell: (run, event) => all.tell(run, 'findings' in event ? told(event) : event),
  };
  const searches = openSearches(shop, threads, events);
  const folders = openRunFolders(shop, threads);
  const glances = openGlances(shop, threads);
  const cuts = openCuts(shop, threads, events);
  // The thread is started and knows the shop before the page first asks.
  await quick.run('shop', { shop });
  // Whoever opens a set waits for no thread to start. A set of no name is none, and answered at once.
  void drafts.run('draft', { shop, set: '', version: null }).catch(() => undefined);

  const app = new Hono();
  app.use(guarded({ port, key }));
  app.use('/api/drawing/*', bodyWithin(limits.drawing));
  app.use('/api/*', async (c, next) =>
    /^\/api\/drawing(\/|$)/.test(c.req.path) ? next() : bodyWithin(limits.json)(c, next),
  );
  app.onError((error, c) => refusal(c, error, shop));

  const desk: Desk = {
    shop,
    threads,
    quick,
    drafts,
    events,
    searches,
    folders,
    glances,
    cuts,
    told,
  };
  app.route('/', shopRoutes(desk));
  app.route('/', draftRoutes(desk));
  app.route('/', drawingRoutes(desk));
  app.route('/', runRoutes(desk));
  app.route('/', folderRoutes(desk));
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
