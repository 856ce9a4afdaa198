import type { Drawing, Entity } from '../../drawing/drawing.ts';
import { boxOfEntities } from '../../drawing/extents.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { emptyBox, heightOf, unionBox, widthOf } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { transformPath, translation } from '../../geometry/paths/transform.ts';

/**
 * The frame of a drawing's picture: the lower left corner of all that is drawn is its origin. Blocks that
 * the drawing never shows stand beside it in a row, because pieces are looked for in them too.
 */
export interface SightFrame {
  /** All that is in the picture. */
  readonly entities: readonly Entity[];
  readonly width: number;
  readonly height: number;
  /** How far something is moved from where the drawing has it; `block`: that in which it is known to lie. */
  readonly moveOf: (thing: Pick<Entity, 'line' | 'placement'>, block?: string | null) => Point;
  /** How far what lies in a block, or loose, is moved. */
  readonly moveOfBlock: (block: string | null) => Point;
}

/** The room between blocks in the row, as a share of the height of the tallest. */
const roomBetween = 0.1;

export function sightFrame({ entities, blocks, unplaced }: Drawing): SightFrame {
  const spare = blocks.filter(
    ({ name, entities: inside }) => unplaced.includes(name) && inside.length > 0,
  );
  const boxes = spare.map((block) => boxOfEntities(block.entities));
  const shown = boxOfEntities(entities);
  const tallest = Math.max(0, heightOf(shown), ...boxes.map(heightOf));
  const start = widthOf(shown) < 0 ? { x: 0, y: 0 } : { x: shown.maxX, y: shown.minY };
  let reached = start.x;
  const moves = new Map<string, Point>();
  let whole: Box = shown;
  for (const [i, { name }] of spare.entries()) {
    const box = boxes[i]!;
    const room = reached === start.x && widthOf(shown) < 0 ? 0 : roomBetween * tallest;
    const by = { x: reached + room - box.minX, y: start.y - box.minY };
    moves.set(name, by);
    reached += room + widthOf(box);
    whole = unionBox(whole, {
      minX: box.minX + by.x,
      minY: box.minY + by.y,
      maxX: box.maxX + by.x,
      maxY: box.maxY + by.y,
    });
  }
  if (widthOf(whole) < 0) whole = { ...emptyBox, minX: 0, minY: 0, maxX: 0, maxY: 0 };
  const corner = { x: -whole.minX, y: -whole.minY };
  const movedBy = (by: Point | undefined): Point =>
    by === undefined ? corner : { x: corner.x + by.x, y: corner.y + by.y };
  const blockAtLine = new Map<number, string>();
  for (const { name, entities: inside } of spare) {
    for (const { line } of inside) if (!blockAtLine.has(line)) blockAtLine.set(line, name);
  }
  const moveOfBlock = (block: string | null): Point =>
    movedBy(block === null ? undefined : moves.get(block));
  return {
    entities: [...entities, ...spare.flatMap((block) => block.entities)],
    width: widthOf(whole),
    height: heightOf(whole),
    moveOf: ({ line, placement }, block = null) =>
      placement === undefined
        ? moveOfBlock(block ?? blockAtLine.get(line) ?? null)
        : movedBy(undefined),
    moveOfBlock,
  };
}

/** A path as it lies in the picture. */
export function inPicture(path: Path, by: Point): Path {
  return transformPath(translation(by), path);
}
