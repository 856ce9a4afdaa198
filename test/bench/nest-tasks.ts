import { join } from 'node:path';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { clothToLay } from '../../src/jobs/lay-materials.ts';
import { densityOf, engineInstance, readInstance } from '../../src/jobs/nest.ts';
import type { Instance } from '../../src/lay/engine/engine.ts';
import { kindsOf } from '../../src/lay/kinds.ts';
import { usableWidth } from '../../src/lay/lay.ts';
import { clothOf } from '../../src/pattern/shop/cloth.ts';
import { materialOf } from '../../src/pattern/shop/material.ts';
import { readJob } from '../../src/run/job.ts';

/** What a bench lays, and its density by the length of the layout, %. */
interface NestTask {
  readonly instance: Instance;
  readonly density: (length: number) => number;
}

/** A published instance from the folder `data`, or `carpet`: that of the demo's order in graphite. */
export function taskOf(data: string, name: string): NestTask {
  if (name === 'carpet') {
    const { instance, area } = demoCarpet();
    return { instance, density: (length) => (100 * area) / (length * instance.width) };
  }
  const published = readInstance(join(data, `${name}.json`));
  return {
    instance: engineInstance(published),
    density: (length) => 100 * densityOf(published, length),
  };
}

/** The graphite carpet of the demo's week, as the engine takes it, and the area of its parts, mm2. */
function demoCarpet(): { instance: Instance; area: number } {
  const root = join(import.meta.dirname, '../..');
  const job = readJob(join(root, 'patterns/fenlark-week.yaml'), join(root, 'shared'));
  const cloth = clothOf({ colour: 'graphite' }, materialOf(job.materials, 'carpet-loop'));
  const { parts, rolls, rules } = clothToLay(job, cloth);
  const width = usableWidth(rolls[0]!.roll);
  const kinds = kindsOf(parts, rules, width).map(({ shape }) => shape);
  const area = parts.reduce(
    (sum, { cut, inner }) =>
      sum + areaOf(cut) - inner.reduce((own, { path }) => own + areaOf(path), 0),
    0,
  );
  return { instance: { width, kinds, slack: 2e-6 }, area };
}
