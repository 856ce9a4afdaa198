import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import type { Block, Entity } from '../drawing/drawing.ts';
import { writeByLayer } from '../drawing/writing/write-by-layer.ts';
import type { Finding } from '../base/findings.ts';
import { distinctFindings, refuseErrors, withoutIdleNotes } from '../base/findings.ts';
import type { Change } from '../handing/redrawing/changes.ts';
import { changesOf } from '../handing/redrawing/changes.ts';
import { deriveParts } from '../handing/derive.ts';
import { numberedDrawing } from '../handing/redrawing/numbered-drawing.ts';
import type { Order } from '../handing/order.ts';
import type { Part } from '../handing/part.ts';
import { cutLayer, partEntities } from '../handing/redrawing/part-drawing.ts';
import { redrawnPiece } from '../handing/redrawing/redraw.ts';
import { changesCsv } from '../papers/tables/changes-table.ts';
import { handsPicture } from '../papers/pictures/hands/hands-picture.ts';
import { meaningOf, roleColours } from '../pattern/layers.ts';
import { readMaterials } from '../pattern/shop/material.ts';
import type { PatternSet } from '../pattern/set.ts';
import { readSet } from '../pattern/set.ts';
import type { Hand } from '../pattern/words.ts';
import { blockNames, rewrittenSetFile, writeSetDrawing } from '../pattern/write-set.ts';
import { publishAtOnce } from '../publishing/publish.ts';
import { derivedFolder } from '../publishing/target.ts';

export const partFormats = ['parts', 'astm'] as const;
export type PartFormat = (typeof partFormats)[number];

export interface DeriveRequest {
  readonly setFolder: string;
  /** The folder of materials and layers. */
  readonly sharedFolder: string;
  readonly out: string;
  readonly options: Pick<Order, 'hand' | 'heelPads' | 'boards' | 'underlay'>;
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
 * throws a Refusal and leaves nothing behind.
 */
export function deriveSet({
  setFolder,
  sharedFolder,
  out,
  options,
  force,
  as,
}: DeriveRequest): Derived {
  const patterns = readSet(setFolder, sharedFolder);
  refuseErrors(patterns.findings);
  const materials = readMaterials(patterns.materials, sharedFolder);
  const order: Order = { ...options, order: 'derived', set: patterns.name, quantity: 1 };
  const { parts, findings } = deriveParts(patterns, order, materials);
  const all = withoutIdleNotes(distinctFindings([...patterns.findings, ...findings]));
  refuseErrors(all);
  const changes = changesOf(patterns, options);
  const { title, drawn } = patterns.content;
  const files = new Map([
    ...partFiles(parts, as, `${patterns.name}-${options.hand}`),
    ['changes.csv', changesCsv(changes)],
    ['hands.svg', handsPicture(changes, drawn, options.hand, title)],
    ...setFiles(patterns, setFolder, options.hand),
  ]);
  publishAtOnce([out, derivedFolder, force], files, () => []);
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

/**
 * The set drawn anew: its drawing, and its set file, in which only the hand and what names the drawing
 * change.
 */
function setFiles(
  { pieces, content, files }: PatternSet,
  setFolder: string,
  hand: Hand,
): [name: string, text: string][] {
  const names = blockNames(pieces.map((piece) => piece.name));
  const blocks = pieces.map((piece): Block => {
    const entities: Entity[] = redrawnPiece(piece, content.drawn, hand);
    return { name: names.get(piece.name)!, entities };
  });
  const text = readFileSync(files[0]!, 'utf8');
  const drawing = `${basename(setFolder)}.dxf`;
  return [
    ['set/set.yaml', rewrittenSetFile(text, hand, drawing, names)],
    [`set/${drawing}`, writeSetDrawing(blocks)],
  ];
}
