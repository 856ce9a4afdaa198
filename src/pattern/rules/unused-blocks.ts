import type { Finding } from '../../base/findings.ts';
import { counted, shownNames } from '../../base/wording.ts';
import type { YamlFile } from '../../base/yaml.ts';
import type { Block, Drawing, Entity } from '../../drawing/drawing.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import type { SetContent } from '../set-file.ts';
import { leftOutBlock } from '../set-file.ts';

/** A drawing of a set, and the names in capitals of the blocks in it that its pieces are read from. */
export interface DrawingInUse {
  readonly drawing: Drawing;
  readonly blocks: ReadonlySet<string>;
  /** Whether a piece is read from all that is drawn in it, and not from a block. */
  readonly isReadWhole: boolean;
}

/**
 * Rule: every outline in a set's drawings is a piece of the set, or the set file says that it is not
 * wanted. What no piece uses is not cut, and nothing else would tell.
 */
export function checkUnusedBlocks(
  { value, placeOf }: YamlFile<SetContent>,
  drawings: readonly DrawingInUse[],
  map: LayerMap,
): Finding[] {
  const waived = new Set((value.unused ?? []).map((name) => name.toUpperCase()));
  const idle = drawings.map((one) => ({ ...one, names: unusedIn(one, map) }));
  const told = idle.flatMap(({ drawing, isReadWhole, names }): Finding[] => {
    const open = names.filter((name) => !waived.has(name.toUpperCase()));
    const loose = isReadWhole ? [] : drawing.entities.filter((one) => isLooseOutline(one, map));
    const outlines = loose.length === 0 ? [] : [counted(loose.length, 'outline') + ' in no block'];
    if (open.length + loose.length === 0) return [];
    return [
      {
        severity: 'warning',
        rule: 'unused-block',
        message: `drawn, and no piece of the set uses it: ${[...(open.length === 0 ? [] : [shownNames(open)]), ...outlines].join(', and ')}.`,
        todo: 'Add a piece for it, name it as "block:" or "other:" of one, or put its block under "unused:" of the set, for example "unused: [NAME]".',
        where: {
          file: drawing.file,
          ...(open.length === 0 ? { line: loose[0]!.line } : {}),
        },
      },
    ];
  });
  const inSheet = drawings.flatMap((one) => drawnInSheet(one, map));
  const all = new Set(idle.flatMap(({ names }) => names.map((name) => name.toUpperCase())));
  const idleWords = (value.unused ?? []).filter((name) => !all.has(name.toUpperCase()));
  if (idleWords.length === 0) return [...told, ...inSheet];
  return [
    ...told,
    ...inSheet,
    {
      severity: 'warning',
      rule: 'unused-names-nothing',
      message: `"unused:" names ${shownNames(idleWords)}, and no block of that name is left over.`,
      todo: 'Take it out, or correct the name.',
      where: placeOf(['unused']),
    },
  ];
}

/**
 * Lines and points that lie in the sheet itself, while the pieces are read from blocks: over a block that is
 * shown there they look like part of the piece, and are none.
 */
function drawnInSheet({ drawing, blocks, isReadWhole }: DrawingInUse, map: LayerMap): Finding[] {
  if (isReadWhole || blocks.size === 0) return [];
  const loose = drawing.entities.filter(
    (entity) =>
      entity.placement === undefined &&
      entity.kind !== 'text' &&
      meaningOf(entity.layer, map)?.role !== 'NOTE' &&
      !isLooseOutline(entity, map) &&
      !drawing.squareLines.includes(entity.line),
  );
  const [first] = loose;
  if (first === undefined) return [];
  return [
    {
      severity: 'warning',
      rule: 'in-no-block',
      message: `${counted(loose.length, 'thing')} on ${shownNames([...new Set(loose.map(({ layer }) => layer))])} ${loose.length === 1 ? 'is' : 'are'} drawn in the sheet and in no block, and no piece has ${loose.length === 1 ? 'it' : 'them'}: pieces are read from their blocks.`,
      todo: 'Draw it in the block of its piece, or on NOTE if it is only to be read.',
      where: { file: drawing.file, line: first.line },
    },
  ];
}

function unusedIn({ drawing, blocks }: DrawingInUse, map: LayerMap): string[] {
  if (blocks.size === 0) return [];
  const isUsed = ({ name }: Block): boolean => blocks.has(name.toUpperCase());
  // A block that is inserted in another one is read with it: its lines are those of the file.
  const read = new Set(
    drawing.blocks.filter(isUsed).flatMap(({ entities }) => entities.map(({ line }) => line)),
  );
  return drawing.blocks
    .filter((block) => !isUsed(block) && block.name.toUpperCase() !== leftOutBlock)
    .filter(({ entities }) =>
      entities.some(
        (one) =>
          isPattern(one, map) && !read.has(one.line) && !drawing.squareLines.includes(one.line),
      ),
    )
    .map(({ name }) => name);
}

/** Whether an entity is an outline, or a closed line that is not only to be read. */
function isPattern(entity: Entity, map: LayerMap): boolean {
  const role = meaningOf(entity.layer, map)?.role;
  if (entity.kind !== 'path') return false;
  return role === 'OUTLINE' || (role !== 'NOTE' && entity.path.closed);
}

function isLooseOutline(entity: Entity, map: LayerMap): boolean {
  return (
    entity.kind === 'path' &&
    entity.placement === undefined &&
    entity.path.closed &&
    meaningOf(entity.layer, map)?.role === 'OUTLINE'
  );
}
