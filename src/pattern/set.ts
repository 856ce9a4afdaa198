import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Block, Drawing, Entity, Units } from '../drawing/drawing.ts';
import { readDrawing } from '../drawing/read.ts';
import type { Finding, Place } from '../base/findings.ts';
import { refuse } from '../base/findings.ts';
import type { YamlFile } from '../base/yaml.ts';
import { readYaml } from '../base/yaml.ts';
import type { Binding } from './shop/binding.ts';
import { readBinding } from './shop/binding.ts';
import type { LayerMap } from './layers.ts';
import { ownLayers, readLayerMap } from './layers.ts';
import { defaultGap, gapFindings, outlined } from './outlines/outlines.ts';
import { outlineAmong } from './outlines/numbered.ts';
import { runBeside } from './outlines/twins.ts';
import type { Piece } from './piece.ts';
import { pieceOf } from './piece.ts';
import { isLevel, statedPile } from './pile.ts';
import { neverShown, placedOtherwise } from './placed-blocks.ts';
import type { OptionValue, PieceUses, SetChoice } from './choice.ts';
import { materialsOfUses, optionsOf, usesOf, withMaterials } from './choice.ts';
import type { PieceEntry, SetContent } from './set-file.ts';
import { leftOutBlock, leftOutKey, setSchema } from './set-file.ts';
import { checkPiece, checkSetContent } from './rules/rules.ts';
import type { DrawingInUse } from './rules/unused-blocks.ts';
import { checkUses } from './rules/uses.ts';
import { checkUnusedBlocks } from './rules/unused-blocks.ts';
import type { UnknownThing } from './unknown-layers.ts';
import { unknownLayerFindings } from './unknown-layers.ts';

/** All pieces for one vehicle, as drawn for one hand of drive. */
export interface PatternSet {
  /** The folder's name under patterns/. */
  readonly name: string;
  /** What its set file says, with the materials of this choice in place of uses. */
  readonly content: SetContent;
  /** The uses that its pieces name instead of materials, by the piece. */
  readonly uses: ReadonlyMap<string, PieceUses>;
  /** The value of each option by which it was read. */
  readonly options: ReadonlyMap<string, OptionValue>;
  /** The pieces that could be read. The findings say what is wrong with the others. */
  readonly pieces: readonly Piece[];
  /** The tape of its bound edges. null: the set file names none. */
  readonly binding: Binding | null;
  readonly findings: readonly Finding[];
  /** The names of all materials that it is cut from, and the place that first names each. */
  readonly materials: ReadonlyMap<string, Place>;
  /** What lay in no outline when the set was made of a drawing, while somebody must still look at it. */
  readonly leftOut: readonly Entity[];
  /** The units of its drawings, each once. */
  readonly drawnUnits: readonly Units[];
  /** Every file that was read; the record of a run lists them. */
  readonly files: readonly string[];
  /** Finds the line and column of a value in the set file. */
  readonly placeOf: YamlFile<unknown>['placeOf'];
}

/**
 * The names of all materials that pieces, pads, boards and underlays are cut from, and the place that
 * first names each.
 */
function materialsOf({ value, placeOf }: YamlFile<SetContent>): Map<string, Place> {
  const places = new Map<string, Place>();
  for (const [name, { material, pad, board, underlay }] of Object.entries(value.pieces)) {
    const named: [key: string, material: string | undefined][] = [
      ['material', material],
      ['pad', pad],
      ['board', board?.material],
      ['underlay', underlay?.material],
    ];
    for (const [key, one] of named) {
      if (one !== undefined && !places.has(one)) places.set(one, placeOf(['pieces', name, key]));
    }
  }
  return places;
}

/**
 * Reads patterns/<set>: set.yaml and its drawings, as an order has chosen it. Throws a Refusal if the set
 * file or a drawing cannot be read at all. What is wrong with single pieces is among the findings.
 */
