import { counted } from '../base/wording.ts';
import { refuseErrors } from '../base/findings.ts';
import type { Block, Drawing, Entity } from '../drawing/drawing.ts';
import { isR12Name } from '../drawing/writing/write-r12.ts';
import { ownLayerNames } from '../pattern/first-look/own-layers.ts';
import type { LayerMap } from '../pattern/layers.ts';
import { layerName, meaningOf } from '../pattern/layers.ts';
import { defaultGap, outlined } from '../pattern/outlines/outlines.ts';
import { placedOtherwise } from '../pattern/placed-blocks.ts';
import { leftOutBlock, leftOutKey } from '../pattern/set-file.ts';
import { shortLayers } from '../pattern/write-set.ts';
import { blockNameOf } from './blocks.ts';
import type { DraftContent, PieceSaid, SetSaid } from './content.ts';
import type { Draft } from './draft.ts';
import type { EditContext } from './edit-context.ts';
import { withValues } from './values.ts';

/**
 * The content of a draft whose drawings are other programs', as the desk writes it: one drawing in mm with a
 * block for each piece, loose lines joined, on layers named for what they mean. Layers that say nothing keep
 * their names as far as R12 allows. Throws a Refusal where a drawing shows a block stretched or mirrored.
 */
export function ownContent(draft: Draft, { layersOf }: EditContext): DraftContent {
  const { said, drawings } = draft;
  const layers = ownLayerNames(
    [...drawings.values()].flatMap(allEntities).map(({ layer }) => layer),
    layersOf(null),
  );
  const blocks = new Map<string, Block>();
  /** Takes over a block, or all of a drawing, and gives the name that it has now. */
  const take = (
    file: string,
    block: string | null,
    wanted: string,
    piece: string | null,
  ): string => {
    const key = JSON.stringify([file, block]);
    const drawing = drawings.get(file)!;
    const map = layersOf(piece);
    const drawn = block === null ? drawing.entities : drawnBlock(drawing, block).entities;
    const name = blocks.get(key)?.name ?? freeName(wanted, blocks.values());
    const entities = tidied(drawn, drawing, map, said).map((entity) => {
      const meaning = meaningOf(entity.layer, map);
      const layer = meaning === null ? layers.nameOf(entity.layer) : layerName(meaning);
      return { ...entity, layer };
    });
    if (!blocks.has(key)) blocks.set(key, { name, entities });
    return name;
  };
  const pieces = Object.entries(said.pieces).map(([piece, entry]): [string, PieceSaid] => {
    const file = entry.file ?? said.drawing!;
    const isWhole = entry.file !== undefined && entry.block === undefined;
    const own = isWhole ? null : blockNameOf(piece, entry);
    const block = take(file, own, own ?? piece.toUpperCase(), piece);
    const other = entry.other === undefined ? null : take(file, entry.other, entry.other, piece);
    const isNamed = block === piece.toUpperCase();
    return [
      piece,
      withValues(entry, { file: null, layers: null, block: isNamed ? null : block, other }),
    ];
  });
  const idle = said.drawing === undefined ? [] : drawings.get(said.drawing)!.blocks;
  const names = new Map(
    idle.map(({ name }) => [
      name.toUpperCase(),
      take(said.drawing!, name.toUpperCase(), name, null),
    ]),
  );
  const loose = looseIn(draft, layersOf(null), layers.nameOf);
  const all = [...blocks.values()];
  const short = shortLayers(loose.length === 0 ? all : withLeftOutBlock(all, loose));
  const open =
    loose.length === 0
      ? said.open
      : {
          ...said.open,
          [leftOutKey]: `${counted(loose.length, 'thing')} drawn in the sheet, in no block`,
        };
  return {
    blocks: short.blocks,
    said: withValues(said, {
      units: 'mm',
      drawing: said.drawing ?? `${draft.name}.dxf`,
      refit: null,
      open: open ?? null,
      layers: short.layers.size === 0 ? null : Object.fromEntries(short.layers),
      pieces: Object.fromEntries(pieces),
      unused: said.unused?.map((name) => names.get(name.toUpperCase()) ?? name) ?? null,
    }),
  };
}

/** What a drawing has in its sheet, in no block: no piece is read from it. */
function looseIn(
  { said, drawings }: Draft,
  map: LayerMap,
  nameOf: (layer: string) => string,
): Entity[] {
  const drawing = said.drawing === undefined ? undefined : drawings.get(said.drawing);
  return (drawing?.entities ?? [])
    .filter(
      ({ placement, line }) => placement === undefined && !drawing!.squareLines.includes(line),
    )
    .map((entity) => {
      const meaning = meaningOf(entity.layer, map);
      return { ...entity, layer: meaning === null ? nameOf(entity.layer) : layerName(meaning) };
    });
}

function withLeftOutBlock(blocks: readonly Block[], loose: readonly Entity[]): Block[] {
  const before = blocks.find(({ name }) => name === leftOutBlock)?.entities ?? [];
  return [
    ...blocks.filter(({ name }) => name !== leftOutBlock),
    { name: leftOutBlock, entities: [...before, ...loose] },
  ];
}

function allEntities({ entities, blocks }: Drawing): Entity[] {
  return [...entities, ...blocks.flatMap((block) => block.entities)];
}

function drawnBlock(drawing: Drawing, name: string): Block {
  const block = drawing.blocks.find((one) => one.name.toUpperCase() === name.toUpperCase())!;
  refuseErrors(placedOtherwise(block, drawing, name));
  return block;
}

/** What is drawn, as a set reads it: without a check square, with loose lines joined. */
function tidied(
  entities: readonly Entity[],
  { file, squareLines }: Drawing,
  map: LayerMap,
  { gap = defaultGap, refit }: SetSaid,
): readonly Entity[] {
  const pattern = entities.filter(({ line }) => !squareLines.includes(line));
  return outlined(pattern, map, { gap, refit }, { file }).entities;
}

/** A name that R12 allows and no block has. */
function freeName(wanted: string, blocks: Iterable<Block>): string {
  const taken = new Set([...blocks].map(({ name }) => name));
  const own = wanted.toUpperCase();
  if (isR12Name(own) && !taken.has(own)) return own;
  for (let n = 1; ; n++) if (!taken.has(`PIECE-${n}`)) return `PIECE-${n}`;
}
