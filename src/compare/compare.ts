import { readdirSync, readFileSync, statSync } from 'node:fs';
import { basename, join, relative } from 'node:path';
import { isBinary } from '../drawing/tags/binary.ts';
import type { Units } from '../drawing/drawing.ts';
import { refuse } from '../base/findings.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { readBytes } from '../base/yaml.ts';
import type { Comparable, InputKind } from './comparable.ts';
import type { Difference } from './difference.ts';
import { difference, inOrder } from './difference.ts';
import { differencesOf } from './differences.ts';
import { comparableDrawing } from './read-drawing.ts';
import { comparableProgram } from './read-program.ts';
import { comparableRun, isRunFolder } from './read-run.ts';
import { comparableSet, isSetFolder } from './read-set.ts';

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
    return { comparison: { ...about, sameBytes: true, differences: [] }, inputs: null };
  }
  const inputs = [before, after].map((path) => readAs(kind, path, options)) as [
    Comparable,
    Comparable,
  ];
  const found = differencesOf(...inputs, options.tolerance);
  const differences =
    kind === 'run' ? inOrder([...found, ...fileDifferences(before, after, found, options)]) : found;
  return { comparison: { ...about, sameBytes: false, differences }, inputs };
}

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

/**
 * For two runs: files that only one of them has, and differences of drawings and programs of a roll whose
 * record is the same. Everything else in a run folder is made from these.
 */
function fileDifferences(
  before: string,
  after: string,
  found: readonly Difference[],
  options: CompareOptions,
): Difference[] {
  const told = new Set(found.map(({ sheet }) => sheet));
  const isMachines = (name: string): boolean => /\.(nc|dxf)$/.test(name);
  const [names, others] = [before, after].map((folder) => filesIn(folder).filter(isMachines));
  const alone = (name: string, words: string): Difference =>
    difference('words', { sheet: null, label: basename(name) }, words);
  const shared = names!.filter((name) => others!.includes(name));
  return [
    ...names!
      .filter((name) => !others!.includes(name))
      .map((name) => alone(name, 'the file is gone.')),
    ...others!
      .filter((name) => !names!.includes(name))
      .map((name) => alone(name, 'the file is new.')),
    ...shared
      .filter((name) => !told.has(basename(name).replace(/(\.dry|\.bite-\d+)?\.(nc|dxf)$/, '')))
      .flatMap((name) => {
        const { comparison } = compareFiles(join(before, name), join(after, name), options);
        // Every program names its run at the top: that difference is told only once.
        const own = comparison.differences.filter(
          ({ message }) => !message.startsWith('text "RUN '),
        );
        return own.map((one) => ({
          ...one,
          sheet: null,
          label: `${basename(name)}${one.label === null ? '' : `: ${one.label}`}`,
        }));
      }),
  ];
}
