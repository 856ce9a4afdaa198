import { extname } from 'node:path';
import type { Hono } from 'hono';
import { z } from 'zod';
import type { ProofOfRun } from '../api/files.ts';
import type { Refused } from '../api/refused.ts';
import { paperPolicy } from '../access/guard.ts';
import { bodyOf } from './answers.ts';
import type { Desk } from './desk.ts';

const recutSchema = z.strictObject({
  labels: z.array(z.string()).min(1),
  remnant: z.string().nullable(),
});
const twoRunsSchema = z.strictObject({ before: z.string(), after: z.string() });

const pdf = 'application/pdf';
const unknownType = { type: 'application/octet-stream', shown: false };
const fileTypes: Readonly<Record<string, typeof unknownType>> = {
  '.html': { type: 'text/html; charset=utf-8', shown: true },
  '.pdf': { type: pdf, shown: true },
  '.svg': { type: 'image/svg+xml', shown: true },
  '.csv': { type: 'text/csv; charset=utf-8', shown: false },
  '.json': { type: 'application/json', shown: false },
};

/** Runs that are cut: their files as far as they are proven, rehearsals, recuts, comparisons. */
export function folderRoutes(app: Hono, { shop, threads, folders, told }: Desk): void {
  app.get('/api/out/:run', async (c) => c.json(told(await folders.folder(c.req.param('run')))));
  app.get('/api/out/:run/proof', async (c) => {
    const { proven, findings } = await folders.folder(c.req.param('run'));
    return c.json(told({ proven, findings } satisfies ProofOfRun));
  });
  app.get('/api/out/:run/rehearsal/:lay', async (c) => {
    const { run, lay } = c.req.param();
    return c.body(await folders.rehearsal(run, lay), 200, {
      'Content-Type': 'application/octet-stream',
    });
  });
  app.post('/api/out/:run/recut', async (c) => {
    const wish = await bodyOf(c, recutSchema);
    const run = c.req.param('run');
    return c.json(told(await threads.run<Refused>('recut', { shop, run, ...wish })));
  });
  app.post('/api/compare', async (c) => {
    const runs = await bodyOf(c, twoRunsSchema);
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
      // Browsers show a PDF in a page of their own making, which must have its way.
      ...(type === pdf ? { 'Content-Security-Policy': "frame-ancestors 'self'" } : {}),
    });
  });
}
