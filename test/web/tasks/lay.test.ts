import { beforeAll, afterAll, describe, expect, it } from 'vitest';
import { jobOf } from '../../../src/web/tasks/cached-job.ts';
import type { KeptLays, LaidAnew } from '../../../src/web/tasks/lay.ts';
import { lay } from '../../../src/web/tasks/lay.ts';
import { layTable } from '../../../src/web/tasks/lay-table.ts';
import type { RunContent } from '../../../src/run/run-file.ts';
import type { RunEvent } from '../../../src/web/api/events.ts';
import { withLays } from '../../../src/web/workshop/lays-in-run.ts';
import { openRunFile, saveRunFile } from '../../../src/web/workshop/run-file.ts';
import type { Workshop } from '../../../src/web/workshop/workshop.ts';
import { workshopIn } from '../../../src/web/workshop/workshop.ts';
import { openWorkshop, wren } from '../../support/wren.ts';

const run = 'wren-week';
let shop: Workshop;
let close = (): void => {};
let length = 0;

/** Changes the run file. */
function change(changed: (content: RunContent) => RunContent): void {
  const { content, version } = openRunFile(shop, run);
  saveRunFile(shop, run, changed(content), version);
}

/** A search that ends with its first lays, or of some seconds; saved as the server does. */
async function searched(seconds = 0): Promise<LaidAnew & { news: (RunEvent | KeptLays)[] }> {
  const news: (RunEvent | KeptLays)[] = [];
  const { signal } = new AbortController();
  const found = await lay(
    { shop, run, asked: Date.now(), seconds },
    { progress: (one) => news.push(one), signal },
  );
  change((content) => withLays(content, found.lays));
  return { ...found, news };
}

/** Labels that lie on the loop carpet, by what the view Lay shows. */
function onLoop(): string[] {
  return layTable({ shop, run })
    .lays.filter(({ material }) => material === 'loop')
    .flatMap(({ placements }) => placements.map(({ label }) => label))
    .sort();
}

beforeAll(async () => {
  const opened = openWorkshop(wren);
  close = opened.close;
  shop = workshopIn(opened.root);
  const { lays } = await searched();
  length = lays.find(({ material }) => material === 'loop')!.length;
});
afterAll(() => close());

describe('a search for the lays of a run', () => {
  it('loses nothing that lies where one more order does not fit on the roll', async () => {
    const before = onLoop();
    expect(before).toHaveLength(
      jobOf(shop, run).parts.filter(({ material }) => material === 'loop').length,
    );
    change((content) => ({
      ...content,
      orders: [...content.orders, { ...content.orders[1]!, order: 'A3' }],
      rolls: {
        ...content.rolls,
        loop: { ...[content.rolls['loop']!].flat()[0]!, length: Math.ceil(length) + 5 },
      },
    }));
    const { findings, news } = await searched();
    expect(findings.map(({ rule, message }) => [rule, message.split(':')[0]])).toEqual([
      ['no-room', 'order A3 does not fit on loop'],
    ]);
    expect(onLoop()).toEqual(before);
    // It was told while the search went on, too.
    const told = news.flatMap((one) => (one.kind === 'search' ? one.unfit : []));
    expect(told[0]).toContain('order A3 does not fit on loop: about ');
    // All that was kept on the way had no less.
    const kept = news.flatMap((one) => (one.kind === 'keep' ? one.lays : []));
    for (const one of kept.filter(({ material }) => material === 'loop')) {
      expect(one.placements.length).toBeGreaterThanOrEqual(before.length);
    }
  });

  it('loses nothing either where it is stopped before anything is found', async () => {
    const before = onLoop();
    const stop = new AbortController();
    stop.abort();
    const { lays } = await lay(
      { shop, run, asked: Date.now(), seconds: 60 },
      { progress: () => {}, signal: stop.signal },
    );
    change((content) => withLays(content, lays));
    expect(onLoop()).toEqual(before);
  });

  it('keeps what lies on a roll that got too short, as far as it still lies on it', async () => {
    const half = length / 2;
    const loop = layTable({ shop, run }).lays.find(({ material }) => material === 'loop')!;
    change((content) => ({
      ...content,
      rolls: { ...content.rolls, loop: { ...[content.rolls['loop']!].flat()[0]!, length: half } },
    }));
    const { findings, lays } = await searched();
    const rules = findings.map(({ rule }) => rule);
    expect(rules).toContain('no-room');
    // Why the lay is another one is said.
    expect(rules).toContain('laid-anew');
    const now = lays.find(({ material }) => material === 'loop')!;
    expect(now.length).toBeLessThanOrEqual(half + 1e-6);
    expect(now.placements.length).toBeGreaterThan(0);
    expect(now.placements.length).toBeLessThan(loop.placements.length);
  });
});