export function readSet(folder: string, sharedFolder: string, choice: SetChoice = {}): PatternSet {
  const written = readYaml(join(folder, 'set.yaml'), setSchema, 'set file');
  const yaml = withDefaults(written, choice);
  const map = ownLayers(readLayerMap(sharedFolder), yaml.value.layers ?? {});
  const drawings = new Map<string, Drawing>();
  const drawingOf = (name: string): Drawing => {
    const known =
      drawings.get(name) ?? readDrawing(join(folder, name), { setUnits: yaml.value.units });
    drawings.set(name, known);
    return known;
  };
  const read = Object.entries(yaml.value.pieces).map(([name, entry]) =>
    readPiece(name, entry, yaml, drawingOf, ownLayers(map, entry.layers ?? {})),
  );
  const pieces = read.map(({ piece }) => piece).filter((piece) => piece !== null);
  const { binding } = yaml.value;
  const isMaterial = (name: string): boolean =>
    existsSync(join(sharedFolder, 'materials', `${name}.yaml`));
  // Texts on pieces name the usual material: they do not contradict what an order chooses instead.
  const isNamed = choice.materials === undefined ? isMaterial : () => false;
  const inUse = drawingsInUse(yaml.value, drawings);
  const layerFile = join(sharedFolder, 'layers.yaml');
  return {
    name: basename(folder),
    content: yaml.value,
    uses: usesOf(written.value),
    options: optionsOf(yaml.value, choice),
    pieces,
    binding:
      binding === undefined ? null : readBinding(sharedFolder, binding, yaml.placeOf(['binding'])),
    materials: materialsOf(yaml),
    findings: [
      ...[...drawings.values()].flatMap(({ findings }) => findings.map(graver)),
      ...unknownLayerFindings(
        read.flatMap(({ unknown }) => unknown),
        { severity: 'error', frame: 'in the piece’s drawing', todo: layerAnswer },
      ),
      ...read.flatMap(({ findings }) => findings),
      ...pieces.flatMap((piece) => checkPiece(piece, yaml.value.drawn)),
      ...checkUses(written, isMaterial),
      ...checkSetContent(yaml, pieces, isNamed),
      ...inUse.flatMap(({ drawing, blocks }) => neverShown(drawing, [...blocks])),
      ...checkUnusedBlocks(yaml, inUse, map),
    ],
    leftOut: leftOutIn(yaml.value, drawings),
    drawnUnits: [...new Set([...drawings.values()].map(({ units }) => units))],
    files: [
      yaml.file,
      ...[...drawings.keys()].map((name) => join(folder, name)),
      ...(existsSync(layerFile) ? [layerFile] : []),
      ...(binding === undefined ? [] : [join(sharedFolder, 'bindings', `${binding}.yaml`)]),
    ],
    placeOf: yaml.placeOf,
  };
}

/**
 * The set file with what it says for all pieces written into each that does not say it, and with what is
 * chosen in place of what is usual.
 */
function withDefaults(yaml: YamlFile<SetContent>, choice: SetChoice): YamlFile<SetContent> {
  const { value, stands } = yaml;
  const materials = materialsOfUses(value, choice);
  const binding = choice.binding ?? value.binding;
  const pieces = Object.entries(value.pieces).map(([name, entry]) => [
    name,
    {
      ...withMaterials(entry, materials),
      at: stands(['pieces', name, 'at']) ? entry.at : (value.at ?? entry.at),
      ...((entry.edge ?? value.edge) !== undefined && { edge: entry.edge ?? value.edge }),
    },
  ]);
  return {
    ...yaml,
    value: {
      ...value,
      ...(binding === undefined ? {} : { binding }),
      pieces: Object.fromEntries(pieces) as SetContent['pieces'],
    },
  };
}

/** What the pieces of a set are read from in each of its drawings. */
function drawingsInUse(
  { pieces, drawing: common }: SetContent,
  drawings: ReadonlyMap<string, Drawing>,
): DrawingInUse[] {
  const entries = Object.entries(pieces);
  return [...drawings].map(([file, drawing]) => {
    const own = entries.filter(([, entry]) => (entry.file ?? common) === file);
    const isWhole = ([, { file: given, block }]: (typeof own)[number]): boolean =>
      given !== undefined && block === undefined;
    const names = own
      .filter((one) => !isWhole(one))
      .flatMap(([name, { block, other }]) => [
        block ?? name,
        ...(other === undefined ? [] : [other]),
      ]);
    const blocks = new Set(names.map((name) => name.toUpperCase()));
    return { drawing, blocks, isReadWhole: own.some(isWhole) };
  });
}

function leftOutIn(
  { open, drawing }: SetContent,
  drawings: ReadonlyMap<string, Drawing>,
): readonly Entity[] {
  if (open?.[leftOutKey] === undefined) return [];
  const blocks = drawings.get(drawing ?? '')?.blocks ?? [];
  return blocks.find(({ name }) => name === leftOutBlock)?.entities ?? [];
}

const ofOnePiece = ' If it is something else on one piece, say so under "layers:" of that piece.';

/** How the set file says what a layer means; `isOnSeveral`: it lies on several pieces. */
function layerAnswer(layer: string, roles: string, isOnSeveral: boolean): string {
  const key = /^[a-z][\w-]*$/i.test(layer) ? layer : JSON.stringify(layer);
  return `Say in set.yaml what it is: "layers: { ${key}: ROLE }", where ROLE is ${roles}, or NOTE if it is only to be read. What a layer means in all sets stands in shared/layers.yaml.${isOnSeveral ? ofOnePiece : ''}`;
}

