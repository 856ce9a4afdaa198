import { basename } from 'node:path';
import { withoutIdleNotes } from '../base/findings.ts';
import { readJob } from '../run/job.ts';
import type { Job } from '../run/job.ts';
import type { Lay } from '../lay/lay.ts';
import { checkFileNames } from './file-names.ts';
import type { LayOptions } from './lay-materials.ts';
import { layMaterials } from './lay-materials.ts';
import { titleOf } from '../pattern/choice.ts';
import { ratesOf, worksOf } from '../pattern/shop/bench.ts';
import { nextSteps } from '../papers/facts/next-steps.ts';
import type { OrderFacts, RunFacts } from '../papers/facts/run-facts.ts';
import { ordersFacts } from '../papers/facts/run-facts.ts';
import { lengthWords } from '../base/wording.ts';
import { shapeWords } from '../papers/facts/order-words.ts';
import type { SaidOfPart } from '../program/record/part-record.ts';
import type { OrderRecord } from '../program/record/run-record.ts';
import { beginPublication } from '../publishing/publish.ts';
import type { Target } from '../publishing/target.ts';
import { claimTarget, runFolder } from '../publishing/target.ts';
import type { CutProgress } from './cut-progress.ts';
import { beginPhase, progressAt } from './cut-progress.ts';
import { ordersOfSeveralLots } from './dye-lots.ts';
import { refuseOtherRun } from './other-run.ts';
import { folderFindings } from './prove.ts';
import { proveBeside } from './prove-beside.ts';
import { machineFiles } from './run-files.ts';
import type { LaidRun, MachineFiles } from './run-files.ts';
import { toldOfSearch } from './told-of-search.ts';

export interface CutRequest extends LayOptions {
  readonly runFile: string;
  /** The folder of materials, cutters and layers. */
  readonly sharedFolder: string;
  /** The run folder to write. */
  readonly out: string;
  /** The name of a cutter. Left out: the run file names it. */
  readonly cutter?: string;
  /** Whether an earlier run in the folder may be written over. */
  readonly force: boolean;
  /** Told how far the work is, many times. */
  readonly told?: (progress: CutProgress) => void;
}

/**
 * The main command: reads a run file, derives its parts, lays them, plans the way of the knife, and
 * writes the run folder once the written files are proven. If anything stands in the way, or it is stopped,
 * it throws a Refusal and leaves nothing behind.
 */
export async function cut(request: CutRequest): Promise<RunFacts> {
  if (request.force) {
    const own = basename(request.runFile);
    refuseOtherRun(request.out, ({ recutOf, inputs }) =>
      recutOf === null ? inputs.some(({ file }) => file === own) : false,
    );
  }
  const target = claimTarget(request.out, runFolder, request.force);
  try {
    const begin = phasesOf(request);
    await begin(progressAt('reading', 'reading the run'));
    const job = readJob(request.runFile, request.sharedFolder, request.cutter);
    checkFileNames(job);
    const hardly: string[] = [];
    const lays = await layMaterials(job, {
      ...request,
      hardly: (cloth) => hardly.push(cloth),
      before: (cloth, number, of) =>
        begin(progressAt('laying', `laying ${cloth}, ${number} of ${of}`, number - 1, of)),
    });
    const orders = ordersOf(job);
    const run = laidRun(job, orders, lays, basename(request.out), request.seed);
    const machine = await machineFiles(run, (lay, number, of) =>
      begin(
        progressAt(
          'planning',
          `planning the knife’s way on ${lay}, ${number} of ${of}`,
          number - 1,
          of,
        ),
      ),
    );
    const facts = runFacts(job, orders, run, machine);
    await write(target, machine.files, facts, begin);
    const told = toldOfSearch(job, request, { lays, hardly });
    return { ...facts, findings: [...facts.findings, ...told] };
  } finally {
    target.release();
  }
}

type BeginPhase = (progress: CutProgress) => Promise<void>;

