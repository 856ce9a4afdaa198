import type { Drawing, Entity, Units } from '../drawing/drawing.ts';
import { pathOfEntity } from '../drawing/entity-of.ts';
import { readDrawingBytes } from '../drawing/read.ts';
import { refuseErrors } from '../base/findings.ts';
import { areaOf } from '../geometry/paths/area.ts';
import type { Box } from '../geometry/paths/box.ts';
import { boxContains, growBox } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { chained } from '../geometry/joining/chain.ts';
import { placeInPath } from '../geometry/relations/contains.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { groupsOf } from '../pattern/outlines/groups.ts';
import type { Group } from '../pattern/outlines/groups.ts';
import { labelsOf } from '../pattern/labels.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { meaningOf } from '../pattern/layers.ts';
import { defaultGap } from '../pattern/outlines/outlines.ts';
import type { Side } from '../pattern/words.ts';
import type { Comparable, Detail, Item } from './comparable.ts';
import { unitsWord } from './scale.ts';

/**
 * Reads a drawing for comparison: outlines with what lies in them, and lines that lie in none. Throws a
 * Refusal.
 */
export function comparableDrawing(
  bytes: Uint8Array,
  file: string,
  map: LayerMap,
  units: Units | undefined,
): Comparable {
  const stated = readDrawingBytes(bytes, file, units === undefined ? {} : { units });
  // What says nothing is taken as mm, whatever country its header comes from.
  const drawing =
    stated.unitsFrom === 'assumed' ? readDrawingBytes(bytes, file, { units: 'mm' }) : stated;
  refuseErrors(drawing.findings);
  return drawingItems(drawing, map);
}

function drawingItems(drawing: Drawing, map: LayerMap): Comparable {
  const groups = groupsOf(drawing).map((group) => groupItems(group, drawing, map));
  return {
    kind: 'drawing',
    items: groups.flatMap(({ items }) => items),
    words: { [unitsWord]: drawing.units },
    texts: groups.flatMap(({ texts }) => texts),
  };
}

/** A path of a drawing. Loose lines are joined where two ends meet. */
interface JoinedPath {
  readonly layer: string;
  readonly path: Path;
  readonly box: Box;
  readonly area: number;
}

function groupItems(
  group: Group,
  { unplaced }: Drawing,
  map: LayerMap,
): { items: Item[]; texts: string[] } {
  const sheet =
    group.block !== null && unplaced.includes(group.block) ? `block ${group.block}` : '';
  const drawn = drawnIn(group.entities, map);
  const outers = outersAmong(drawn, map);
  const texts = group.entities.filter((entity) => entity.kind === 'text');
  const details = new Map<JoinedPath, Detail[]>(outers.map((outer) => [outer, []]));
  const loose: JoinedPath[] = [];
  for (const one of drawn) {
    if (details.has(one)) continue;
    // A block with one outline is one piece: everything in the block belongs to it, inside and out.
    const isPiece = group.block !== null && outers.length === 1;
    const holder = isPiece ? outers[0] : holderOf(one.path.vertices[0]!, outers, one.path);
    if (holder === undefined) loose.push(one);
    else details.get(holder)!.push({ role: one.layer, path: one.path });
  }
  const cutRanks = new Map(
    outers.filter(({ layer }) => layer === cutLayer).map((outer, i) => [outer, i]),
  );
  const used = new Set<Entity>();
  const items = outers.map((outer): Item => {
    const own = texts.filter(({ at }) => holderOf(at, outers) === outer);
    const label = labelFor(own, outers.length === 1 ? group.block : null, used);
    return {
      label,
      what: 'outline',
      side: sideIn(label),
      outline: outer.path,
      details: details.get(outer)!,
      rank: cutRanks.get(outer) ?? null,
      words: { layer: outer.layer },
      sheet,
    };
  });
  const rest = texts.filter((text) => !used.has(text)).map((text) => `${text.layer}: ${text.text}`);
  return { items: [...items, ...loose.map((one) => looseItem(one, sheet))], texts: rest };
}