/** Makes an error of a warning whose question a set must answer before anything is cut. */
function graver(finding: Finding): Finding {
  return finding.rule === 'units-assumed' ? { ...finding, severity: 'error' } : finding;
}

interface ReadPiece {
  /** null: it could not be read, and the findings say why. */
  readonly piece: Piece | null;
  readonly unknown: readonly UnknownThing[];
  readonly findings: readonly Finding[];
}

function readPiece(
  name: string,
  entry: PieceEntry,
  yaml: YamlFile<SetContent>,
  drawingOf: (name: string) => Drawing,
  map: LayerMap,
): ReadPiece {
  const where = yaml.placeOf(['pieces', name]);
  if (entry.side === 'pair' && entry.drawnSide === undefined) {
    refuse(
      'drawn-side',
      `piece "${name}" is a pair, and nothing says which half is drawn.`,
      'Add drawnSide: left or right.',
      where,
    );
  }
  const drawingName = entry.file ?? yaml.value.drawing;
  if (drawingName === undefined) {
    return refuse(
      'no-drawing',
      `piece "${name}" has no drawing.`,
      'Add "file:" to the piece, or "drawing:" to the set.',
      where,
    );
  }
  const drawing = drawingOf(drawingName);
  const { gap = defaultGap, refit } = yaml.value;
  const outlinedPiece = (entities: readonly Entity[]): ReadPiece => {
    const place = { file: drawing.file, piece: name };
    const pattern = entities.filter(({ line }) => !drawing.squareLines.includes(line));
    const made = outlined(pattern, map, { gap, refit }, place);
    const { piece, unknown, findings } = pieceOf(name, entry, made.entities, map, drawing.file);
    return {
      piece: piece === null ? null : withStatedPile(piece, yaml),
      unknown: unknownThings(name, drawing.file, unknown, made.entities, map),
      findings: [...made.findings, ...gapFindings(made.gaps), ...findings],
    };
  };
  if (entry.file !== undefined && entry.block === undefined) {
    return outlinedPiece(drawing.entities);
  }
  const read = (block: string): ReadPiece => {
    const own = blockOf(drawing, block, name, where);
    const made = outlinedPiece(own.entities);
    return { ...made, findings: [...placedOtherwise(own, drawing, name), ...made.findings] };
  };
  const drawn = read(entry.block ?? name.toUpperCase());
  if (entry.other === undefined) return drawn;
  const other = read(entry.other);
  return {
    piece: drawn.piece === null ? null : { ...drawn.piece, other: other.piece },
    unknown: [...drawn.unknown, ...other.unknown],
    findings: [...drawn.findings, ...other.findings],
  };
}

/** What lies on a piece on layers that say nothing, and whether it runs beside the outline. */
function unknownThings(
  piece: string,
  file: string,
  unknown: readonly Entity[],
  entities: readonly Entity[],
  map: LayerMap,
): UnknownThing[] {
  const outline = outlineAmong(entities, map);
  const doubt = outline?.layer === 'OUTLINE' ? 'outline' : 'doubtful-outline';
  const isBeside = (entity: Entity): boolean =>
    entity.kind === 'path' &&
    entity.path.closed &&
    (outline === undefined || runBeside(entity.path, outline.path));
  return unknown.map((entity) => ({
    piece,
    file,
    entity,
    beside: isBeside(entity) ? doubt : 'nothing',
  }));
}

/**
 * The piece with the pile that the set file states, if no PILE line is drawn and it is certain how the
 * block lies in the vehicle: its AXIS is drawn and shows where the front is, or the set file says where it lies (`at:` of
 * the piece or the set, which turns nothing). Otherwise the piece as it is, and a rule asks for the line.
 */
function withStatedPile(piece: Piece, { value, stands }: YamlFile<SetContent>): Piece {
  const { name, entry, outline, axis } = piece;
  const said = entry.pile ?? value.pile;
  const isPlaced = value.at !== undefined || stands(['pieces', name, 'at']);
  const isCertain = axis === null ? isPlaced : !isLevel(axis);
  if (piece.pile !== null || said === undefined || !isCertain || entry.turns === 'any')
    return piece;
  return { ...piece, pile: statedPile(outline, said, axis) };
}

function blockOf(drawing: Drawing, name: string, piece: string, where: Place): Block {
  const block = drawing.blocks.find((one) => one.name.toUpperCase() === name.toUpperCase());
  if (block !== undefined) return block;
  const names = drawing.blocks.map((one) => one.name).join(', ');
  return refuse(
    'no-block',
    `piece "${piece}" looks for a block "${name}", and ${drawing.file} has none of that name.`,
    `Blocks there: ${names || 'none'}.`,
    where,
  );
}
