import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { inverse, compose } from '../geometry/paths/transform.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { placementTransform } from '../lay/lay.ts';
import type { RecordedRun } from '../program/record/record.ts';
import { readRecorded } from '../program/record/record.ts';
import type { LayRecord, PartRecord, RunRecord } from '../program/record/run-record.ts';
import { recordedName } from '../program/record/run-record.ts';
import { listed } from '../base/wording.ts';
import type { Difference } from './difference.ts';
import { betweenBlades, cutDifferences, strokesBesides } from './cut-ways.ts';
import { paperDifferences } from './paper-differences.ts';
import { programFacts } from './program-facts.ts';
import { strokedProgram } from './strokes.ts';
import type { ProgramStroke } from './strokes.ts';

/** What files of two run folders tell besides their records, and what of them was not compared, in sentences. */
export interface FilesCompared {
  readonly differences: readonly Difference[];
  readonly notes: readonly string[];
}

/** One of two run folders. */
interface Folder extends RecordedRun {
  readonly path: string;
  readonly names: ReadonlySet<string>;
}

/** Compares two files of the cutter as any two of their kind. */
export type CompareTwo = (before: string, after: string) => readonly Difference[];

/**
 * Compares the files of two run folders. Programs and drawings of a lay that is the same in both are compared one with
 * one. Of a lay that differs, or is cut by another machine, the programs are compared by what they cut of each part.
 * `names`: the files of both.
 */
export function runFileDifferences(
  before: string,
  after: string,
  names: readonly [readonly string[], readonly string[]],
  tolerance: number,
  compareTwo: CompareTwo,
): FilesCompared {
  const [old, young] = [before, after].map((path, i): Folder => ({
    path,
    names: new Set(names[i]),
    ...readRecorded(path),
  })) as [Folder, Folder];
  const notes: string[] = [];
  const differences: Difference[] = [];
  const lays = laysInBoth(old.run, young.run);
  const same = sameParts(old.run, young.run);
  const isSameMachine = sameText(machineOf(old.run), machineOf(young.run));
  const others: string[] = [];
  const nameless: string[] = [];
  for (const { name, was, is } of lays) {
    const isSame = is.placements.every(({ label }) => same.has(label.toUpperCase()));
    if (isSameMachine && isSame && sameText(cutOf(was), cutOf(is))) {
      differences.push(...oneByOne(name, old, young, compareTwo));
      continue;
    }
    if (samePrograms(name, old, young)) {
      notes.push(
        `The programs of ${name} are the same in both, though the records are not: prove the runs before they are cut.`,
      );
      continue;
    }
    others.push(name);
    differences.push(
      ...byParts(name, was, is, old, young, isSameMachine ? tolerance : null, same, nameless),
    );
  }
  const compared = others.filter((name) => !nameless.includes(name));
  if (compared.length > 0) {
    const off = isSameMachine
      ? ''
      : `, but for what the lean of the blades and short lines explain`;
    notes.push(
      `Of ${listed(compared)} lay or machine differ. Their programs were compared by what they cut of each part that has kept its name and its shape${off}. Not compared: their drawings for the cutter and their dry programs.`,
    );
  }
  if (nameless.length > 0) {
    notes.push(
      `Not compared: programs and drawings of ${listed(nameless)}, because no part has the same name in both runs.`,
    );
  }
  const files = paperDifferences(
    old,
    young,
    lays.map(({ name }) => name),
    others,
  );
  return { differences: [...differences, ...files.differences], notes: [...notes, ...files.notes] };
}

function laysInBoth(
  before: RunRecord,
  after: RunRecord,
): { name: string; was: LayRecord; is: LayRecord }[] {
  return after.lays.flatMap((is) => {
    const name = recordedName(is);
    const was = before.lays.find((lay) => recordedName(lay) === name);
    return was === undefined ? [] : [{ name, was, is }];
  });
}

/** What of a lay its programs feel: not the dye lot, nor how it was searched for. */
function cutOf({ placements, bites, rollWidth, thickness, usableWidth }: LayRecord): object {
  return { placements, bites, rollWidth, thickness, usableWidth };
}

/** What of a machine's profile its programs feel. */
function machineOf({ cutter }: RunRecord): object {
  const { name, bed, face, knife, blade, notches, punch, heights, feeds } = cutter;
  const { closingOverlap, program } = cutter;
  return {
    name,
    bed,
    face,
    knife,
    blade,
    notches,
    punch,
    heights,
    feeds: { ...feeds, travel: null },
    closingOverlap,
    program,
  };
}

