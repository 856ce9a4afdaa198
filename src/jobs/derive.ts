import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import type { Block } from '../drawing/drawing.ts';
import { writeByLayer } from '../drawing/writing/write-by-layer.ts';
import type { Finding } from '../base/findings.ts';
import { distinctFindings, refuseErrors, withoutIdleNotes } from '../base/findings.ts';
import type { Change } from '../handing/redrawing/changes.ts';
import { changesOf } from '../handing/redrawing/changes.ts';
import { deriveParts } from '../handing/derive.ts';
import { numberedDrawing } from '../handing/redrawing/numbered-drawing.ts';
import type { Order } from '../handing/order.ts';
import { choiceOf } from '../handing/order-choices.ts';
import type { Part } from '../handing/part.ts';
import { cutLayer, partEntities } from '../handing/redrawing/part-drawing.ts';
import { redrawnSet } from '../handing/redrawing/redrawn-set.ts';
import { changesCsv } from '../papers/tables/changes-table.ts';
import { handsPicture } from '../papers/pictures/hands/hands-picture.ts';
import { titleOf, wordOptions, wrongOptions } from '../pattern/choice.ts';
import { meaningOf, roleColours } from '../pattern/layers.ts';
import type { SetContent } from '../pattern/set-file.ts';
import { readMaterials } from '../pattern/shop/material.ts';
import type { PatternSet, SetFiles } from '../pattern/set.ts';
import { readSetFiles } from '../pattern/set.ts';
import type { Hand } from '../pattern/words.ts';
import {
  blockNames,
  rewrittenSetFile,
  shortLayers,
  writeSetDrawing,
} from '../pattern/write-set.ts';
import { publishAtOnce } from '../publishing/publish.ts';
import { derivedFolder } from '../publishing/target.ts';

export const partFormats = ['parts', 'astm'] as const;
export type PartFormat = (typeof partFormats)[number];

export interface DeriveRequest {
  readonly setFolder: string;
  /** The folder of materials and layers. */
  readonly sharedFolder: string;
  readonly out: string;
  readonly options: Pick<Order, 'hand' | 'heelPads' | 'boards' | 'underlay' | 'options'>;
  readonly force: boolean;
  /**
   * How parts are drawn: each in a file of its own (`parts`), or all in one file as ASTM D6673 asks
   * (`astm`).
   */
  readonly as: PartFormat;
}

export interface Derived {
  readonly patterns: PatternSet;
  readonly parts: readonly Part[];
  readonly changes: readonly Change[];
  /** Warnings and notes. */
  readonly findings: readonly Finding[];
}

/**
 * Derives a set for one hand and writes the result: `parts/` with the drawings of the parts, `set/` with
 * the set drawn anew for that hand, and a picture and a table of what moved. If the set has an error it
 * throws a Refusal and leaves nothing behind. Parts, picture and table are of the options that are
 * chosen; the set drawn anew has them all.
 */
export function deriveSet({
  setFolder,
  sharedFolder,
  out,
  options,
  force,
  as,
}: DeriveRequest): Derived {
  const order: Order = { ...options, order: 'derived', set: basename(setFolder), quantity: 1 };
  const files = readSetFiles(setFolder, sharedFolder);
  refuseErrors(optionFindings(files.written, options));
  const patterns = files.chosen(choiceOf(order));
  refuseErrors(patterns.findings);
  const materials = readMaterials(patterns.materials, sharedFolder);
  const { parts, findings } = deriveParts(patterns, order, materials);
  const all = withoutIdleNotes(distinctFindings([...patterns.findings, ...findings]));
  refuseErrors(all);
  const changes = changesOf(patterns, options);
  const { drawn } = patterns.content;
  const chosen = wordOptions(patterns.content, patterns.options);
  const written = new Map([
    ...partFiles(parts, as, `${patterns.name}-${options.hand}`),
    ['changes.csv', changesCsv(changes, chosen)],
    ['hands.svg', handsPicture(changes, drawn, options.hand, titleOf(patterns))],
    ...setFiles(files, patterns.files[0]!, setFolder, options.hand),
  ]);
  publishAtOnce([out, derivedFolder, force], written, () => []);
  return { patterns, parts, changes, findings: all };
}

function partFiles(
  parts: readonly Part[],
  as: PartFormat,
  style: string,
): [name: string, text: string][] {
  if (as === 'astm') return [[`parts/${style}.dxf`, numberedDrawing(parts, style)]];
  return parts.map((part) => [`parts/${part.name}.dxf`, partDrawing(part)]);
}

function partDrawing(part: Part): string {
  const entities = partEntities(part);
  const layers = [...new Set(entities.map(({ layer }) => layer))];
  return writeByLayer(
    entities,
    layers.map((name) => ({ name, colour: colourOf(name) })),
  );
}

function colourOf(layer: string): number {
  return layer === cutLayer ? 1 : roleColours[meaningOf(layer, new Map())!.role];
}

/** Options that are chosen and that the set does not have, or not with that value. */
function optionFindings(
  content: SetContent,
  { options = {} }: DeriveRequest['options'],
): Finding[] {
  return wrongOptions(content, { options }).map(({ name, value, values }) => {
    const known = Object.keys(content.options ?? {});
    const there = known.length === 0 ? 'It has none' : `It has ${known.join(', ')}`;
    return {
      severity: 'error',
      rule: 'argument',
      message:
        values === null
          ? `--option ${name}=${value}: the set has no such option.`
          : `--option ${name}=${value}: it cannot be so.`,
      todo: values === null ? `${there}.` : `It can be ${values.join(', ')}.`,
      where: {},
    };
  });
}

/**
 * The set drawn anew: its drawing, and its set file, in which only the hand and what names the drawing
 * change.
 */
function setFiles(
  files: SetFiles,
  setFile: string,
  setFolder: string,
  hand: Hand,
): [name: string, text: string][] {
  const { pieces, findings } = redrawnSet(files, hand);
  refuseErrors(findings);
  const names = blockNames(pieces.map(({ name }) => name));
  const { blocks, layers } = shortLayers(
    pieces.map(({ name, entities }): Block => ({ name: names.get(name)!, entities })),
  );
  const text = readFileSync(setFile, 'utf8');
  const drawing = `${basename(setFolder)}.dxf`;
  return [
    ['set/set.yaml', rewrittenSetFile(text, hand, drawing, names, layers)],
    [`set/${drawing}`, writeSetDrawing(blocks, layers)],
  ];
}