/** Begins the phases of a request. With `keepBest` a signal ends the search alone: the files are made all the same. */
function phasesOf({ told, signal, keepBest }: CutRequest): BeginPhase {
  const heeded = signal === undefined || keepBest === true ? {} : { signal };
  return (progress) => beginPhase({ ...(told === undefined ? {} : { told }), ...heeded }, progress);
}

/** Writes a run folder: what the machine reads is proven while the papers are made. */
async function write(
  target: Target,
  machine: MachineFiles['files'],
  facts: RunFacts,
  begin: BeginPhase,
): Promise<void> {
  const publication = beginPublication(target);
  await begin(progressAt('writing', 'writing drawings and programs'));
  publication.add(machine);
  const proof = proveBeside(target.partial);
  try {
    // This is loaded only now, because the writer of PDFs takes as long to load as all the rest of the
    // program.
    const { runPapers } = await import('../papers/papers.ts');
    const papers = await runPapers(facts, (done, of) =>
      begin(progressAt('papers', `papers: ${done} of ${of}`, done, of)),
    );
    publication.add(papers);
    publication.list();
    await begin(progressAt('proving', 'proving what was written'));
    const faults = await proof.faults;
    await begin(progressAt('proving', 'proving what was written', 1, 2));
    publication.finish(folderFindings(target.partial, faults));
  } finally {
    await proof.close();
  }
}

/** A job with its lays, ready to be planned and written. `name` is that of its run folder. */
export function laidRun(
  job: Job,
  orders: readonly OrderFacts[],
  lays: readonly Lay[],
  name: string,
  seed: number | undefined,
): LaidRun {
  const { run, cutter, inputs, parts, materials, labelStock, bench } = job;
  return {
    name,
    title: run.title,
    inputs,
    cutter,
    materials,
    orders: orders.map(orderRecord),
    inches: run.inches,
    labelStock,
    ...(bench === null ? {} : { bench }),
    parts,
    said: saidByLabel(parts, orders),
    lays,
    seed: seed ?? run.seed,
    recutOf: null,
  };
}

/** What papers say of a run. */
export function runFacts(
  job: Job,
  orders: readonly OrderFacts[],
  { name, title, cutter, lays }: LaidRun,
  machine: MachineFiles,
): RunFacts {
  return {
    run: name,
    title,
    cutter,
    orders,
    materials: machine.materials,
    findings: withoutIdleNotes([
      ...job.findings,
      ...ordersOfSeveralLots(lays, job.parts),
      ...machine.findings,
    ]),
    fingerprint: machine.fingerprint,
    labelStock: job.labelStock,
    bench: ratesOf(job.bench),
    lengths: lengthWords(job.run.inches),
  };
}

/** The orders of a job, with what the sewing bench, the packer and the customer must know of them. */
export function ordersOf({ ordered, materials, cutter, bench }: Job): OrderFacts[] {
  return ordersFacts(ordered, materials, cutter, worksOf(bench));
}

function orderRecord({ order, set }: OrderFacts): OrderRecord {
  const { title: setTitle } = set.content;
  const title = titleOf(set);
  return {
    ...order,
    binding: order.binding ?? null,
    title,
    ...(title === setTitle ? {} : { setTitle }),
  };
}

/**
 * What happens next to each part, and which options shape it, by its label, in words. It goes into the
 * record, so that a recut needs nothing else.
 */
function saidByLabel(parts: Job['parts'], orders: readonly OrderFacts[]): Map<string, SaidOfPart> {
  const plain = lengthWords(false);
  const byOrder = new Map(orders.map((one) => [one.order.order, one]));
  return new Map(
    parts.map((part) => {
      const order = byOrder.get(part.order)!;
      const steps = nextSteps(order, part.name, plain);
      const next = steps.map(({ verb, words }) => [verb, words] as [string, string]);
      return [part.label, { next, shape: shapeWords(order, part) }];
    }),
  );
}
