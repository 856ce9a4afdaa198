import { Hono } from 'hono';
import { beginWishSchema, sightWishSchema } from '../api/sight.ts';
import type { Desk } from './desk.ts';
import { sentWithBytes } from './sent.ts';

/**
 * Routes for a drawing that is sent: to look at it, and to begin a set of it. What is said of it goes
 * before its bytes, as one line of JSON.
 */
export function drawingRoutes({ shop, threads, quick, told }: Desk) {
  return new Hono()
    .post('/api/drawing', async (c) => {
      const { said, bytes } = sentWithBytes(sightWishSchema, await c.req.arrayBuffer());
      // The one thread knows the drawing when it is asked about it again.
      return c.json(told(await quick.run('sight', { shop, wish: said, drawing: bytes })));
    })
    .post('/api/drawing/:set', async (c) => {
      const { said, bytes } = sentWithBytes(beginWishSchema, await c.req.arrayBuffer());
      const set = c.req.param('set');
      return c.json(told(await threads.run('import', { shop, set, wish: said, drawing: bytes })));
    });
}
