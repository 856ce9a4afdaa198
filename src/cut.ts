import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import type { Job } from './job.ts';
import { readJob } from './job.ts';
import type { KnifePath } from './knife/moves.ts';
import type { CuttingPlan } from './knife/plan.ts';
import { planCutting } from './knife/plan.ts';
import { wasteFindings } from './knife/waste.ts';
import type { Lay } from './lay/lay.ts';
import { layName } from './lay/lay.ts';
import type { LayOptions } from './lay-materials.ts';
import { layMaterials } from './lay-materials.ts';
import { layPicture, rowsOf } from './papers/lay-picture.ts';
import type { MaterialFacts, RunFacts } from './papers/run-facts.ts';
import { counted, duration, metresUp } from './papers/words.ts';
import { runSheet } from './papers/sheet.ts';
import type { Material } from './pattern/material.ts';
import { materialOf } from './pattern/material.ts';
import { cutterFiles } from './program/cutter-files.ts';
import { prove } from './program/prove.ts';
import { runRecord, writeRunRecord } from './program/record.ts';
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
  const planned = lays.map((lay) => planMaterial(job, lay));
  const { facts, files } = writeFiles(job, planned, request, basename(request.out));
  publish(request.out, files, prove);
  return facts;
}

/** A lay as it was laid, and how it is cut. */
interface PlannedMaterial {
  readonly laid: Lay;
  readonly material: Material;
  readonly plan: CuttingPlan;
}

function planMaterial({ cutter, materials, parts }: Job, laid: Lay): PlannedMaterial {
  const material = materialOf(materials, laid.material);
  const labels = new Set(laid.placements.map(({ label }) => label));
  const own = parts.filter(({ label }) => labels.has(label));
  return { laid, material, plan: planCutting(laid, own, cutter, material.thickness) };
}

function materialFacts({ laid, material, plan }: PlannedMaterial): MaterialFacts {
  const { lay, parts, bites, path: knife } = plan;
  return { material, lay, parts, bites, knife, dyeLot: laid.roll.dyeLot ?? null };
}

function writeFiles(
  { run, cutter, inputs, parts, findings }: Job,
  planned: readonly PlannedMaterial[],
  { seed }: LayOptions,
  name: string,
): { facts: RunFacts; files: Map<string, string | Iterable<string>> } {
  const lays = planned.map(({ laid, material, plan }) => ({
    lay: laid,
    thickness: material.thickness,
    bites: plan.bites,
    seed: seed ?? run.seed,
  }));
  const waste = planned.flatMap(({ laid, plan }) => wasteFindings(plan.bites, layName(laid)));
  const record = writeRunRecord(
    runRecord({ run: name, title: run.title, inputs, cutter, parts, lays }),
  );
  const fingerprint = createHash('sha256').update(record).digest('hex').slice(0, 12);
  const facts = {
    run: name,
    title: run.title,
    cutter,
    orders: run.orders,
    materials: planned.map(materialFacts),
    findings: [...findings, ...waste],
    fingerprint,
  };
  const files = new Map<string, string | Iterable<string>>([
    ['run.json', record],
    ['sheet.html', runSheet(facts)],
  ]);
  for (const [i, one] of facts.materials.entries()) {
    const { plan } = planned[i]!;
    const header = {
      run: `${facts.run} ${facts.fingerprint}`,
      material: layName(one.lay),
      thickness: one.material.thickness,
      lines: (way: KnifePath) => sizeLines(one, way),
    };
    for (const [file, text] of cutterFiles(plan, cutter, header)) files.set(file, text);
    const { lay, parts: laid, bites } = plan;
    files.set(`${layName(lay)}.svg`, layPicture(lay, laid, rowsOf(lay, laid, bites)));
  }
  return { facts, files };
}

/** Sizes, counts and times for the top of a program. */
function sizeLines({ lay, parts }: MaterialFacts, way: KnifePath): string[] {
  const metres = (length: number): string => `${(length / 1000).toFixed(1)} m`;
  return [
    `Roll ${lay.roll.width} mm wide, ${metresUp(lay.length)} needed, pile leaning towards X plus`,
    `Lay of ${counted(parts.length, 'part')}, here ${counted(way.bites, 'bite')}, ${metres(way.cutLength)} to cut, ${metres(way.travelLength)} between, about ${duration(way.minutes)}`,
  ];
}
