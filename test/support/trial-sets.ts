/** Sets as data, to be changed as a person would, and checked in a workshop of their own. */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parse, stringify } from 'yaml';
import type { Finding } from '../../src/base/findings.ts';
import type { Block } from '../../src/drawing/drawing.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { checkSet } from '../../src/jobs/check.ts';
import { siskinBlocks, siskinSet } from './siskin.ts';
import { drawingText, setFile, wren, wrenBlocks } from './wren.ts';

/** What a set file says, as data: the tests change it as a person would in an editor. */
export interface SetData {
  pieces: Record<string, Record<string, unknown>>;
  [key: string]: unknown;
}

/** A set that is to be checked: what is drawn, and what its set file says. */
export interface TrialSet {
  readonly blocks: readonly Block[];
  readonly content: SetData;
}

const project = resolve(import.meta.dirname, '../..');

export function setData(text: string): SetData {
  return parse(text) as SetData;
}

export function blocksIn(file: string): Block[] {
  return [...readDrawing(file, { setUnits: 'mm' }).blocks];
}

export function fenlarkSet(): TrialSet {
  const fenlark = join(project, 'patterns/fenlark');
  return {
    blocks: blocksIn(join(fenlark, 'fenlark.dxf')),
    content: setData(readFileSync(join(fenlark, 'set.yaml'), 'utf8')),
  };
}

export function wrenSet(): TrialSet {
  return { blocks: wrenBlocks(), content: setData(String(wren[setFile])) };
}

export function siskinTrial(): TrialSet {
  return { blocks: siskinBlocks(), content: setData(siskinSet) };
}

/** A workshop with the shared files of the project and of the wren, until it is closed. */
export function openTrials(): {
  readonly root: string;
  readonly shared: string;
  readonly findingsOf: (set: TrialSet) => Finding[];
  readonly close: () => void;
} {
  const root = mkdtempSync(join(tmpdir(), 'trial-sets-'));
  const shared = join(root, 'shared');
  cpSync(join(project, 'shared'), shared, { recursive: true });
  // With one carpet alone to choose, each set is checked but once for it.
  rmSync(join(shared, 'materials/carpet-cut.yaml'));
  for (const [name, text] of Object.entries(wren)) {
    if (name.startsWith('shared/')) writeFileSync(join(root, name), text);
  }
  let checked = 0;
  const findingsOf = ({ blocks, content }: TrialSet): Finding[] => {
    const folder = join(root, `set-${++checked}`);
    mkdirSync(folder);
    writeFileSync(join(folder, String(content['drawing'])), drawingText(blocks));
    writeFileSync(join(folder, 'set.yaml'), stringify(content));
    return checkSet(folder, shared).findings;
  };
  return { root, shared, findingsOf, close: () => rmSync(root, { recursive: true, force: true }) };
}
