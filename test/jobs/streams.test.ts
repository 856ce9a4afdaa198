import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';
import { layMaterials } from '../../src/jobs/lay-materials.ts';
import { readJob } from '../../src/run/job.ts';

const root = resolve(import.meta.dirname, '../..');

it('a run is laid in as many streams as asked for', async () => {
  const job = readJob(join(root, 'patterns/fenlark-week.yaml'), join(root, 'shared'));
  // Five parts that more searches lay shorter.
  const cut = job.cloths.filter(({ material }) => material.name === 'carpet-cut');
  const lengths = async (streams?: number): Promise<number[]> => {
    const how = streams === undefined ? {} : { streams };
    const lays = await layMaterials({ ...job, cloths: cut }, { limit: { rounds: 60 }, ...how });
    return lays.map(({ length }) => length);
  };
  const usual = await lengths();
  expect(await lengths(2)).toEqual(usual);
  const [[one], [eight]] = [await lengths(1), await lengths(8)];
  expect(eight).toBeLessThan(one!);
});
