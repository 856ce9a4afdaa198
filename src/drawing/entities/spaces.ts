import type { Curve } from '../../geometry/curves/curve.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import { compose, identity, translation } from '../../geometry/paths/transform.ts';
import { refuse } from '../../base/findings.ts';
import type { DxfBlock } from '../tags/content.ts';
import { isExternal, nameIn } from '../tags/content.ts';
import { pointIn } from './curves.ts';
import type { DrawnEntity } from './drawn.ts';
import type { EntityReading } from './entities.ts';
import { notRead, readEntity, remarkOn, withinReach } from './entities.ts';
import type { Remark } from '../findings.ts';
import { frameOf } from './frame.ts';
import { copiesOf, placesOf, scalesOf } from './inserts.ts';
import type { LayerState } from '../tags/layers.ts';
import { placed } from './placing.ts';
import type { DxfRecord } from '../tags/records.ts';
import { numberIn } from '../tags/records.ts';

/**
 * Model space or a block, with all inserts in it resolved. In mm; for a block, with its base point at the
 * origin.
 */
export interface Space {
  readonly entities: readonly DrawnEntity[];
  readonly remarks: readonly Remark[];
  /** The keys (see blockKey) of the blocks that are inserted here, directly or inside another one. */
  readonly uses: readonly string[];
}

/** What the reading of one file needs to know. `done` and `produced` are filled while it goes on. */
export interface Reading {
  readonly blocks: ReadonlyMap<string, DxfBlock>;
  readonly mmPerUnit: number;
  readonly layerState: (layer: string) => LayerState;
  /** The blocks that have been resolved, by key: each is resolved once, however often it is inserted. */
  readonly done: Map<string, Space>;
  /** How many entities and vertices inserts have made so far. */
  readonly produced: { entities: number; vertices: number };
}

const mostEntities = 200_000;
const mostVertices = 2_000_000;
const deepestNesting = 100;

/** The name by which a block is found: DXF does not tell upper from lower case. */
export function blockKey(name: string): string {
  return name.toUpperCase();
}

/**
 * Reads the entities of model space, or of a block. `within` holds the keys of the blocks that are being
 * read, the innermost last; it is empty for model space. Throws a Refusal if a block contains itself, if
 * inserts multiply beyond what a pattern can need, or if an entity is damaged.
 */
export function readSpace(
  reading: Reading,
  records: readonly DxfRecord[],
  within: readonly string[],
): Space {
  const spaces = records.map((record): Space => {
    const why = whyHidden(reading, record, within.length > 0);
    if (why !== undefined) return saying({ ...remarkOn(record, 'hidden'), what: why });
    if (record.type === 'INSERT') return readInsert(reading, record, within);
    return spaceOf(readEntity(record, reading.mmPerUnit));
  });
  return joined(spaces);
}

/** A block, in its own frame. `line` is the line of the file that asks for it. */
export function readBlock(
  reading: Reading,
  block: DxfBlock,
  within: readonly string[],
  line: number,
): Space {
  const key = blockKey(block.name);
  const known = reading.done.get(key);
  if (known !== undefined) return known;
  checkNesting(key, within, line);
  const { entities, remarks, uses } = readSpace(reading, block.entities, [...within, key]);
  const base = pointIn(block.head);
  const toBase = translation({ x: -base.x * reading.mmPerUnit, y: -base.y * reading.mmPerUnit });
  const moved = entities.map((entity) => placed(toBase, entity));
  const space = { entities: moved, remarks, uses };
  reading.done.set(key, space);
  return space;
}

function checkNesting(key: string, within: readonly string[], line: number): void {
  if (within.includes(key)) {
    refuse(
      'block-loop',
      `block ${key} contains itself (${[...within, key].join(' > ')}).`,
      'Remove that insert in the drawing and export again.',
      { line },
    );
  }
  if (within.length >= deepestNesting) {
    refuse(
      'block-depth',
      `blocks are nested more than ${deepestNesting} deep.`,
      'Explode the inner blocks and export again.',
      { line },
    );
  }
}

/**
 * Why an entity is not shown; undefined if it is. An entity on layer 0 in a block takes the layer of the
 * insert, so the state of layer 0 does not hide it there.
 */
function whyHidden(reading: Reading, record: DxfRecord, inBlock: boolean): string | undefined {
  // Viewports only occur in paper space, and nobody would miss them in a pattern.
  if (record.type === 'VIEWPORT') return undefined;
  if (numberIn(record, 67, 0) === 1) return 'drawn in paper space';
  if (numberIn(record, 60, 0) === 1) return 'set invisible';
  const layer = nameIn(record, 8);
  const state = inBlock && layer === '0' ? 'shown' : reading.layerState(layer);
  if (state === 'frozen') return 'the layer is frozen';
  // If the layer of an insert is off, what it places on other layers is still shown.
  return state === 'off' && record.type !== 'INSERT' ? 'the layer is off' : undefined;
}

