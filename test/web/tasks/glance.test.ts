import { describe, expect, it } from 'vitest';
import { glance } from '../../../src/web/tasks/glance.ts';
import { layTable } from '../../../src/web/tasks/lay-table.ts';
import { cutRun } from '../../../src/web/tasks/cut.ts';
import { shopForEach } from '../in-shop.ts';

const inShop = shopForEach();
const run = 'wren-week';

/** Twice the area within corners that lie in one list, by the shoelace formula. */
function twiceArea(corners: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < corners.length; i += 2) {
    const j = (i + 2) % corners.length;
    sum += corners[i]! * corners[j + 1]! - corners[j]! * corners[i + 1]!;
  }
  return Math.abs(sum);
}

describe('what is seen of a run from afar', () => {
  it('is nothing but its parts where nothing is laid', () => {
    const { shop } = inShop();
    const { parts } = layTable({ shop, run });
    expect(glance({ shop, run })).toEqual({ picture: null, unlaid: parts.length, changes: [] });
  });

  it('is nothing where the run is refused or is not there', () => {
    const { shop } = inShop();
    expect(glance({ shop, run: 'nobody' }).unlaid).toBeNull();
  });

  it('is its longest lay once it is cut, each part about as large as it is', async () => {
    const { shop } = inShop();
    const { signal } = new AbortController();
    await cutRun({ shop, run, made: null }, { progress: () => {}, signal });
    const { picture, changes } = glance({ shop, run });
    expect(changes).toEqual([]);
    const { parts, rolls } = layTable({ shop, run });
    const own = parts.filter(({ material }) => material === 'loop');
    expect(picture!.parts).toHaveLength(own.length);
    expect(picture!.width).toBe(rolls.find(({ material }) => material === 'loop')!.width);
    expect(new Set(picture!.parts.map(({ order }) => order)).size).toBe(
      new Set(own.map(({ order }) => order)).size,
    );
    // From mm to cm; corners are rounded to whole ones.
    const seen = picture!.parts.reduce((sum, { corners }) => sum + twiceArea(corners), 0);
    const real = own.reduce((sum, { ring }) => sum + twiceArea(ring) / 100, 0);
    expect(seen / real).toBeGreaterThan(0.95);
    expect(seen / real).toBeLessThan(1.05);
    for (const { corners } of picture!.parts) {
      expect(Math.min(...corners)).toBeGreaterThanOrEqual(0);
      expect(Math.max(...corners)).toBeLessThanOrEqual(Math.max(picture!.length, 2000) / 10 + 1);
    }
  });
});
