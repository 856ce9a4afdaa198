import type { Finding } from '../base/findings.ts';
import type { Part } from '../handing/part.ts';
import type { Cutter } from '../knife/cutter.ts';
import type { CuttingPlan } from '../knife/plan.ts';
import { planCutting } from '../knife/plan.ts';
import { wasteFindings } from '../knife/waste.ts';
import type { Lay } from '../lay/lay.ts';
import { layName } from '../lay/lay.ts';
import { layPicture, rowsOf } from '../papers/pictures/lay/lay-picture.ts';
import type { MaterialFacts } from '../papers/facts/run-facts.ts';
import { clothOf } from '../pattern/shop/cloth.ts';
import type { Bench } from '../pattern/shop/bench.ts';
import type { LabelStock } from '../pattern/shop/label-stock.ts';
import type { Material, Materials } from '../pattern/shop/material.ts';
import { materialOf } from '../pattern/shop/material.ts';
import { cutterFiles } from '../program/writing/cutter-files.ts';
import { fingerprintOf } from '../program/record/fingerprint.ts';
import type { SaidOfPart } from '../program/record/part-record.ts';
import { runRecord, writeRunRecord } from '../program/record/record.ts';
import type { OrderRecord, RecutRecord, RunRecord } from '../program/record/run-record.ts';
import type { FileContent } from '../publishing/publish.ts';

/** A run whose parts are laid. Nothing is planned or written yet. */
export interface LaidRun {
  /** The name of its run folder. */
  readonly name: string;
  readonly title: string;
  readonly inputs: RunRecord['inputs'];
  readonly cutter: Cutter;
  readonly materials: Materials;
  readonly orders: readonly OrderRecord[];
  readonly inches: boolean;
  readonly labelStock: LabelStock;
  readonly bench?: Bench;
  readonly parts: readonly Part[];
  /** What is said of each part for the bench, by its label. */
  readonly said: ReadonlyMap<string, SaidOfPart>;
  readonly lays: readonly Lay[];
  readonly seed: number;
  /** The run whose parts are cut again. null: this is no recut. */
  readonly recutOf: RecutRecord | null;
}

/** The files that the machine needs, and the facts that papers show. */
export interface MachineFiles {
  readonly files: Map<string, FileContent>;
  readonly materials: readonly MaterialFacts[];
  /** What was found while planning. */
  readonly findings: readonly Finding[];
  /** First twelve hex digits of the SHA-256 of run.json. */
  readonly fingerprint: string;
}

/** A lay as it was laid, and the plan by which it is cut. */
interface PlannedLay {
  readonly laid: Lay;
  readonly material: Material;
  readonly plan: CuttingPlan;
}

/** Called before each of several things is made; what it throws ends the work. */
export type BeforeEach = (name: string, number: number, of: number) => Promise<void>;

/**
 * Plans the cutting of each lay and makes run.json, drawings, programs and pictures. `before`: called with
 * the name of each lay that is planned. Throws a Refusal.
 */
export async function machineFiles(
  run: LaidRun,
  before: BeforeEach = async () => {},
): Promise<MachineFiles> {
  const planned: PlannedLay[] = [];
  for (const [i, lay] of run.lays.entries()) {
    await before(layName(lay), i + 1, run.lays.length);
    planned.push(planLay(run, lay));
  }
  const record = writeRunRecord(recordOf(run, planned));
  const fingerprint = fingerprintOf(record);
  const files = new Map<string, FileContent>([['run.json', record]]);
  const materials = planned.map(materialFacts);
  for (const [i, one] of materials.entries()) {
    const { plan } = planned[i]!;
    const header = {
      run: `${run.name} ${fingerprint}${run.recutOf === null ? '' : `, recut of ${run.recutOf.run}`}`,
      material: layName(one.lay),
      thickness: one.material.thickness,
      of: one.material,
    };
    for (const [file, text] of cutterFiles(plan, run.cutter, header)) files.set(file, text);
    const { lay, parts, bites } = plan;
    const rows = rowsOf(lay, parts, bites);
    const cloth = clothOf(lay.roll, one.material);
    files.set(`${layName(lay)}.svg`, layPicture(lay, parts, rows, cloth));
  }
  const findings = planned.flatMap(({ laid, plan }) => wasteFindings(plan.bites, layName(laid)));
  return { files, materials, findings, fingerprint };
}

function planLay({ cutter, materials, parts }: LaidRun, laid: Lay): PlannedLay {
  const material = materialOf(materials, laid.material);
  const labels = new Set(laid.placements.map(({ label }) => label));
  const own = parts.filter(({ label }) => labels.has(label));
  return { laid, material, plan: planCutting(laid, own, cutter, material.thickness) };
}

function recordOf(run: LaidRun, planned: readonly PlannedLay[]): RunRecord {
  const lays = planned.map(({ laid, material, plan }) => ({
    lay: laid,
    thickness: material.thickness,
    bites: plan.bites,
    seed: run.seed,
  }));
  const { name, title, inputs, cutter, parts, orders, inches, labelStock, bench } = run;
  return runRecord({
    run: name,
    title,
    inputs,
    cutter,
    parts,
    lays,
    materials: [...run.materials.values()],
    orders,
    inches,
    labelStock,
    ...(bench === undefined ? {} : { bench }),
    said: run.said,
    recutOf: run.recutOf,
  });
}

function materialFacts({ laid, material, plan }: PlannedLay): MaterialFacts {
  const { lay, parts, bites, path: knife, single } = plan;
  return { material, lay, parts, bites, knife, single, dyeLot: laid.roll.dyeLot ?? null };
}
