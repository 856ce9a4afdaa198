import { rounded } from '../base/numbers.ts';
import type { Block, PathEntity } from '../drawing/drawing.ts';
import { pathLength } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { meaningOf } from '../pattern/layers.ts';
import { openGaps } from '../pattern/outlines/open-ends.ts';
import { defaultGap, outlined } from '../pattern/outlines/outlines.ts';
import { blockOfPiece } from './blocks.ts';
import type { DraftContent } from './content.ts';
import type { EditContext } from './edit-context.ts';
import type { Spot } from './edge-view.ts';

/** Two ends of lines of a block that face each other; mm, in the frame of the block. */
export interface Gap {
  readonly block: string;
  readonly from: Spot;
  readonly to: Spot;
  readonly size: number;
}

/** A wider gap in an outline, mm, is no slip of the pen: a line is missing there. */
const widestSlip = 60;

/** What is cut inside a piece is often drawn as three sides of a box: any gap in it may be closed. */
const innerRoles: ReadonlySet<string> = new Set(['CUTOUT', 'HOLE', 'PAD']);

/** A line between two gaps is longer than these by so much, or it is a dash or a mark. */
const muchLonger = 5;

/** The gap of a piece that ends at a place; null: there is none that a straight line may close. */
export function gapAt(
  content: DraftContent,
  { layersOf }: EditContext,
  piece: string,
  at: Point,
): Gap | null {
  const isHere = ([x, y]: Spot): boolean => Math.hypot(x - at.x, y - at.y) <= 2 * samePoint;
  const gaps = gapsOf(content, blockOfPiece(content, piece), layersOf(piece));
  return gaps.find(({ from, to }) => isHere(from) || isHere(to)) ?? null;
}

/** Gaps between the long lines of a block, which may be an outline that nobody closed. */
export function gapsOfLong(content: DraftContent, block: Block, map: LayerMap): Gap[] {
  return gapsOf(content, block, map, muchLonger);
}

function gapsOf({ said }: DraftContent, block: Block, map: LayerMap, longer = 0): Gap[] {
  const { gap = defaultGap } = said;
  const open = outlined(block.entities, map, { gap }, {}).entities.filter(
    (entity): entity is PathEntity => entity.kind === 'path' && !entity.path.closed,
  );
  const layers = [...new Set(open.map(({ layer }) => layer))];
  const widestOn = (layer: string): number =>
    innerRoles.has(meaningOf(layer, map)?.role ?? '') ? Infinity : widestSlip;
  return layers.flatMap((layer) =>
    openGaps(open.filter((one) => one.layer === layer))
      .filter(({ size }) => size > samePoint && size <= widestOn(layer))
      .filter(({ of, size }) => pathLength(of.path) > longer * size)
      .map(({ at, to, size }) => ({
        block: block.name,
        from: spotOf(at),
        to: spotOf(to),
        size: rounded(size, 2),
      })),
  );
}

function spotOf({ x, y }: Point): Spot {
  return [rounded(x, 3), rounded(y, 3)];
}
