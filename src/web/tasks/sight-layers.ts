import { rounded } from '../../base/numbers.ts';
import { counted } from '../../base/wording.ts';
import type { Entity, PathEntity } from '../../drawing/drawing.ts';
import { boxOfEntities } from '../../drawing/extents.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { emptyBox, unionBox } from '../../geometry/paths/box.ts';
import { boxOfPath, pathLength } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { pathData } from '../../papers/svg/svg.ts';
import type { LayerMap } from '../../pattern/layers.ts';
import { layerName, meaningOf, numberedRole } from '../../pattern/layers.ts';
import type { SightBox, SightLayer } from '../api/sight.ts';
import type { SightFrame } from './sight-frame.ts';
import { inPicture } from './sight-frame.ts';
import { thinnedPaths } from './thinned-path.ts';

/** What says what a layer means, each by the layer in upper case. */
export interface SaidBy {
  readonly shop: LayerMap;
  readonly customer: LayerMap;
  readonly answers: LayerMap;
  /** All of these, as they win. */
  readonly all: LayerMap;
}

/** An open line that is no longer than this, mm, may be a notch. */
const shortLine = 40;

/**
 * Every layer of a drawing with all that is on it. `outlineLayers`: the layer of each outline that was
 * found. `thinned`: how far lines may be from where they are, mm.
 */
export function sightLayers(
  frame: SightFrame,
  said: SaidBy,
  outlineLayers: readonly string[],
  thinned: number,
): SightLayer[] {
  const byLayer = new Map<string, Entity[]>();
  for (const entity of frame.entities) {
    const own = byLayer.get(entity.layer) ?? [];
    own.push(entity);
    byLayer.set(entity.layer, own);
  }
  return [...byLayer].map(([name, entities]) => ({
    ...sightLayer(name, entities, frame, said, thinned),
    outlines: outlineLayers.filter((layer) => layer === name).length,
  }));
}

function sightLayer(
  name: string,
  entities: readonly Entity[],
  frame: SightFrame,
  said: SaidBy,
  thinned: number,
): Omit<SightLayer, 'outlines'> {
  const paths = entities.filter((entity): entity is PathEntity => entity.kind === 'path');
  const moved = paths.map((entity) => inPicture(entity.path, frame.moveOf(entity)));
  const points = entities.flatMap((entity): SightLayer['points'] => {
    if (entity.kind !== 'point') return [];
    const by = frame.moveOf(entity);
    return [[rounded(entity.at.x + by.x, 2), rounded(entity.at.y + by.y, 2)]];
  });
  const texts = entities.flatMap((entity): SightLayer['texts'] => {
    if (entity.kind !== 'text') return [];
    const by = frame.moveOf(entity);
    const at = [rounded(entity.at.x + by.x, 2), rounded(entity.at.y + by.y, 2)] as const;
    return [{ at, text: entity.text, height: entity.height, deg: entity.deg }];
  });
  const ofPoints = points.map(([x, y]): Box => ({ minX: x, minY: y, maxX: x, maxY: y }));
  const box = [...moved.map(boxOfPath), ...ofPoints].reduce(unionBox, emptyBox);
  return {
    name,
    ...meaningIn(name, said),
    ofCustomer: said.customer.get(name.toUpperCase()) ?? null,
    count: entities.length,
    words: thingsWords(entities),
    d: thinnedPaths(moved, thinned).map(pathData).join(''),
    points,
    texts,
    box: box.minX > box.maxX ? null : roundedBox(box),
  };
}

/** What a layer means. Its number alone says nothing for sure: what a standard has under it is only offered. */
function meaningIn(name: string, said: SaidBy): Pick<SightLayer, 'means' | 'from' | 'looksLike'> {
  const key = name.toUpperCase();
  const standard = said.all.has(key) ? null : numberedRole(name);
  if (standard !== null) {
    const why =
      'Layers with numbers are mostly numbered so (ASTM D6673, a standard for exchanging patterns).';
    return { means: null, from: null, looksLike: { means: standard, why } };
  }
  const meaning = meaningOf(name, said.all);
  if (meaning === null) return { means: null, from: null, looksLike: null };
  const from = said.answers.has(key)
    ? 'answer'
    : said.customer.has(key)
      ? 'customer'
      : said.shop.has(key)
        ? 'shop'
        : 'name';
  return { means: layerName(meaning), from, looksLike: null };
}

/** What kinds of things there are, and how many: `2 closed lines, 14 short lines, 1 text`. */
function thingsWords(entities: readonly Entity[]): string {
  const counts = new Map<string, number>();
  for (const entity of entities) {
    const kind = kindOf(entity);
    counts.set(kind, (counts.get(kind) ?? 0) + 1);
  }
  return ['closed line', 'circle', 'open line', 'short line', 'point', 'text']
    .flatMap((kind) => (counts.has(kind) ? [counted(counts.get(kind)!, kind)] : []))
    .join(', ');
}

function kindOf(entity: Entity): string {
  if (entity.kind !== 'path') return entity.kind;
  const { path } = entity;
  if (!path.closed) return pathLength(path) <= shortLine ? 'short line' : 'open line';
  return isCircle(path) ? 'circle' : 'closed line';
}

function isCircle({ vertices }: Path): boolean {
  return vertices.length === 2 && vertices.every(({ bulge }) => Math.abs(bulge) === 1);
}

export function roundedBox({ minX, minY, maxX, maxY }: Box): SightBox {
  return [rounded(minX, 2), rounded(minY, 2), rounded(maxX, 2), rounded(maxY, 2)];
}

/** The box of an entity as it lies in the picture. */
export function boxInPicture(entity: Entity, frame: SightFrame): SightBox {
  const { x, y } = frame.moveOf(entity);
  const { minX, minY, maxX, maxY } = boxOfEntities([entity]);
  return roundedBox({ minX: minX + x, minY: minY + y, maxX: maxX + x, maxY: maxY + y });
}