function sameText(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

/** The labels of parts that have the same shape in both records. Of all others their own shapes tell. */
function sameParts(before: RunRecord, after: RunRecord): Set<string> {
  const shapes = new Map(before.parts.map((part) => [part.label, shapeOf(part)]));
  return new Set(
    after.parts
      .filter((part) => shapes.get(part.label) === shapeOf(part))
      .map(({ label }) => label.toUpperCase()),
  );
}

function shapeOf({ cutContour, inner, notches, marks }: PartRecord): string {
  return JSON.stringify([cutContour, inner, notches, marks]);
}

/** The ending of a file of a lay: its programs and its drawing. */
const ofLay = /^(?:\.dry|\.bite-\d+)?\.(?:nc|dxf)$/;

function filesOf(lay: string, { names }: Folder): string[] {
  return [...names].filter((name) => name.startsWith(lay) && ofLay.test(name.slice(lay.length)));
}

/** Whether every program and drawing of a lay is the same in both, byte for byte. */
function samePrograms(lay: string, old: Folder, young: Folder): boolean {
  const [own, others] = [filesOf(lay, old), filesOf(lay, young)];
  return (
    own.length === others.length &&
    own.every(
      (name) =>
        young.names.has(name) &&
        readFileSync(join(old.path, name)).equals(readFileSync(join(young.path, name))),
    )
  );
}

function oneByOne(lay: string, old: Folder, young: Folder, compareTwo: CompareTwo): Difference[] {
  return filesOf(lay, old)
    .filter((name) => young.names.has(name))
    .flatMap((name) =>
      compareTwo(join(old.path, name), join(young.path, name))
        // Every program names its run at the top: the record tells that.
        .filter(({ fact }) => fact?.name !== 'head the run and the material')
        .map((one) => ({ ...one, sheet: null, file: name })),
    );
}

/** What the programs of a lay cut of each part, wherever it lies, and what is done that no profile asks for. */
function byParts(
  name: string,
  was: LayRecord,
  is: LayRecord,
  old: Folder,
  young: Folder,
  tolerance: number | null,
  same: ReadonlySet<string>,
  nameless: string[],
): Difference[] {
  const [places, others] = [was, is].map(
    ({ placements }) =>
      new Map(placements.map((one) => [one.label.toUpperCase(), placementTransform(one)])),
  ) as [Map<string, Transform>, Map<string, Transform>];
  const carried = (note: string): Transform | null => {
    const label = note.replace(/ \w+$/, '').toUpperCase();
    const [from, to] = [places.get(label), others.get(label)];
    return from === undefined || to === undefined || !same.has(label)
      ? null
      : compose(to, inverse(from));
  };
  if (![...places.keys()].some((label) => others.has(label))) {
    nameless.push(name);
    return [];
  }
  const whole = `${name}.nc`;
  const bites = /^\.bite-\d+\.nc$/;
  const read = (folder: Folder, file: string): ReturnType<typeof strokedProgram> =>
    strokedProgram(readFileSync(join(folder.path, file), 'utf8'), join(folder.path, file));
  const found: Difference[] = [];
  const hold = (
    a: readonly ProgramStroke[],
    b: readonly ProgramStroke[],
    file: string,
    isAsked: (note: string) => boolean = () => true,
  ): void => {
    const off =
      tolerance === null
        ? betweenBlades(old.run.cutter, young.run.cutter, is.thickness)
        : tolerance + rounding;
    const told = cutDifferences(a, b, off, null, (note) => (isAsked(note) ? carried(note) : null));
    found.push(...told.map((one) => ({ ...one, file })));
  };
  const wholes = [old, young].map((folder) =>
    folder.names.has(whole) ? read(folder, whole) : null,
  );
  const [first, second] = wholes;
  if (first !== null && second !== null) {
    hold(first!.strokes, second!.strokes, whole);
    found.push(...programFacts(first!, old.run.cutter, second!, young.run.cutter, whole));
  }
  const bitten = [old, young].map((folder) =>
    filesOf(name, folder)
      .filter((file) => bites.test(file.slice(name.length)))
      .flatMap((file) => read(folder, file).strokes),
  );
  if (bitten.some((strokes) => strokes.length === 0)) return found;
  const besides = bitten.map((strokes, i) =>
    strokesBesides(strokes, wholes[i]?.strokes ?? [], 2 * rounding),
  );
  hold(bitten[0]!, bitten[1]!, `${name}.bite-*.nc`, (note) =>
    besides.some((notes) => notes.has(note)),
  );
  return found;
}

/** Programs are written to so much, mm; a part that was moved is rounded anew. */
const rounding = 0.01;
