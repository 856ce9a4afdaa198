import { readFileSync } from 'node:fs';
import type { PlatformPath } from 'node:path';
import path, { dirname, join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { distinctFindings, refuse, refuseErrors } from '../base/findings.ts';
import { sha256 } from '../base/sha256.ts';
import { deriveParts } from '../handing/derive.ts';
import type { Part } from '../handing/part.ts';
import type { Cutter, CutterFile } from '../knife/cutter.ts';
import { readCutter } from '../knife/cutter.ts';
import { bedFindings } from '../knife/bed.ts';
import { heightFindings, knifeFindings } from '../knife/findings.ts';
import type { LabelStock } from '../pattern/shop/label-stock.ts';
import { defaultLabelStock, readLabelStock } from '../pattern/shop/label-stock.ts';
import type { Material } from '../pattern/shop/material.ts';
import { materialOf, readMaterials } from '../pattern/shop/material.ts';
import type { PatternSet } from '../pattern/set.ts';
import { readSet } from '../pattern/set.ts';
import type { RunFile } from './run-file.ts';
import { readRun, setFolder } from './run-file.ts';

/** A run file, and everything that it needs: read, and without errors. */
export interface Job {
  readonly run: RunFile;
  readonly cutter: Cutter;
  readonly materials: ReadonlyMap<string, Material>;
  readonly parts: readonly Part[];
  /** The sets that orders name. */
  readonly sets: ReadonlyMap<string, PatternSet>;
  readonly labelStock: LabelStock;
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
  const sets = readSets(run, sharedFolder);
  const labelStock = labelStockOf(run, sharedFolder);
  const named = [...sets.values()].flatMap((set) => [...set.materials]);
  // A Map keeps the last of several equal keys. Reversed, it keeps the first place that names a material.
  const materials = readMaterials(new Map(named.toReversed()), sharedFolder);
  checkRolls(run, materials);
  checkColours(run, sets);
  const found = [...sets.values()].flatMap(({ findings }) => findings);
  refuseErrors(found);
  const derived = run.orders.map((order) => deriveParts(sets.get(order.set)!, order, materials));
  const parts = derived.flatMap((one) => one.parts);
  const findings = distinctFindings([
    ...found,
    ...derived.flatMap((one) => one.findings),
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
    join(sharedFolder, 'cutters', `${cutter.name}.yaml`),
    ...(run.labels === undefined ? [] : [join(sharedFolder, 'labels', `${run.labels}.yaml`)]),
    ...[...materials.keys()].map((name) => join(sharedFolder, 'materials', `${name}.yaml`)),
    ...[...sets.values()].flatMap((set) => set.files),
  ];
  const base = dirname(run.file);
  return {
    run,
    cutter,
    materials,
    parts,
    sets,
    labelStock,
    findings: findings.map((finding) => fromFolder(finding, base)),
    inputs: hashed(files, base),
  };
}

function cutterOf(run: RunFile, sharedFolder: string, instead: string | undefined): CutterFile {
  if (instead !== undefined) return readCutter(sharedFolder, instead);
  return readCutter(sharedFolder, run.cutter, run.placeOf(['cutter']));
}

function labelStockOf({ labels, placeOf }: RunFile, sharedFolder: string): LabelStock {
  if (labels === undefined) return defaultLabelStock;
  return readLabelStock(sharedFolder, labels, placeOf(['labels']));
}

function readSets(run: RunFile, sharedFolder: string): Map<string, PatternSet> {
  const names = [...new Set(run.orders.map(({ set }) => set))];
  return new Map(names.map((name) => [name, readSet(setFolder(run, name), sharedFolder)]));
}

function checkRolls(run: RunFile, materials: ReadonlyMap<string, Material>): void {
  const stranger = Object.keys(run.rolls).find((name) => !materials.has(name));
  if (stranger === undefined) return;
  const known = [...materials.keys()].join(', ');
  refuse(
    'roll-material',
    `a roll of "${stranger}" is given, and no piece is cut from it.`,
    `Materials of this run: ${known}.`,
    { file: run.file },
  );
}

/**
 * Refuses an order whose binding colour is not one of those in which the shop keeps the tape of its set.
 */
function checkColours(run: RunFile, sets: ReadonlyMap<string, PatternSet>): void {
  for (const [i, { order, set, binding: colour }] of run.orders.entries()) {
    const { binding } = sets.get(set)!;
    const colours = binding?.colours;
    if (colour === undefined || colours === undefined || colours.includes(colour)) continue;
    refuse(
      'binding-colour',
      `order "${order}" is to be bound in ${colour}, and ${binding!.title} is not kept in it.`,
      `Colours: ${colours.join(', ')}.`,
      run.placeOf(['orders', i, 'binding']),
    );
  }
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
