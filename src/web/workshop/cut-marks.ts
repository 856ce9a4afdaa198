import { existsSync, readFileSync } from 'node:fs';
import { z } from 'zod';
import { errorFinding, refuse, refuseErrors } from '../../base/findings.ts';
import { counted } from '../../base/wording.ts';
import { changedYaml } from '../../base/yaml-edit/edit.ts';
import type { Values } from '../../base/yaml-edit/editing.ts';
import { blockText } from '../../base/yaml-edit/write.ts';
import type { YamlFile } from '../../base/yaml.ts';
import { readYaml } from '../../base/yaml.ts';
import { publishFile } from '../../publishing/publish-file.ts';
import type { CutStep, RollToCut, StepTick } from '../api/cut-steps.ts';
import { biteInStep, lastTicked, nextStep, tickedOf } from '../api/cut-steps.ts';
import type { Workshop } from './workshop.ts';
import { placeIn } from './workshop.ts';

const tickSchema = z.strictObject({
  roll: z.string().min(1).describe('what the files of the roll are called by'),
  step: z
    .custom<CutStep>(
      (value) =>
        typeof value === 'string' && /^(?:load|dry|bite [1-9]\d*|labels|parts|rest)$/.test(value),
      'a step is load, dry, a bite like "bite 3", labels, parts or rest',
    )
    .describe('what is done'),
  at: z.iso.datetime('a time is written like 2026-05-04T09:30:00Z').describe('UTC'),
});

/** The schema of out/<run>.marks.yaml: what is cut of a run, the last cutting last. */
const marksSchema = z.strictObject({
  cuttings: z.array(
    z.strictObject({
      files: z
        .string()
        .regex(/^[0-9a-f]{12}$/, 'a fingerprint is twelve digits or letters from a to f')
        .describe('the fingerprint of the files that are cut'),
      ticks: z.array(tickSchema),
    }),
  ),
});

type Marks = z.infer<typeof marksSchema>;

/** The files of a run folder as they are now, as far as ticks belong to them. */
export interface FilesToCut {
  readonly fingerprint: string;
  readonly rolls: readonly RollToCut[];
}

/** What is ticked of a run. */
export interface Cutting {
  /** Of the files as they are now. */
  readonly ticks: readonly StepTick[];
  /** Of files made before, as long as nobody has said that these are begun anew; empty: none. */
  readonly before: readonly StepTick[];
}

export function marksFileIn({ out }: Workshop, run: string): string {
  return placeIn(out, `${run}.marks.yaml`);
}

/** What is ticked of a run. Throws a Refusal where its marks cannot be read. */
export function readCutting(shop: Workshop, run: string, files: FilesToCut): Cutting {
  const file = marksFileIn(shop, run);
  if (!existsSync(file)) return { ticks: [], before: [] };
  const read = readYaml(file, marksSchema, 'file of marks');
  const last = read.value.cuttings.at(-1);
  if (last === undefined) return { ticks: [], before: [] };
  if (last.files !== files.fingerprint) return { ticks: [], before: last.ticks };
  refuseStrangers(read, files);
  return { ticks: last.ticks, before: [] };
}

/** Whether anything of the last cutting of a run is ticked, of whichever files. Throws as readCutting does. */
export function isBegun(shop: Workshop, run: string): boolean {
  return (readMarks(marksFileIn(shop, run)).cuttings.at(-1)?.ticks.length ?? 0) > 0;
}

/** Refuses ticks of rolls and bites that the files do not have: somebody mistyped them. */
function refuseStrangers({ value, placeOf }: YamlFile<Marks>, { rolls }: FilesToCut): void {
  const at = value.cuttings.length - 1;
  const names = rolls.map(({ roll }) => roll).join(', ');
  refuseErrors(
    value.cuttings[at]!.ticks.flatMap(({ roll, step }, i) => {
      const where = (key: string) => placeOf(['cuttings', at, 'ticks', i, key]);
      const own = rolls.find((one) => one.roll === roll);
      if (own === undefined) {
        const message = `these files have no roll "${roll}".`;
        return [errorFinding('marks', message, `There are: ${names}.`, where('roll'))];
      }
      if ((biteInStep(step) ?? 0) <= own.bites) return [];
      const message = `${roll} has ${counted(own.bites, 'bite')}, and no "${step}".`;
      return [
        errorFinding('marks', message, 'Mend the number or take the line out.', where('step')),
      ];
    }),
  );
}

