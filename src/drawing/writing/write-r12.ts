import { rememberedFor } from '../../base/remembered.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPoints, unionBox } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import type { Block, Entity, PointEntity, TextEntity } from '../drawing.ts';
import { boxOfEntities } from '../extents.ts';
import { encodeText } from '../tags/text-codes.ts';
import type { NamedLayer } from './named-layers.ts';
import { withLayerZero } from './named-layers.ts';
import { textLines } from './text-lines.ts';
import type { WrittenTag } from './written-tags.ts';
import {
  beginSection,
  bulgeTags,
  endSection,
  pointTags,
  quantity,
  section,
  textOfTags,
} from './written-tags.ts';

interface R12Insert {
  readonly block: string;
  readonly layer: string;
  readonly at: Point;
}

/** A drawing to be written, in mm. R12 cannot say so in the file. */
export interface R12Drawing {
  readonly layers: readonly NamedLayer[];
  readonly blocks?: readonly Block[];
  readonly inserts?: readonly R12Insert[];
  readonly entities: readonly Entity[];
  /**
   * Whether numbers are written to the last bit, for drawings that are read again. Otherwise they have
   * six decimals.
   */
  readonly exact?: boolean;
}

/** Whether R12 allows this as the name of a layer or a block. */
export function isR12Name(name: string): boolean {
  return /^[A-Z0-9_$-]{1,31}$/.test(name);
}

/**
 * Writes an R12 DXF (AC1009, ASCII, LF): the inserts, then the entities in the given order. A path that
 * is one straight segment becomes a LINE, any other a POLYLINE with bulges. Each line of a text becomes a
 * TEXT. The same drawing gives the same bytes. Throws RangeError if a number is not finite, R12 does not
 * allow a name, or the drawing lacks a layer or block that it uses.
 */
export function writeR12(drawing: R12Drawing): string {
  checkNames(drawing);
  const exact = drawing.exact === true;
  const head: WrittenTag[] = [
    ...section('HEADER', headerTags(boxOfDrawing(drawing))),
    ...section('TABLES', tableTags(drawing.layers)),
    ...beginSection('BLOCKS'),
  ];
  const rest: WrittenTag[] = [
    ...endSection,
    ...section('ENTITIES', [
      ...(drawing.inserts ?? []).flatMap(insertTags),
      ...drawing.entities.flatMap(entityTags),
    ]),
    [0, 'EOF'],
  ];
  const blocks = (drawing.blocks ?? []).map((block) =>
    textOfBlock[exact ? 'exact' : 'short'](block),
  );
  return [textOfTags(head, exact), ...blocks, textOfTags(rest, exact)].join('');
}

/** A block as text, worked out once: a drawing is often written again with one block changed. */
const textOfBlock = {
  exact: rememberedFor((block: Block) => textOfTags(blockTags(block), true)),
  short: rememberedFor((block: Block) => textOfTags(blockTags(block), false)),
};

function checkNames({ layers, blocks = [], inserts = [], entities }: R12Drawing): void {
  const layerNames = namesOf('layer', layers);
  const blockNames = namesOf('block', blocks);
  for (const { name, colour } of layers) {
    if (!Number.isInteger(colour) || colour < 1 || colour > 255) {
      throw new RangeError(`layer ${name} has colour ${colour}; R12 has 1 to 255`);
    }
  }
  for (const { layer } of [...entities, ...inserts, ...blocks.flatMap((block) => block.entities)]) {
    if (!layerNames.has(layer)) throw new RangeError(`the drawing has no layer ${layer}`);
  }
  for (const { block } of inserts) {
    if (!blockNames.has(block)) throw new RangeError(`the drawing has no block ${block}`);
  }
}

function namesOf(what: string, named: readonly { readonly name: string }[]): Set<string> {
  const names = new Set<string>();
  for (const { name } of named) {
    if (!isR12Name(name)) throw new RangeError(`R12 takes no ${what} named ${name}`);
    if (names.has(name)) throw new RangeError(`the drawing has two ${what}s named ${name}`);
    names.add(name);
  }
  return names;
}

function boxOfDrawing({ blocks = [], inserts = [], entities }: R12Drawing): Box {
  const boxes = new Map(blocks.map((block) => [block.name, boxOfBlock(block)]));
  return inserts
    .map(({ block, at }) => movedBox(boxes.get(block)!, at))
    .reduce(unionBox, boxOfEntities(entities));
}

const boxOfBlock = rememberedFor(({ entities }: Block) => boxOfEntities(entities));

