import { describe, expect, it } from 'vitest';
import type { Comparable, Item } from '../../../../src/compare/comparable.ts';
import { differencesOf } from '../../../../src/compare/differences.ts';
import { circle } from '../../../../src/geometry/paths/path.ts';
import { overlayPicture } from '../../../../src/papers/pictures/compare/overlay.ts';
import { rectangle } from '../../../knife/sample-parts.ts';
import { elementsIn, readMarkup, textOf } from '../../markup.ts';

function part(label: string, x: number, hole: number | null): Item {
  return {
    label,
    what: 'part',
    side: null,
    outline: rectangle(400, 300, x, 100),
    details: hole === null ? [] : [{ role: 'HOLE', path: circle({ x: x + hole, y: 250 }, 12) }],
    rank: null,
    words: {},
    sheet: 'loop',
  };
}

function picture(before: readonly Item[], after: readonly Item[]): string {
  const [old, young] = [before, after].map((items): Comparable => ({
    kind: 'run',
    items,
    words: {},
    texts: [],
  }));
  const differences = differencesOf(old!, young!, 0.01);
  return overlayPicture(
    {
      before: 'a',
      after: 'b',
      kind: 'run',
      tolerance: 0.01,
      sameBytes: false,
      sentence: 'One thing differs.',
      notes: [],
      differences,
    },
    old!,
    young!,
  );
}

const still = [part('stays', 0, 100), part('stays-too', 500, 100)];
const svg = picture([...still, part('drilled', 1000, 200)], [...still, part('drilled', 1000, 230)]);

function texts(markup: string): string[] {
  return elementsIn(readMarkup(markup))
    .filter(({ name }) => name === 'text')
    .map(textOf);
}

describe('the picture of a comparison', () => {
  it('has the first sentence, a key and a heading for the rank', () => {
    expect(texts(svg)).toEqual(
      expect.arrayContaining([
        'One thing differs.',
        'the same in both',
        'as it was, dashed',
        'as it is, solid',
        'number of the line below',
        'Shapes',
      ]),
    );
  });

  it('shows the whole feature enlarged, before and after, with no number over it', () => {
    expect(texts(svg)).toEqual(expect.arrayContaining(['before', 'after, over before']));
    const [, across] = /drilled, (\d+) mm across/.exec(texts(svg).join(' '))!;
    // The hole is 24 mm wide and was moved by 30 mm: 54 mm, and its surroundings.
    expect(Number(across)).toBeGreaterThan(54 * 1.2);
    const windows = [...svg.matchAll(/<svg width="43" height="43"[^]*?<\/svg>/g)].map(
      ([one]) => one,
    );
    expect(windows).toHaveLength(2);
    for (const one of windows) expect(one).not.toMatch(/<circle|<text/);
    expect(windows[0]).toContain('stroke-dasharray');
    expect(windows[0]).not.toContain('stroke-width="0.5" /');
  });

  it('puts numbers beside the places that they tell of, never on them', () => {
    const rings = [
      ...svg.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)" fill="(\S+)"/g),
    ];
    const open = rings
      .filter(([, , , , fill]) => fill === 'none')
      .map(([, x, y]) => [Number(x), Number(y)]);
    const filled = rings
      .filter(([, , , r, fill]) => fill === '#ffffff' && r === '2.5')
      .map(([, x, y]) => [Number(x), Number(y)]);
    expect(open).toHaveLength(1);
    expect(filled).toHaveLength(1);
    const off = Math.hypot(open[0]![0]! - filled[0]![0]!, open[0]![1]! - filled[0]![1]!);
    expect(off).toBeGreaterThanOrEqual(2.5 + 1);
  });

  it('shows everything where everything was moved', () => {
    const moved = still.map((item, i) => part(item.label!, 500 * i + 40, 100));
    const whole = picture(still, moved);
    expect(texts(whole).join(' ')).toContain(
      'loop: the whole lay is moved by 40 mm along the roll.',
    );
    expect(whole).toContain('stroke-dasharray="1.6 0.9"');
  });
});
