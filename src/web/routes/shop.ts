import { Hono } from 'hono';
import { orderSchema } from '../../handing/order.ts';
import { forgottenRollSchema, keptRollSchema } from '../api/roll.ts';
import { drawingQuerySchema } from '../api/sets.ts';
import { forgetRoll, rememberRoll } from '../workshop/stock-file.ts';
import type { Desk } from './desk.ts';
import { sent, sentAlong } from './sent.ts';

/**
 * Routes for sets, for orders before they are in any run, for drawings, and for the rolls of the shop.
 */
export function shopRoutes({ shop, threads, quick, told }: Desk) {
  return new Hono()
    .get('/api/shop', async (c) => c.json(told(await quick.run('shop', { shop }))))
    .get('/api/set/:set/check', async (c) =>
      c.json(await quick.run('check', { shop, set: c.req.param('set') })),
    )
    .post('/api/plan', sent(orderSchema), async (c) =>
      c.json(told(await quick.run('plan', { shop, order: c.req.valid('json') }))),
    )
    .post('/api/drawing/:set', sentAlong(drawingQuerySchema), async (c) => {
      const drawing = new Uint8Array(await c.req.arrayBuffer());
      const { units = null } = c.req.valid('query');
      const set = c.req.param('set');
      return c.json(told(await threads.run('import', { shop, set, drawing, units })));
    })
    .put('/api/roll', sent(keptRollSchema), (c) => {
      const { material, roll } = c.req.valid('json');
      rememberRoll(shop, material, roll);
      return c.json({});
    })
    .delete('/api/roll/:material/:name', sentAlong(forgottenRollSchema), (c) => {
      const { material, name } = c.req.param();
      forgetRoll(shop, material, name, c.req.valid('query').colour);
      return c.json({});
    });
}
