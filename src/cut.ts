import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import type { Job } from './job.ts';
import { readJob } from './job.ts';
import { knifePath } from './knife/knife-path.ts';
import { cuttingOrder } from './knife/order.ts';
import type { Lay } from './lay/lay.ts';
import { layName } from './lay/lay.ts';
import type { LayOptions } from './lay-materials.ts';
import { layMaterials } from './lay-materials.ts';
import { layPicture } from './papers/lay-picture.ts';
import type { MaterialFacts, RunFacts } from './papers/run-facts.ts';
import { counted, duration, metresUp } from './papers/words.ts';
import { runSheet } from './papers/sheet.ts';
import { materialOf } from './pattern/material.ts';
import { cutterDxf } from './program/cutter-dxf.ts';
import { prove } from './program/prove.ts';
import { runRecord, writeRunRecord } from './program/record.ts';
import { writeProgram } from './program/write.ts';
import { checkTarget, publish, runFolder } from './publish.ts';

export interface CutRequest extends LayOptions {
  readonly runFile: string;
  /** Folder of materials, cutters and layers. */
  readonly sharedFolder: string;
  /** The run folder to write. */
  readonly out: string;
  /** Instead of the run file's. */
  readonly cutter?: string;
  /** Write over an earlier run. */
  readonly force: boolean;
}

/**
 * The main job: reads a run, derives its parts, lays them, finds the knife's way, and writes the run
 * folder once the written files are proven. Throws a Refusal, with nothing left behind, where
 * anything stands in the way.
 */
export async function cut(request: CutRequest): Promise<RunFacts> {
  checkTarget(request.out, runFolder, request.force);
  const job = readJob(request.runFile, request.sharedFolder, request.cutter);
  const lays = await layMaterials(job, request);
  const materials = lays.map((lay) => materialFacts(job, lay));
  const { facts, files } = writeFiles(job, materials, request, basename(request.out));
  publish(request.out, files, prove);
  return facts;
}

function materialFacts({ cutter, materials, parts }: Job, lay: Lay): MaterialFacts {
  const material = materialOf(materials, lay.material);
  const laid = new Set(lay.placements.map(({ label }) => label));
  const own = parts.filter(({ label }) => laid.has(label));
  const order = cuttingOrder(lay, own, cutter);
  return {
    material,
    lay,
    parts: own,
    order,
    knife: knifePath(order, cutter, material.thickness),
    dyeLot: lay.roll.dyeLot ?? null,
  };
}

function writeFiles(
  { run, cutter, inputs, parts, findings }: Job,
  materials: readonly MaterialFacts[],
  { seed }: LayOptions,
  name: string,
): { facts: RunFacts; files: Map<string, string> } {
  const lays = materials.map(({ lay, material, order }) => ({
    lay,
    thickness: material.thickness,
    order,
    seed: seed ?? run.seed,
  }));
  const record = writeRunRecord(
    runRecord({ run: name, title: run.title, inputs, cutter, parts, lays }),
  );
  const fingerprint = createHash('sha256').update(record).digest('hex').slice(0, 12);
  const facts = {
    run: name,
    title: run.title,
    cutter,
    orders: run.orders,
    materials,
    findings,
    fingerprint,
  };
  const files = new Map([
    ['run.json', record],
    ['sheet.html', runSheet(facts)],
  ]);
  for (const one of materials) {
    for (const [ending, text] of materialFiles(one, facts))
      files.set(`${layName(one.lay)}.${ending}`, text);
  }
  return { facts, files };
}

function materialFiles(one: MaterialFacts, facts: RunFacts): [string, string][] {
  const { lay, parts, order, knife } = one;
  const { cutter } = facts;
  const header = {
    run: `${facts.run} ${facts.fingerprint}`,
    material: layName(lay),
    lines: headerLines(one),
  };
  return [
    ['dxf', cutterDxf(lay, parts, cutter, order)],
    ['nc', writeProgram(knife, cutter, header, 'cut')],
    ['dry.nc', writeProgram(knife, cutter, header, 'dry')],
    ['svg', layPicture(lay, parts)],
  ];
}

/** What the operator reads at the top of a program. */
function headerLines({ lay, parts, knife }: MaterialFacts): string[] {
  return [
    `Roll ${lay.roll.width} mm wide, ${metresUp(lay.length)} needed, pile up and leaning towards X plus`,
    `${counted(parts.length, 'part')} in ${counted(knife.bites, 'bite')}, ${(knife.cutLength / 1000).toFixed(1)} m to cut, about ${duration(knife.minutes)}`,
  ];
}
