import { Hono } from 'hono';
import {
  askedHalvesSchema,
  askedHandsSchema,
  askedRunsSchema,
  askedSeamSchema,
  knownVersionSchema,
  sentEditSchema,
  sentVersionSchema,
} from '../api/draft.ts';
import type { Desk } from './desk.ts';
import { sent, sentAlong } from './sent.ts';

/**
 * Routes for sets while somebody works on them. All is done in one thread, which knows them: another would have to
 * read again whatever an edit changed, and that takes longer than to find what is open.
 */
export function draftRoutes({ shop, drafts, told }: Desk) {
  return new Hono()
    .get('/api/draft/:set', sentAlong(knownVersionSchema), async (c) => {
      const { version = null } = c.req.valid('query');
      const set = c.req.param('set');
      const changed = await drafts.run('draft', { shop, set, version });
      return c.json(changed === null ? null : told(changed));
    })
    .post('/api/draft/:set/edit', sent(sentEditSchema), async (c) => {
      const set = c.req.param('set');
      return c.json(told(await drafts.run('edit', { shop, set, ...c.req.valid('json') })));
    })
    .post('/api/draft/:set/undo', sent(sentVersionSchema), async (c) => {
      const set = c.req.param('set');
      return c.json(told(await drafts.run('undo', { shop, set, ...c.req.valid('json') })));
    })
    .post('/api/draft/:set/redo', sent(sentVersionSchema), async (c) => {
      const set = c.req.param('set');
      return c.json(told(await drafts.run('redo', { shop, set, ...c.req.valid('json') })));
    })
    .post('/api/draft/:set/hands', sent(askedHandsSchema), async (c) => {
      const set = c.req.param('set');
      return c.json(await drafts.run('hands', { shop, set, ...c.req.valid('json') }));
    })
    .get('/api/draft/:set/halves', sentAlong(askedHalvesSchema), async (c) => {
      const { piece } = c.req.valid('query');
      return c.json(await drafts.run('halves', { shop, set: c.req.param('set'), piece }));
    })
    .get('/api/draft/:set/runs', sentAlong(askedRunsSchema), async (c) => {
      const { piece } = c.req.valid('query');
      return c.json(await drafts.run('runs-naming', { shop, set: c.req.param('set'), piece }));
    })
    .get('/api/draft/:set/questions', async (c) =>
      c.json(await drafts.run('questions', { shop, set: c.req.param('set') })),
    )
    .get('/api/draft/:set/seams', async (c) =>
      c.json(await drafts.run('seams', { shop, set: c.req.param('set') })),
    )
    .post('/api/draft/:set/seam', sent(askedSeamSchema), async (c) => {
      const set = c.req.param('set');
      return c.json(await drafts.run('seam', { shop, set, ...c.req.valid('json') }));
    });
}
