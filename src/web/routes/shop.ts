import type { Hono } from 'hono';
import { z } from 'zod';
import { orderSchema } from '../../handing/order.ts';
import { rollSchema } from '../../run/run-file.ts';
import type { Plan } from '../api/orders.ts';
import type { SetFromDrawing } from '../api/sets.ts';
import type { Shop } from '../api/shop.ts';
import { forgetRoll, rememberRoll } from '../workshop/stock-file.ts';
import { bodyOf, fitting } from './answers.ts';
import type { Desk } from './desk.ts';

const keptRollSchema = z.strictObject({ material: z.string(), roll: rollSchema });
const unitsSchema = z.enum(['mm', 'cm', 'm', 'in']).nullable();

/** Sets, orders before they are in any run, drawings, and the rolls of the shop. */
export function shopRoutes(app: Hono, { shop, threads, quick, told }: Desk): void {
  app.get('/api/shop', async (c) => c.json(told(await quick.run<Shop>('shop', { shop }))));
  app.get('/api/set/:set/check', async (c) =>
    c.json(await quick.run('check', { shop, set: c.req.param('set') })),
  );
  app.post('/api/plan', async (c) => {
    const order = await bodyOf(c, orderSchema);
    return c.json(told(await quick.run<Plan>('plan', { shop, order })));
  });
  app.post('/api/drawing/:set', async (c) => {
    const drawing = new Uint8Array(await c.req.arrayBuffer());
    const units = fitting(unitsSchema, c.req.query('units') ?? null);
    const set = c.req.param('set');
    return c.json(told(await threads.run<SetFromDrawing>('import', { shop, set, drawing, units })));
  });

  app.put('/api/roll', async (c) => {
    const { material, roll } = await bodyOf(c, keptRollSchema);
    rememberRoll(shop, material, roll);
    return c.json({});
  });
  app.delete('/api/roll/:material/:name', (c) => {
    forgetRoll(shop, c.req.param('material'), c.req.param('name'));
    return c.json({});
  });
}
