import { Hono } from 'hono';
import { orderSchema } from '../../handing/order.ts';
import { forgottenRollSchema, keptRollSchema } from '../api/roll.ts';
import { forgetRoll, rememberRoll } from '../workshop/stock-file.ts';
import type { Desk } from './desk.ts';
import { sent, sentAlong } from './sent.ts';

/**
 * Routes for sets, for orders before they are in any run, and for the rolls of the shop.
 */
export function shopRoutes({ shop, quick, told }: Desk) {
  return new Hono()
    .get('/api/shop', async (c) => c.json(told(await quick.run('shop', { shop }))))
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
