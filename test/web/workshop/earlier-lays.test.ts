import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Pin } from '../../../src/run/run-file.ts';
import type { PicturedLay } from '../../../src/web/api/pictured.ts';
import {
  earlierLays,
  keepEarlierLays,
  withEarlierLay,
} from '../../../src/web/workshop/earlier-lays.ts';
import { withLays } from '../../../src/web/workshop/lays-in-run.ts';
import { openRunFile, saveRunFile } from '../../../src/web/workshop/run-file.ts';
import { runHistoryIn } from '../../../src/web/workshop/run-history.ts';
import { shopForEach } from '../in-shop.ts';

const run = 'wren-week';
const labels = new Set(['floor.1.A1']);
const inShop = shopForEach();

function layOf(material: string, x: number): PicturedLay {
  return {
    material,
    colour: null,
    roll: null,
    placements: [{ label: `floor.1.A1`, x, y: 900, rotation: 90 }],
    pinned: [],
    length: x + 500,
    density: 0.5,
    bites: [],
  };
}

/** Saves lays as a search does, at a minute of the day. */
function found(minute: number, ...lays: PicturedLay[]): void {
  const { content, version } = openRunFile(inShop().shop, run);
  const laid = withLays(content, lays);
  saveRunFile(inShop().shop, run, laid, version);
  keepEarlierLays(inShop().shop, run, laid, lays, new Date(Date.UTC(2030, 0, 1, 8, minute)));
}

const placeNow = (): number | undefined =>
  [openRunFile(inShop().shop, run).content.rolls['loop']!].flat()[0]!.laid[0]?.at[0];

describe('lays that searches have left', () => {
  it('are listed, the newest first, and each can be put back', () => {
    for (const [i, x] of [900, 800, 700].entries()) found(i, layOf('loop', x));
    expect(
      earlierLays(inShop().shop, run).map(({ at, length, parts }) => [at, length, parts]),
    ).toEqual([
      ['2030-01-01T08:02:00.000Z', 1200, 1],
      ['2030-01-01T08:01:00.000Z', 1300, 1],
      ['2030-01-01T08:00:00.000Z', 1400, 1],
    ]);
    for (const [i, x] of [700, 800, 900].entries()) {
      const { content, version } = openRunFile(inShop().shop, run);
      const { id } = earlierLays(inShop().shop, run)[i]!;
      saveRunFile(
        inShop().shop,
        run,
        withEarlierLay(inShop().shop, run, content, id, labels),
        version,
      );
      expect(placeNow()).toBe(x);
    }
  });

  it('are ten of each cloth', () => {
    for (let i = 0; i < 13; i++) found(i, layOf('loop', 500 + i));
    found(20, layOf('board', 300));
    const lays = earlierLays(inShop().shop, run);
    expect(lays.filter(({ material }) => material === 'loop')).toHaveLength(10);
    expect(lays.filter(({ material }) => material === 'board')).toHaveLength(1);
    // The oldest are gone.
    expect(lays.at(-1)!.length).toBe(500 + 3 + 500);
  });

  it('are kept once where a search found nothing better', () => {
    found(0, layOf('loop', 900));
    found(1, layOf('loop', 900));
    expect(earlierLays(inShop().shop, run)).toHaveLength(1);
  });

  it('come back with what was pinned then', () => {
    found(0, layOf('loop', 900));
    const { content, version } = openRunFile(inShop().shop, run);
    const [roll] = [content.rolls['loop']!].flat();
    const pin: Pin = { part: 'floor.1.A1', at: [50, 60], rotation: 90 };
    const loop = { ...roll!, laid: [], pins: [pin] };
    saveRunFile(inShop().shop, run, { ...content, rolls: { ...content.rolls, loop } }, version);
    const back = withEarlierLay(
      inShop().shop,
      run,
      openRunFile(inShop().shop, run).content,
      earlierLays(inShop().shop, run)[0]!.id,
      labels,
    );
    expect([back.rolls['loop']!].flat()[0]).toMatchObject({ pins: [], laid: [{ at: [900, 900] }] });
  });

  it('come back without parts that the run has no more', () => {
    found(0, layOf('loop', 900));
    const { content } = openRunFile(inShop().shop, run);
    const { id } = earlierLays(inShop().shop, run)[0]!;
    const back = withEarlierLay(inShop().shop, run, content, id, new Set(['floor.1.B7']));
    expect([back.rolls['loop']!].flat()[0]!.laid).toEqual([]);
  });

  it('that are not kept are refused; a file that is none of ours has none', () => {
    const { content } = openRunFile(inShop().shop, run);
    expect(() => withEarlierLay(inShop().shop, run, content, 'x', labels)).toThrow(
      'not kept any more',
    );
    mkdirSync(runHistoryIn(inShop().shop, run), { recursive: true });
    for (const text of ['{', '{"a":1}', '']) {
      writeFileSync(join(runHistoryIn(inShop().shop, run), 'lays.json'), text);
      expect(earlierLays(inShop().shop, run)).toEqual([]);
    }
  });
});