function movedBox({ minX, minY, maxX, maxY }: Box, by: Point): Box {
  return { minX: minX + by.x, minY: minY + by.y, maxX: maxX + by.x, maxY: maxY + by.y };
}

function headerTags(box: Box): WrittenTag[] {
  const { minX, minY, maxX, maxY } = box.minX === Infinity ? boxOfPoints([{ x: 0, y: 0 }]) : box;
  return [
    [9, '$ACADVER'],
    [1, 'AC1009'],
    [9, '$EXTMIN'],
    ...pointTags({ x: minX, y: minY }),
    [9, '$EXTMAX'],
    ...pointTags({ x: maxX, y: maxY }),
  ];
}

function tableTags(layers: readonly NamedLayer[]): WrittenTag[] {
  return [
    ...table('LTYPE', [continuous]),
    ...table('LAYER', withLayerZero(layers).map(layerTags)),
    ...table('STYLE', [standardStyle]),
  ];
}

const continuous: readonly WrittenTag[] = [
  [0, 'LTYPE'],
  [2, 'CONTINUOUS'],
  [70, '0'],
  [3, 'Solid line'],
  [72, '65'],
  [73, '0'],
  [40, '0'],
];

const standardStyle: readonly WrittenTag[] = [
  [0, 'STYLE'],
  [2, 'STANDARD'],
  [70, '0'],
  [40, '0'],
  [41, '1'],
  [50, '0'],
  [71, '0'],
  [42, '2.5'],
  [3, 'txt'],
];

function table(name: string, entries: readonly (readonly WrittenTag[])[]): WrittenTag[] {
  return [[0, 'TABLE'], [2, name], [70, String(entries.length)], ...entries.flat(), [0, 'ENDTAB']];
}

function layerTags({ name, colour }: NamedLayer): WrittenTag[] {
  return [
    [0, 'LAYER'],
    [2, name],
    [70, '0'],
    [62, String(colour)],
    [6, 'CONTINUOUS'],
  ];
}

function blockTags({ name, entities }: Block): WrittenTag[] {
  return [
    [0, 'BLOCK'],
    [8, '0'],
    [2, name],
    [70, '0'],
    ...pointTags({ x: 0, y: 0 }),
    [3, name],
    ...entities.flatMap(entityTags),
    [0, 'ENDBLK'],
    [8, '0'],
  ];
}

function insertTags({ block, layer, at }: R12Insert): WrittenTag[] {
  return [[0, 'INSERT'], [8, layer], [2, block], ...pointTags(at)];
}

function entityTags(entity: Entity): WrittenTag[] {
  switch (entity.kind) {
    case 'path':
      return pathTags(entity.path, entity.layer);
    case 'point':
      return pointEntityTags(entity);
    case 'text':
      return textLines(entity).flatMap(textLineTags);
  }
}

function pointEntityTags({ layer, at, mark }: PointEntity): WrittenTag[] {
  const place = pointTags(at);
  if (mark === undefined) return [[0, 'POINT'], [8, layer], ...place];
  return [
    [0, 'POINT'],
    [8, layer],
    ...place.slice(0, 2),
    [30, quantity(mark.height)],
    [39, quantity(mark.thickness)],
    ...(mark.deg === null ? [] : [[50, quantity(mark.deg)] as const]),
  ];
}

function pathTags(path: Path, layer: string): WrittenTag[] {
  const [from, to] = path.vertices;
  if (from === undefined || to === undefined) {
    throw new RangeError(`a path on layer ${layer} has fewer than two vertices`);
  }
  const straight = !path.closed && path.vertices.length === 2 && from.bulge === 0;
  if (straight) return [[0, 'LINE'], [8, layer], ...pointTags(from), ...pointTags(to, 1)];
  return [
    [0, 'POLYLINE'],
    [8, layer],
    [66, '1'],
    ...pointTags({ x: 0, y: 0 }),
    [70, path.closed ? '1' : '0'],
    ...path.vertices.flatMap((vertex): WrittenTag[] => [
      [0, 'VERTEX'],
      [8, layer],
      ...pointTags(vertex),
      ...bulgeTags(vertex.bulge),
    ]),
    [0, 'SEQEND'],
    [8, layer],
  ];
}

function textLineTags({ layer, at, text, height, deg }: TextEntity): WrittenTag[] {
  return [
    [0, 'TEXT'],
    [8, layer],
    ...pointTags(at),
    [40, quantity(height)],
    [1, encodeText(text)],
    [50, quantity(deg)],
  ];
}