/**
 * The layer on which the cutter's drawings of this product have their outlines, in the order of cutting.
 */
const cutLayer = 'CUT';
const labelLayer = 'LABEL';
/** Closed contours on these layers are never outlines, wherever they lie. */
const innerLayers = new Set(['CUT-INNER', 'NOTCH', 'PUNCH', 'MARK']);

function drawnIn(entities: readonly Entity[], map: LayerMap): JoinedPath[] {
  const byLayer = new Map<string, Path[]>();
  for (const entity of entities) {
    if (entity.kind === 'text') continue;
    byLayer.set(entity.layer, [...(byLayer.get(entity.layer) ?? []), pathOfEntity(entity)]);
  }
  return [...byLayer].flatMap(([layer, paths]) => {
    const role = meaningOf(layer, map)?.role;
    // Traces along an outline end where the edge ends. Joined they would become one, so they stay as they
    // are.
    const joins =
      role === undefined
        ? !innerLayers.has(layer)
        : ['OUTLINE', 'CUTOUT', 'HOLE', 'PAD'].includes(role);
    const lines = paths.filter(({ vertices }) => vertices.length > 1);
    const points = paths.filter(({ vertices }) => vertices.length === 1);
    const drawn = joins ? chained(lines, defaultGap).chains.map(({ path }) => path) : lines;
    return [...drawn, ...points].map((path) => ({
      layer,
      path,
      box: boxOfPath(path),
      area: areaOf(path),
    }));
  });
}

/**
 * The outlines: closed paths whose layer says so, or, if their layer has no meaning, those that lie
 * inside an even number of other closed paths.
 */
function outersAmong(drawn: readonly JoinedPath[], map: LayerMap): JoinedPath[] {
  const closed = drawn.filter(({ path }) => path.closed);
  return closed.filter((one) => {
    const role = meaningOf(one.layer, map)?.role;
    if (role !== undefined) return role === 'OUTLINE';
    if (one.layer === cutLayer) return true;
    if (innerLayers.has(one.layer)) return false;
    const around = closed.filter(
      (other) => other !== one && other.area > one.area && holds(other, one.path.vertices[0]!),
    );
    return around.length % 2 === 0;
  });
}

/** How far something that stands on an outline may be from it, mm. */
const onOutline = 0.5;

function holds({ path, box }: JoinedPath, point: Point): boolean {
  const { x, y } = point;
  if (!boxContains(growBox(box, onOutline), { minX: x, minY: y, maxX: x, maxY: y })) return false;
  return placeInPath(path, point, onOutline) !== 'outside';
}

/** The smallest outline in or on which a point lies. `itself`: an outline that does not count. */
function holderOf(
  point: Point,
  outers: readonly JoinedPath[],
  itself?: Path,
): JoinedPath | undefined {
  return outers
    .filter((outer) => outer.path !== itself && holds(outer, point))
    .toSorted((a, b) => a.area - b.area)[0];
}

/**
 * The label of an outline: a text on the layer of labels, a `Piece Name:`, or the name of its block if it
 * is alone in that.
 */
function labelFor(
  texts: readonly Entity[],
  block: string | null,
  used: Set<Entity>,
): string | null {
  const label = texts.find(({ kind, layer }) => kind === 'text' && layer === labelLayer);
  if (label?.kind === 'text') {
    used.add(label);
    return label.text;
  }
  return labelsOf(texts).name ?? block;
}

/** The side in a label like `mat-left.1.A1`. */
function sideIn(label: string | null): Side | null {
  const [, side] = /-(left|right)(?:-\d+)?(?:\.|$)/i.exec(label ?? '') ?? [];
  return side === undefined ? null : (side.toLowerCase() as Side);
}

function looseItem({ layer, path }: JoinedPath, sheet: string): Item {
  return {
    label: null,
    what: path.vertices.length === 1 ? `point on ${layer}` : `line on ${layer}`,
    side: null,
    outline: path,
    details: [],
    rank: null,
    words: {},
    sheet,
  };
}
