import { extname } from 'node:path';
import { Hono } from 'hono';
import { refuse } from '../../base/findings.ts';
import { cutShort } from '../../base/wording.ts';
import { paperPolicy } from '../access/guard.ts';
import type { ProofOfRun, RunFolder } from '../api/files.ts';
import { recutWishSchema, restWishSchema } from '../api/files.ts';
import { printWishSchema } from '../api/papers.ts';
import { beginCuttingSchema, stepWishSchema } from '../api/cutting.ts';
import { comparedRunsSchema } from '../api/runs.ts';
import { openMarks } from '../under-way/marks.ts';
import { rememberRest } from '../workshop/stock-file.ts';
import type { Desk } from './desk.ts';
import { sent, sentAlong } from './sent.ts';

const pdf = 'application/pdf';
/** A browser shows a PDF in a page of its own making, which a stricter policy would keep from working. */
const pdfPolicy = { 'Content-Security-Policy': "frame-ancestors 'self'" };
const unknownType = { type: 'application/octet-stream', shown: false };
const fileTypes: Readonly<Record<string, typeof unknownType>> = {
  '.html': { type: 'text/html; charset=utf-8', shown: true },
  '.pdf': { type: pdf, shown: true },
  '.svg': { type: 'image/svg+xml', shown: true },
  '.csv': { type: 'text/csv; charset=utf-8', shown: false },
  '.json': { type: 'application/json', shown: false },
};

/**
 * Routes for runs that are cut: their files as far as they are proven, rehearsals, recuts and
 * comparisons.
 */
export function folderRoutes({ shop, threads, folders, events, told }: Desk) {
  const marks = openMarks(shop, folders, events);
  return (
    new Hono()
      .get('/api/out/:run', async (c) => c.json(told(await folders.folder(c.req.param('run')))))
      .get('/api/out/:run/proof', async (c) => {
        const { proven, findings, changes, fingerprint } = await folders.folder(c.req.param('run'));
        return c.json(
          told({ proven, findings, changes, fingerprint } satisfies ProofOfRun &
            Pick<RunFolder, 'changes' | 'fingerprint'>),
        );
      })
      .get('/api/out/:run/rehearsal/:lay', async (c) => {
        const { run, lay } = c.req.param();
        return c.body(await folders.rehearsal(run, lay), 200, {
          'Content-Type': 'application/octet-stream',
        });
      })
      .get('/api/out/:run/marks', async (c) => c.json(told(await marks.read(c.req.param('run')))))
      .post('/api/out/:run/tick', sent(stepWishSchema), async (c) => {
        await marks.tick(c.req.param('run'), c.req.valid('json'));
        return c.json({});
      })
      .post('/api/out/:run/untick', sent(stepWishSchema), async (c) => {
        await marks.untick(c.req.param('run'), c.req.valid('json'));
        return c.json({});
      })
      .post('/api/out/:run/begin', sent(beginCuttingSchema), async (c) => {
        await marks.begin(c.req.param('run'), c.req.valid('json').files);
        return c.json({});
      })
      .get('/api/out/:run/papers', async (c) => c.json(await folders.papers(c.req.param('run'))))
      .post('/api/out/:run/recut', sent(recutWishSchema), async (c) => {
        const run = c.req.param('run');
        return c.json(told(await threads.run('recut', { shop, run, ...c.req.valid('json') })));
      })
      .post('/api/out/:run/rest', sent(restWishSchema), async (c) => {
        const { material, colour, name } = c.req.valid('json');
        const { proven, rests } = await folders.folder(c.req.param('run'));
        const rest = rests.find(
          (one) =>
            one.material === material &&
            one.roll.name === name &&
            one.roll.colour === (colour ?? undefined),
        );
        if (rest === undefined || !proven) {
          return refuse(
            'roll-name',
            `nothing is left of "${cutShort(name, 40)}".`,
            'Open the run again.',
          );
        }
        return c.json({ said: rememberRest(shop, rest) });
      })
      .post('/api/compare', sent(comparedRunsSchema), async (c) =>
        c.json(await threads.run('compare', { shop, ...c.req.valid('json') })),
      )
      .use('/files/*', paperPolicy)
      .get('/files/:run', async (c) => {
        const run = c.req.param('run');
        return c.body(await folders.zip(run), 200, {
          'Content-Type': 'application/zip',
          'Content-Disposition': `attachment; filename="${run}.zip"`,
        });
      })
      // Every file of a run has an ending, so none of them is called so.
      .get('/files/:run/print', sentAlong(printWishSchema), async (c) => {
        const run = c.req.param('run');
        const { key: _, ...wish } = c.req.valid('query');
        return c.body(await folders.print(run, wish), 200, {
          'Content-Type': pdf,
          'Content-Disposition': `inline; filename="${run}-papers.pdf"`,
          ...pdfPolicy,
        });
      })
      .get('/files/:run/:file', async (c) => {
        const { file, bytes } = await folders.file(c.req.param('run'), c.req.param('file'));
        const { type, shown } = fileTypes[extname(file.name)] ?? unknownType;
        return c.body(bytes, 200, {
          'Content-Type': type,
          'Content-Disposition': `${shown ? 'inline' : 'attachment'}; filename="${file.name}"`,
          ...(type === pdf ? pdfPolicy : {}),
        });
      })
  );
}