/**
 * Ticks a step of a roll; one that is ticked stays so. Throws a Refusal where it is not the next one, where what is
 * ticked belongs to files made before, and where the marks cannot be read or written.
 */
export function tickStep(
  shop: Workshop,
  run: string,
  files: FilesToCut,
  { roll, step }: Pick<StepTick, 'roll' | 'step'>,
  now: Date,
): void {
  const { ticks, before } = readCutting(shop, run, files);
  if (before.length > 0) refuseOthers();
  if (tickedOf(ticks, roll).has(step)) return;
  const own = files.rolls.find((one) => one.roll === roll);
  if (own === undefined || nextStep(own, ticks) !== step) refuseMoved();
  writeTicks(shop, run, files, [...ticks, { roll, step, at: now.toISOString() }]);
}

/**
 * Takes the last tick of a roll back; one that is not there is gone already. Throws a Refusal where another step
 * was ticked since, and as tickStep does.
 */
export function untickStep(
  shop: Workshop,
  run: string,
  files: FilesToCut,
  { roll, step }: Pick<StepTick, 'roll' | 'step'>,
): void {
  const { ticks } = readCutting(shop, run, files);
  if (!tickedOf(ticks, roll).has(step)) return;
  const own = files.rolls.find((one) => one.roll === roll);
  if (own === undefined || lastTicked(own, ticks) !== step) refuseMoved();
  const left = ticks.filter((tick) => tick.roll !== roll || tick.step !== step);
  writeTicks(shop, run, files, left);
}

/**
 * Begins the cutting of the files as they are now, with nothing ticked. What was ticked before stays in the file,
 * above it. Throws a Refusal where the marks cannot be read or written.
 */
export function beginCutting(shop: Workshop, run: string, files: FilesToCut): void {
  const { cuttings } = readMarks(marksFileIn(shop, run));
  writeMarks(shop, run, { cuttings: [...cuttings, { files: files.fingerprint, ticks: [] }] });
}

function refuseOthers(): never {
  return refuse(
    'changed-since',
    'what is ticked was cut from files made before.',
    'Press "Begin anew" first.',
  );
}

function refuseMoved(): never {
  return refuse(
    'changed-since',
    'another step was ticked meanwhile.',
    'Look at what comes next now.',
  );
}

/** Writes the ticks of the files as they are now, in the place of those that it had. */
function writeTicks(
  shop: Workshop,
  run: string,
  { fingerprint }: FilesToCut,
  ticks: readonly StepTick[],
): void {
  const { cuttings } = readMarks(marksFileIn(shop, run));
  const others = cuttings.at(-1)?.files === fingerprint ? cuttings.slice(0, -1) : cuttings;
  writeMarks(shop, run, { cuttings: [...others, { files: fingerprint, ticks: [...ticks] }] });
}

function readMarks(file: string): Marks {
  return existsSync(file) ? readYaml(file, marksSchema, 'file of marks').value : { cuttings: [] };
}

function writeMarks(shop: Workshop, run: string, marks: Marks): void {
  const file = marksFileIn(shop, run);
  const text = existsSync(file)
    ? changedYaml(readFileSync(file, 'utf8'), { ...marks }, saysOf)
    : blockText(
        marks,
        `What is cut of ${run}, as it was ticked at the machine. The last cutting counts.`,
      );
  publishFile(file, text);
}

function saysOf(plain: unknown): Values | null {
  const read = marksSchema.safeParse(plain);
  return read.success ? { ...read.data } : null;
}
