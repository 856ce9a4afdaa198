import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { isBinary } from '../drawing/tags/binary.ts';
import type { Units } from '../drawing/drawing.ts';
import { refuse } from '../base/findings.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { readBytes } from '../base/yaml.ts';
import type { Comparable, InputKind } from './comparable.ts';
import type { Difference } from './difference.ts';
import { unknownBlades, cutDifferences } from './cut-ways.ts';
import { differencesOf } from './differences.ts';
import { firstSentence } from './first-sentence.ts';
import { sameLays } from './lay-differences.ts';
import { withOneMachine } from './machine-difference.ts';
import { inRanks } from './ranks.ts';
import { comparableDrawing } from './read-drawing.ts';
import { comparableProgram } from './read-program.ts';
import { comparableRun, isRunFolder } from './read-run.ts';
import { comparableSet, isSetFolder } from './read-set.ts';
import type { FilesCompared } from './run-files.ts';
import { runFileDifferences } from './run-files.ts';
import { numberDifferences } from './program-facts.ts';
import type { ProgramStroke } from './strokes.ts';
import { strokedProgram } from './strokes.ts';

export interface CompareOptions {
  /** Geometry that differs by no more than this counts as the same, mm. */
  readonly tolerance: number;
  /** The units of both drawings, whatever these say themselves. */
  readonly units?: Units;
  /** What the layers of the shop mean; for drawings. */
  readonly map: LayerMap;
  /** The folder of layers and bindings; for sets. */
  readonly sharedFolder: string;
}

/** How two inputs differ. */
export interface Comparison {
  readonly before: string;
  readonly after: string;
  readonly kind: InputKind;
  readonly tolerance: number;
  /** Whether every byte is the same. Then nothing was read. */
  readonly sameBytes: boolean;
  /** What matters most, in one sentence. */
  readonly sentence: string;
  /** What was not compared, or only in part, and lays that take the same as before: in sentences. */
  readonly notes: readonly string[];
  readonly differences: readonly Difference[];
}

/** A comparison, and what was compared, for a picture of it. null: every byte is the same. */
export interface Compared {
  readonly comparison: Comparison;
  readonly inputs: readonly [before: Comparable, after: Comparable] | null;
}

/**
 * Compares two drawings, programs, sets or run folders. Throws a Refusal if they are not of the same
 * kind.
 */
export function compareFiles(before: string, after: string, options: CompareOptions): Compared {
  const [kind, other] = [kindOf(before), kindOf(after)];
  if (kind !== other) {
    refuse(
      'two-kinds',
      `${before} is a ${kind}, and ${after} is a ${other}.`,
      'Compare two drawings, two programs, two sets or two run folders.',
    );
  }
  const about = { before, after, kind, tolerance: options.tolerance };
  if (isSameBytes(before, after)) {
    const sentence = firstSentence([], null);
    return {
      comparison: { ...about, sameBytes: true, sentence, notes: [], differences: [] },
      inputs: null,
    };
  }
  const inputs = [before, after].map((path) => readAs(kind, path, options)) as [
    Comparable,
    Comparable,
  ];
  const [old, young] = inputs;
  const plain = differencesOf(old, young, options.tolerance);
  const { differences: told, notes } =
    kind === 'run'
      ? withFiles(plain, before, after, options)
      : kind === 'program'
        ? withProgramCuts(plain, before, after, options)
        : { differences: plain, notes: [] };
  const differences = inRanks(withOneMachine(told, young));
  const same = differences.length === 0 ? null : sameLays(old.lays, young.lays);
  return {
    comparison: {
      ...about,
      sameBytes: false,
      sentence: firstSentence(differences, inputs),
      notes: [
        ...(same === null ? [] : [same]),
        ...(old.limits ?? []),
        ...(young.limits ?? []),
        ...notes,
      ],
      differences,
    },
    inputs,
  };
}

/** For two runs: what their files tell besides their records. */
function withFiles(
  found: readonly Difference[],
  before: string,
  after: string,
  options: CompareOptions,
): FilesCompared {
  const names = [filesIn(before), filesIn(after)] as const;
  const files = runFileDifferences(
    before,
    after,
    names,
    options.tolerance,
    (one, other) => compareFiles(one, other, options).comparison.differences,
  );
  return { differences: [...found, ...files.differences], notes: files.notes };
}

/** For two programs of different machines: what they cut, in place of each stroke. */
function withProgramCuts(
  found: readonly Difference[],
  before: string,
  after: string,
  { tolerance }: CompareOptions,
): FilesCompared {
  const told = found.filter(({ kind, label }) => kind === 'words' && label === null);
  const isOneScale = found.some(({ kind }) => kind === 'scale');
  if (isOneScale || !told.some(({ fact }) => fact !== null && machineFacts.has(fact.name))) {
    return { differences: found, notes: [] };
  }
  const [old, young] = [before, after].map(
    (file) => strokedProgram(readBytes(file, 'program').toString('utf8'), file).strokes,
  ) as [readonly ProgramStroke[], readonly ProgramStroke[]];
  const off = Math.max(unknownBlades, tolerance);
  return {
    differences: [
      ...told,
      ...numberDifferences(old, young),
      ...cutDifferences(old, young, off, ''),
    ],
    notes: [
      `The programs are for different machines: compared by what they cut under each comment, to ${off} mm. Not compared: move by move, and the order of cutting.`,
    ],
  };
}

/** Facts of programs that are cut in other moves where one of these differs. */
const machineFacts = new Set(['machine', 'face', 'units']);

function kindOf(path: string): InputKind {
  const isFolder = statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
  if (isFolder) {
    if (isRunFolder(path)) return 'run';
    if (isSetFolder(path)) return 'set';
    return refuse(
      'no-input',
      'this folder is neither a run (run.json) nor a set (set.yaml).',
      'Name a folder of one of these, or a file.',
      { file: path },
    );
  }
  return isDrawing(readBytes(path, 'file to compare')) ? 'drawing' : 'program';
}

/**
 * Whether a file is a DXF and not a program: only a DXF begins with its sentinel, or with the group codes
 * 0 or 999.
 */
function isDrawing(bytes: Uint8Array): boolean {
  const start = new TextDecoder('latin1').decode(bytes.subarray(0, 200));
  return isBinary(bytes) || /^(?:\u00EF\u00BB\u00BF)?\s*(?:0|999)\s*\r?\n/.test(start);
}

function readAs(
  kind: InputKind,
  path: string,
  { units, map, sharedFolder }: CompareOptions,
): Comparable {
  switch (kind) {
    case 'drawing':
      return comparableDrawing(readBytes(path, 'drawing'), path, map, units);
    case 'program':
      return comparableProgram(readBytes(path, 'program').toString('utf8'), path);
    case 'set':
      return comparableSet(path, sharedFolder);
    case 'run':
      return comparableRun(path);
  }
}

function isSameBytes(before: string, after: string): boolean {
  if (!statSync(before).isDirectory()) return readFileSync(before).equals(readFileSync(after));
  const [names, others] = [before, after].map(filesIn);
  return (
    names!.length === others!.length &&
    names!.every(
      (name, i) =>
        name === others![i] &&
        readFileSync(join(before, name)).equals(readFileSync(join(after, name))),
    )
  );
}

function filesIn(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)))
    .sort();
}
