import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { distinctFindings } from './check.ts';
import type { Finding } from './findings.ts';
import { hasErrors, refuse, Refusal } from './findings.ts';
import { deriveParts } from './handing/derive.ts';
import type { Part } from './handing/part.ts';
import type { Cutter } from './knife/cutter.ts';
import { readCutter } from './knife/cutter.ts';
import { heightFindings, knifeFindings } from './knife/findings.ts';
import type { Material } from './pattern/material.ts';
import { materialKinds, readMaterial } from './pattern/material.ts';
import type { PatternSet } from './pattern/set.ts';
import { readSet } from './pattern/set.ts';
import type { Run } from './run.ts';
import { readRun, setFolder } from './run.ts';

/** Everything that a run needs, read and found sound. */
export interface Job {
  readonly run: Run;
  readonly cutter: Cutter;
  readonly materials: ReadonlyMap<string, Material>;
  readonly parts: readonly Part[];
  /** Warnings and notes; errors have been refused. Files by their names from the run file's folder. */
  readonly findings: readonly Finding[];
  /** Every file that was read, by its name from the run file's folder. */
  readonly inputs: readonly { readonly file: string; readonly sha256: string }[];
}

/**
 * Reads a run file, its cutter, sets and materials, and derives all parts. Throws a Refusal with
 * every error that stands in the way of a good cut.
 */
export function readJob(runFile: string, sharedFolder: string, cutterName?: string): Job {
  const run = readRun(runFile);
  const cutter = cutterOf(run, sharedFolder, cutterName);
  const sets = readSets(run, sharedFolder);
  const materials = readMaterials([...sets.values()], sharedFolder);
  checkRolls(run, materials);
  const found = [...sets.values()].flatMap(({ findings }) => findings);
  stopAtErrors(found);
  const derived = run.orders.map((order) => deriveParts(sets.get(order.set)!, order, materials));
  const parts = derived.flatMap((one) => one.parts);
  const findings = distinctFindings([
    ...found,
    ...derived.flatMap((one) => one.findings),
    ...[...materials.values()].flatMap((material) => heightFindings(cutter, material)),
    // The sets of an order are cut alike.
    ...knifeFindings(
      parts.filter(({ set }) => set === 1),
      cutter,
    ),
  ]);
  stopAtErrors(findings);
  const files = [
    run.file,
    join(sharedFolder, 'cutters', `${cutter.name}.yaml`),
    ...[...materials.keys()].map((name) => join(sharedFolder, 'materials', `${name}.yaml`)),
    ...[...sets.values()].flatMap((set) => set.files),
  ];
  const base = dirname(run.file);
  return {
    run,
    cutter,
    materials,
    parts,
    findings: findings.map((finding) => fromFolder(finding, base)),
    inputs: hashed(files, base),
  };
}

function cutterOf(run: Run, sharedFolder: string, instead: string | undefined): Cutter {
  if (instead !== undefined) return readCutter(sharedFolder, instead);
  return readCutter(sharedFolder, run.cutter, run.placeOf(['cutter']));
}

function readSets(run: Run, sharedFolder: string): Map<string, PatternSet> {
  const names = [...new Set(run.orders.map(({ set }) => set))];
  return new Map(names.map((name) => [name, readSet(setFolder(run, name), sharedFolder)]));
}

/** In the order in which a run shows them: the carpet first. */
function readMaterials(sets: readonly PatternSet[], sharedFolder: string): Map<string, Material> {
  // Turned about, so that of several places the first one stays.
  const places = new Map(sets.flatMap(({ materials }) => [...materials]).toReversed());
  const names = [...places.keys()].sort();
  const read = names.map((name) => readMaterial(sharedFolder, name, places.get(name)!));
  const rank = ({ kind }: Material): number => materialKinds.indexOf(kind);
  return new Map(read.toSorted((a, b) => rank(a) - rank(b)).map((one) => [one.name, one]));
}

function checkRolls(run: Run, materials: ReadonlyMap<string, Material>): void {
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

function stopAtErrors(findings: readonly Finding[]): void {
  if (hasErrors(findings))
    throw new Refusal(distinctFindings(findings).filter(({ severity }) => severity === 'error'));
}

/** Papers show findings, and must be the same wherever the files lie. */
function fromFolder(finding: Finding, base: string): Finding {
  const { file } = finding.where;
  if (file === undefined) return finding;
  return { ...finding, where: { ...finding.where, file: nameFrom(base, file) } };
}

function nameFrom(base: string, file: string): string {
  return relative(base, file).split(sep).join('/');
}

function hashed(files: readonly string[], base: string): { file: string; sha256: string }[] {
  return [...new Set(files)]
    .map((file) => ({
      file: nameFrom(base, file),
      sha256: createHash('sha256').update(readFileSync(file)).digest('hex'),
    }))
    .sort((a, b) => (a.file < b.file ? -1 : 1));
}
