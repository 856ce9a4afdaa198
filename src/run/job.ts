import { readFileSync } from 'node:fs';
import type { PlatformPath } from 'node:path';
import path, { dirname, join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import type { Finding, Place } from '../base/findings.ts';
import { distinctFindings, errorFinding, refuseErrors } from '../base/findings.ts';
import { sha256 } from '../base/sha256.ts';
import type { Part } from '../handing/part.ts';
import type { Cutter, CutterFile } from '../knife/cutter.ts';
import { readCutter } from '../knife/cutter.ts';
import { bedFindings } from '../knife/bed.ts';
import { heightFindings, knifeFindings } from '../knife/findings.ts';
import type { Bench } from '../pattern/shop/bench.ts';
import { benchFile, readBench } from '../pattern/shop/bench.ts';
import type { LabelStock } from '../pattern/shop/label-stock.ts';
import { defaultLabelStock, readLabelStock } from '../pattern/shop/label-stock.ts';
import type { Cloth } from '../pattern/shop/cloth.ts';
import type { Material, Materials } from '../pattern/shop/material.ts';
import { materialOf } from '../pattern/shop/material.ts';
import type { OrderedSet } from './check-orders.ts';
import type { LoadedRoll, RunFile } from './run-file.ts';
import { readOrders } from './read-orders.ts';
import { entriesOf, readRun, rollsOf } from './run-file.ts';

/** A run file, and everything that it needs: read, and without errors. */
export interface Job {
  readonly run: RunFile;
  readonly cutter: Cutter;
  readonly materials: ReadonlyMap<string, Material>;
  readonly parts: readonly Part[];
  /** What parts are cut from: the materials in their order, each in the colours that are ordered. */
  readonly cloths: readonly Cloth[];
  /** The orders in their order, each with its set as it has chosen it. */
  readonly ordered: readonly OrderedSet[];
  readonly labelStock: LabelStock;
  /** What work at the bench costs. null: the shop does not say it. */
  readonly bench: Bench | null;
  /**
   * Warnings and notes; errors have been refused. Their files are named relative to the run file's
   * folder.
   */
  readonly findings: readonly Finding[];
  /** Every file that was read, named relative to the run file's folder. */
  readonly inputs: readonly { readonly file: string; readonly sha256: string }[];
}

/**
 * Reads a run file, its cutter, sets and materials, and derives all parts. `cutterName` replaces the
 * cutter that the run file names. Throws a Refusal that lists the errors.
 */
export function readJob(runFile: string, sharedFolder: string, cutterName?: string): Job {
  const run = readRun(runFile);
  const { cutter, placeOf } = cutterOf(run, sharedFolder, cutterName);
  const { ordered, materials, findings: ofOrders } = readOrders(run, sharedFolder);
  const labelStock = labelStockOf(run, sharedFolder);
  const bench = readBench(sharedFolder);
  const parts = ordered.flatMap((one) => one.parts);
  const cloths = clothsOfParts(parts, materials);
  refuseErrors(rollFindings(run, materials, cloths));
  const findings = distinctFindings([
    ...ofOrders,
    ...[...materials.values()].flatMap((material) => heightFindings(cutter, material)),
    ...bedFindings(parts, (name) => materialOf(materials, name).turns, cutter, placeOf),
    // All sets of an order have the same parts: it is enough to look at the first.
    ...knifeFindings(
      parts.filter(({ set }) => set === 1),
      cutter,
      (name) => materialOf(materials, name).thickness,
    ),
  ]);
  refuseErrors(findings);
  const files = [
    run.file,
    ...(run.ordersFile === undefined ? [] : [run.ordersFile]),
    join(sharedFolder, 'cutters', `${cutter.name}.yaml`),
    ...(bench === null ? [] : [benchFile(sharedFolder)]),
    ...(run.labels === undefined ? [] : [join(sharedFolder, 'labels', `${run.labels}.yaml`)]),
    ...[...materials.keys()].map((name) => join(sharedFolder, 'materials', `${name}.yaml`)),
    ...ordered.flatMap(({ set }) => set.files),
  ];
  const base = dirname(run.file);
  return {
    run,
    cutter,
    materials,
    parts,
    cloths,
    ordered,
    labelStock,
    bench,
    findings: findings.map((finding) => fromFolder(finding, base)),
    inputs: hashed(files, base),
  };
}

/** The rolls of every cloth that parts of the run are cut from. */
export function loadedRolls(job: Job): { cloth: Cloth; roll: LoadedRoll }[] {
  return job.cloths.flatMap((cloth) => rollsOf(job.run, cloth).map((roll) => ({ cloth, roll })));
}

/**
 * The job of a run file that was changed since, if nothing but its rolls and what lies on them is different and
 * all other files are as they were: nothing is derived again. null: the job must be read anew. Throws a Refusal
 * where a roll is none of this job.
 */
export function jobWithRolls(job: Job): Job | null {
  const run = readRun(job.run.file);
  const { file, placeOf: _, rolls: __, ...others } = run;
  const base = dirname(file);
  const named = nameFrom(base, file);
  const before = Object.entries(job.run).filter(([key]) => !['placeOf', 'rolls'].includes(key));
  if (!isDeepStrictEqual(Object.fromEntries(before), { file, ...others })) return null;
  // Lines may have moved of which something is said.
  if (job.findings.some(({ where }) => where.file === named)) return null;
  refuseErrors(rollFindings(run, job.materials, job.cloths));
  const [own] = hashed([file], base);
  return { ...job, run, inputs: job.inputs.map((one) => (one.file === named ? own! : one)) };
}

/** The cloths that parts are cut from: materials in their order, colours in the order of their file. */
export function clothsOfParts(parts: readonly Part[], materials: Materials): Cloth[] {
  return [...materials.values()].flatMap((material) => {
    const own = parts.filter((part) => part.material === material.name);
    if (material.colours === undefined) return own.length === 0 ? [] : [{ material }];
    return Object.keys(material.colours)
      .filter((colour) => own.some((part) => part.colour === colour))
      .map((colour) => ({ material, colour }));
  });
}

function cutterOf(run: RunFile, sharedFolder: string, instead: string | undefined): CutterFile {
  if (instead !== undefined) return readCutter(sharedFolder, instead);
  return readCutter(sharedFolder, run.cutter, run.placeOf(['cutter']));
}

function labelStockOf({ labels, placeOf }: RunFile, sharedFolder: string): LabelStock {
  if (labels === undefined) return defaultLabelStock;
  return readLabelStock(sharedFolder, labels, placeOf(['labels']));
}

/** Every roll that is given is of a cloth that is cut: of its material, and in its colour. */
function rollFindings(run: RunFile, materials: Materials, cloths: readonly Cloth[]): Finding[] {
  return Object.keys(run.rolls).flatMap((name): Finding[] => {
    const material = materials.get(name);
    if (material === undefined) {
      const message = `a roll of "${name}" is given, and no piece is cut from it.`;
      const todo = `Materials of this run: ${[...materials.keys()].join(', ')}.`;
      return [errorFinding('roll-material', message, todo, { file: run.file })];
    }
    return entriesOf(run.rolls, name).flatMap(({ entry, at }) =>
      rollColourFindings(entry.colour, material, cloths, run.placeOf([...at, 'colour'])),
    );
  });
}

function rollColourFindings(
  colour: string | undefined,
  material: Material,
  cloths: readonly Cloth[],
  where: Place,
): Finding[] {
  const { name, title, colours } = material;
  if (colours === undefined) {
    if (colour === undefined) return [];
    const message = `a roll of ${name} is given in ${colour}, and ${title} is kept in no colours.`;
    const todo = `Take the colour out, or add it under "colours" in shared/materials/${name}.yaml.`;
    return [errorFinding('roll-colour', message, todo, where)];
  }
  const ordered = cloths.flatMap((cloth) => (cloth.material === material ? [cloth.colour!] : []));
  if (colour === undefined) {
    const message = `a roll of ${name} is given, and not its colour.`;
    const todo = `Add "colour: ${ordered[0] ?? Object.keys(colours)[0]}" to it. Ordered: ${ordered.join(', ') || 'none'}.`;
    return [errorFinding('roll-colour', message, todo, where)];
  }
  if (ordered.includes(colour)) return [];
  const message = `a roll of ${name} is given in ${colour}, and no order wants it in that colour.`;
  const todo = `Ordered: ${ordered.join(', ') || 'none'}. Leave the roll out (on the page: under Rolls), or correct its colour.`;
  return [errorFinding('roll-colour', message, todo, where)];
}

/**
 * The finding with its file named relative to `base`. Papers show the name, and must not depend on where
 * that folder lies.
 */
function fromFolder(finding: Finding, base: string): Finding {
  const { file } = finding.where;
  if (file === undefined) return finding;
  return { ...finding, where: { ...finding.where, file: nameFrom(base, file) } };
}

/** The way from a folder to a file with `/` on every system, so that records say the same. */
export function nameFrom(
  base: string,
  file: string,
  { relative, sep }: Pick<PlatformPath, 'relative' | 'sep'> = path,
): string {
  return relative(base, file).split(sep).join('/');
}

function hashed(files: readonly string[], base: string): { file: string; sha256: string }[] {
  return [...new Set(files)]
    .map((file) => ({
      file: nameFrom(base, file),
      sha256: sha256(readFileSync(file)),
    }))
    .sort((a, b) => (a.file < b.file ? -1 : 1));
}