function readInsert(reading: Reading, record: DxfRecord, within: readonly string[]): Space {
  const attributes = readSpace(reading, record.parts, within);
  const block = insertedBlock(reading, record);
  if ('remarks' in block) return joined([spaceOf(block), attributes]);
  const inner = readBlock(reading, block, within, record.line);
  const { shown, remarks } = onLayerOf(reading, record, inner.entities, within.length > 0);
  const own = { entities: [], remarks, uses: [blockKey(block.name), ...inner.uses] };
  const { entities, transforms, remarks: said } = placeAll(reading, record, shown);
  // The attributes are texts of the insert itself: they go with its first place.
  const all = [entities[0] ?? [], ...entities.slice(1)];
  const copies = all.map((copy, i) => (i === 0 ? [...copy, ...attributes.entities] : copy));
  const named =
    within.length > 0
      ? copies
      : copies.map((copy, i) => marked(copy, record, i, transforms[i] ?? identity));
  return joined([
    own,
    { ...nothing, remarks: said, entities: named.flat() },
    { ...attributes, entities: [] },
  ]);
}

/** The block that an INSERT places, or a remark that says why there is none. */
function insertedBlock(reading: Reading, record: DxfRecord): DxfBlock | EntityReading {
  const name = nameIn(record, 2);
  const block = reading.blocks.get(blockKey(name));
  if (block === undefined) {
    return notRead(record, `INSERT of the missing block ${name}`, 'Export again with all blocks.');
  }
  if (isExternal(block)) {
    const todo = 'Bind it into the drawing and export again.';
    return notRead(record, `INSERT of the external drawing ${name}`, todo);
  }
  const { x, y } = scalesOf(record);
  if (x === 0 || y === 0) return notRead(record, `INSERT of ${name} with a scale of 0`);
  return frameOf(record, 0) === undefined
    ? notRead(record, `INSERT of ${name} seen on its edge`)
    : block;
}

/**
 * The entities of a block. Those on layer 0 are put on the layer of the insert, or hidden if that is off.
 */
function onLayerOf(
  reading: Reading,
  record: DxfRecord,
  entities: readonly DrawnEntity[],
  inBlock: boolean,
): { shown: DrawnEntity[]; remarks: Remark[] } {
  const layer = nameIn(record, 8);
  const off = !(inBlock && layer === '0') && reading.layerState(layer) === 'off';
  const floating = entities.filter((entity) => entity.layer === '0').length;
  if (!off || floating === 0) {
    const shown = entities.map((e) => (e.layer === '0' && layer !== '0' ? { ...e, layer } : e));
    return { shown, remarks: [] };
  }
  const remark = { ...remarkOn(record, 'hidden'), what: 'the layer is off', count: floating };
  return { shown: entities.filter((entity) => entity.layer !== '0'), remarks: [remark] };
}

function marked(
  entities: readonly DrawnEntity[],
  record: DxfRecord,
  copy: number,
  transform: Transform,
): DrawnEntity[] {
  const placement = { block: nameIn(record, 2), line: record.line, copy, transform };
  return entities.map((entity) => ({ ...entity, placement }));
}

/** The entities of a block at each place of an INSERT: one list for each place. */
function placeAll(
  reading: Reading,
  record: DxfRecord,
  entities: readonly DrawnEntity[],
): { entities: DrawnEntity[][]; transforms: readonly Transform[]; remarks: Remark[] } {
  if (entities.length === 0) return { entities: [], transforms: [], remarks: [] };
  countProduced(reading, record, entities);
  const { toWorld, tilted } = frameOf(record, numberIn(record, 30, 0) * reading.mmPerUnit)!;
  const places = placesOf(record, reading.mmPerUnit).map((place) => compose(toWorld, place));
  return {
    entities: places.map((place) => entities.map((entity) => withinReach(placed(place, entity)))),
    transforms: places,
    remarks: tilted ? [remarkOn(record, 'not-level')] : [],
  };
}

function countProduced(
  { produced }: Reading,
  record: DxfRecord,
  entities: readonly DrawnEntity[],
): void {
  const copies = copiesOf(record);
  produced.entities += copies * entities.length;
  produced.vertices += copies * entities.reduce((sum, entity) => sum + verticesOf(entity), 0);
  if (produced.entities <= mostEntities && produced.vertices <= mostVertices) return;
  refuse(
    'too-many-inserts',
    `the inserts of this drawing (groups 70 and 71) make more than ${mostEntities} entities or ${mostVertices} vertices.`,
    'Remove the arrays or nested blocks that are no pattern pieces and export again.',
    { line: record.line },
  );
}

function verticesOf(entity: DrawnEntity): number {
  if (entity.kind === 'curves') return entity.curves.reduce((sum, one) => sum + sizeOf(one), 0);
  return entity.kind === 'path' ? entity.path.vertices.length : 1;
}

function sizeOf(curve: Curve): number {
  return curve.kind === 'spline' ? curve.points.length : 4;
}

const nothing: Space = { entities: [], remarks: [], uses: [] };

function saying(remark: Remark): Space {
  return { ...nothing, remarks: [remark] };
}

function spaceOf({ entity, remarks }: EntityReading): Space {
  return { ...nothing, entities: entity === undefined ? [] : [entity], remarks };
}

function joined(spaces: readonly Space[]): Space {
  return {
    entities: spaces.flatMap(({ entities }) => entities),
    remarks: spaces.flatMap(({ remarks }) => remarks),
    uses: [...new Set(spaces.flatMap(({ uses }) => uses))],
  };
}
