import { basename, join } from 'node:path';
import { parseDocument } from 'yaml';
import { refuse } from '../base/findings.ts';
import { rememberedFor } from '../base/remembered.ts';
import { sha256 } from '../base/sha256.ts';
import { readBytes, readYamlText } from '../base/yaml.ts';
import type { Drawing } from '../drawing/drawing.ts';
import { readDrawingBytes } from '../drawing/read.ts';
import { setSchema } from '../pattern/set-file.ts';
import type { SetFiles } from '../pattern/set.ts';
import { readSetFiles } from '../pattern/set.ts';
import type { DraftContent, SetSaid } from './content.ts';
import { ownDrawingText } from './own-drawing.ts';
import { knownBlocks } from './same-blocks.ts';

/**
 * The texts of files by their names in the folder of a set. Drawings are taken byte by byte as Latin 1, so
 * that any bytes can be kept and written again.
 */
export type DraftTexts = ReadonlyMap<string, string>;

/** A set as it stands on the disk while somebody works on it. */
export interface Draft extends DraftContent {
  /** The folder's name under patterns/. */
  readonly name: string;
  readonly folder: string;
  /** set.yaml and all drawings that it names. */
  readonly texts: DraftTexts;
  /** Tells one state of the files from any other. */
  readonly version: string;
  /** The drawings as they were read. */
  readonly drawings: ReadonlyMap<string, Drawing>;
  /** Whether the set's drawing is as the desk writes it, so that nothing is lost if it is written anew. */
  readonly hasOwnDrawing: boolean;
}

/** The texts of files of a folder, and what was read of them before. */
export type KnownDraft = Pick<Draft, 'texts' | 'drawings' | 'said' | 'blocks'>;

export const setFileName = 'set.yaml';

/**
 * Reads a set as a draft. What is known of it and stands there as it was need not be read again. Throws a Refusal
 * where its set file or a drawing cannot be read at all.
 */
export function openDraft(folder: string, before: KnownDraft | null = null): Draft {
  const file = join(folder, setFileName);
  const bytes = readBytes(file, 'set file');
  const text = bytes.toString('utf8');
  const textOf = (name: string): string =>
    readBytes(join(folder, name), 'drawing').toString('latin1');
  return draftOf(folder, text, textOf, before);
}

/** The draft that a folder's files make. Drawings that are known as they are need not be read again. */
export function draftOf(
  folder: string,
  text: string,
  textOf: (drawing: string) => string,
  before: KnownDraft | null = null,
): Draft {
  const file = join(folder, setFileName);
  const { value } = readYamlText(text, file, setSchema, 'set file');
  const texts = new Map([[setFileName, text]]);
  const drawings = new Map<string, Drawing>();
  for (const name of drawingsNamed(value)) {
    const own = textOf(name);
    const known = before?.texts.get(name) === own ? before.drawings.get(name) : undefined;
    const units = value.units;
    texts.set(name, own);
    const drawing =
      known ??
      readDrawingBytes(Buffer.from(own, 'latin1'), join(folder, name), { setUnits: units });
    const old = before?.drawings.get(name)?.blocks ?? [];
    drawings.set(name, { ...drawing, blocks: knownBlocks(drawing.blocks, old) });
  }
  const said = saidIn(text);
  const { drawing } = value;
  const blocks = drawing === undefined ? [] : drawings.get(drawing)!.blocks;
  return {
    name: basename(folder),
    folder,
    texts,
    version: draftVersion(texts),
    drawings,
    said,
    blocks,
    hasOwnDrawing: drawing !== undefined && isOwn(texts.get(drawing)!, { said, blocks }),
  };
}

function drawingsNamed({ drawing, pieces }: Pick<SetSaid, 'drawing' | 'pieces'>): Set<string> {
  const names = [drawing, ...Object.values(pieces).map(({ file }) => file)];
  return new Set(names.filter((name) => name !== undefined));
}

function isOwn(text: string, content: DraftContent): boolean {
  try {
    return text === ownDrawingText(content);
  } catch (error) {
    // Names that R12 does not allow: another program has written it.
    if (error instanceof RangeError) return false;
    throw error;
  }
}

/** Tells texts from any others. */
export function draftVersion(texts: DraftTexts): string {
  const each = [...texts].map(([name, text]) => `${name} ${sha256(Buffer.from(text))}`);
  return sha256(Buffer.from(each.sort().join('\n'))).slice(0, 16);
}

/** What a text of a set file says, as plain values. */
function saidIn(text: string): SetSaid {
  return parseDocument(text).toJS() as SetSaid;
}

const setFileOf = rememberedFor(({ folder, texts }: Draft) =>
  readYamlText(texts.get(setFileName)!, join(folder, setFileName), setSchema, 'set file'),
);

/** The set that a draft is, read as any other set is. Throws a Refusal as readSetFiles does. */
export function setOfDraft(draft: Draft, sharedFolder: string): SetFiles {
  return readSetFiles(draft.folder, sharedFolder, {
    setFile: () => setFileOf(draft),
    drawing: (file) => drawingNamed(draft, basename(file)),
  });
}

function drawingNamed(draft: Draft, name: string): Drawing {
  const found = draft.drawings.get(name);
  if (found !== undefined) return found;
  const file = join(draft.folder, name);
  return refuse('file', 'there is no drawing here.', 'Check the name in set.yaml.', { file });
}
