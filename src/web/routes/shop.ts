import { Hono } from 'hono';
import { orderSchema } from '../../handing/order.ts';
import { forgottenRollSchema, keptRollSchema } from '../api/roll.ts';
import { archiveWishSchema, gatherWishSchema } from '../api/runs.ts';
import { putAway } from '../workshop/archive.ts';
import { gatherOrders } from '../workshop/gather.ts';
import { openRunFile } from '../workshop/run-file.ts';
import { forgetRoll, rememberRoll } from '../workshop/stock-file.ts';
import type { Desk } from './desk.ts';
import { sent, sentAlong } from './sent.ts';

/**
 * Routes for sets, for orders before they are in any run, and for the rolls of the shop.
 */
export function shopRoutes({ shop, quick, glances, events, told }: Desk) {
  return new Hono()
    .get('/api/shop', async (c) => c.json(told(await quick.run('shop', { shop }))))
    .get('/api/glance/:run', async (c) => c.json(await glances.of(c.req.param('run'))))
    .put('/api/archive/:run', sent(archiveWishSchema), (c) => {
      putAway(shop, c.req.param('run'), c.req.valid('json').away);
      return c.json({});
    })
    .post('/api/gather', sent(gatherWishSchema), (c) => {
      const wish = c.req.valid('json');
      const gathered = gatherOrders(shop, wish);
      for (const { run } of wish.orders) {
        events.tell(run, { kind: 'saved', version: openRunFile(shop, run).version });
      }
      return c.json(gathered);
    })
    .get('/api/set/:set/check', async (c) =>
      c.json(await quick.run('check', { shop, set: c.req.param('set') })),
    )
    .post('/api/plan', sent(orderSchema), async (c) =>
      c.json(told(await quick.run('plan', { shop, order: c.req.valid('json') }))),
    )
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
