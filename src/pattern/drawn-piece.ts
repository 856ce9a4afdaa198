import type { Finding, Place } from '../base/findings.ts';
import { refuse } from '../base/findings.ts';
import { memoryByKey } from '../base/remembered.ts';
import type { YamlFile } from '../base/yaml.ts';
import type { Block, Drawing, Entity } from '../drawing/drawing.ts';
import type { OptionValues } from './conditions.ts';
import { isMet } from './conditions.ts';
import { pieceWarning } from './findings.ts';
import type { SaidEdge } from './edge-names.ts';
import type { LayerMap } from './layers.ts';
import { layerName, meaningOf } from './layers.ts';
import { counterClockwise } from '../geometry/paths/area.ts';
import { guessRoles } from './first-look/guess-roles.ts';
import { outlineAmong } from './outlines/numbered.ts';
import type { BridgedGaps } from './outlines/outlines.ts';
import { defaultGap, outlined } from './outlines/outlines.ts';
import { runBeside } from './outlines/twins.ts';
import type { Piece } from './piece.ts';
import { pieceOf } from './piece.ts';
import { isLevel, statedPile } from './pile.ts';
import { placedOtherwise } from './placed-blocks.ts';
import type { OptionalLayer } from './rules/options.ts';
import { checkPiece } from './rules/rules.ts';
import type { PieceEntry, SetContent } from './set-file.ts';
import type { UnknownThing } from './unknown-layers.ts';

/** What is drawn of a piece, whatever is chosen: loose lines are joined. */
export interface DrawnPiece {
  readonly name: string;
  readonly map: LayerMap;
  /** The drawing file. */
  readonly file: string;
  readonly own: DrawnHalf;
  /** The other half of a pair, if it is drawn too. */
  readonly other: DrawnHalf | null;
}

interface DrawnHalf {
  readonly entities: readonly Entity[];
  readonly gaps: readonly BridgedGaps[];
  readonly findings: readonly Finding[];
}

/** So many states of a piece are remembered: those that somebody who changes it goes to and fro between. */
const mostRemembered = 8;

const joinedBefore = memoryByKey<readonly Entity[], DrawnHalf>(mostRemembered);

const readBefore = memoryByKey<DrawnHalf, ReadPiece>(mostRemembered);

/** The gaps that were bridged in a piece: whoever reads the set tells all of them together. */
export function gapsIn({ own, other }: DrawnPiece): readonly BridgedGaps[] {
  return [...own.gaps, ...(other?.gaps ?? [])];
}

/** Reads what is drawn of a piece. Throws a Refusal if nothing says where it is drawn, or its block is missing. */
export function drawnPiece(
  name: string,
  entry: PieceEntry,
  yaml: YamlFile<SetContent>,
  drawingOf: (name: string) => Drawing,
  map: LayerMap,
): DrawnPiece {
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
  const { file, squareLines } = drawing;
  const key = JSON.stringify([file, name, squareLines, gap, refit, [...map]]);
  const joined = (entities: readonly Entity[]): DrawnHalf =>
    joinedBefore(entities, key, () => {
      const pattern = entities.filter(({ line }) => !squareLines.includes(line));
      return outlined(pattern, map, { gap, refit }, { file, piece: name });
    });
  if (entry.file !== undefined && entry.block === undefined) {
    return { name, map, file, own: joined(drawing.entities), other: null };
  }
  const ofBlock = (block: string): DrawnHalf => {
    const found = blockOf(drawing, block, name, where);
    const half = joined(found.entities);
    const otherwise = placedOtherwise(found, drawing, name);
    return otherwise.length === 0 ? half : { ...half, findings: [...otherwise, ...half.findings] };
  };
  const own = ofBlock(entry.block ?? name.toUpperCase());
  return { name, map, file, own, other: entry.other === undefined ? null : ofBlock(entry.other) };
}

/** The layers of a piece that go with options. */
export function optionalLayers({ name, map, file, own, other }: DrawnPiece): OptionalLayer[] {
  const layers = new Map<string, OptionalLayer>();
  for (const { layer, line } of [...own.entities, ...(other?.entities ?? [])]) {
    const meaning = meaningOf(layer, map);
    if (meaning === null || meaning.when.length === 0 || layers.has(layer)) continue;
    const { when } = meaning;
    const where = { file, line, piece: name };
    layers.set(layer, { layer, means: layerName(meaning), when, where });
  }
  return [...layers.values()];
}

interface ReadPiece {
  /** null: it is not there, or it could not be read, and the findings say why. */
  readonly piece: Piece | null;
  readonly isThere: boolean;
  readonly unknown: readonly UnknownThing[];
  /** What was found in reading it. */
  readonly findings: readonly Finding[];
  /** What rules say of the piece. */
  readonly ofPiece: readonly Finding[];
}

/** A piece as it is with a choice: `yaml` has the materials in it, and options have these values. */
export function readPiece(
  drawn: DrawnPiece,
  yaml: YamlFile<SetContent>,
  options: OptionValues,
): ReadPiece {
  const { name, map, file, own, other } = drawn;
  const { value } = yaml;
  const isPlaced = isUpright(name, yaml);
  const said = [value.pieces[name], value.drawn, value.pile, isPlaced, saidEdges(name, value)];
  const key = JSON.stringify([name, file, said, [...map], [...options]]);
  return other === null
    ? readBefore(own, key, () => readPieceAnew(drawn, yaml, options))
    : readPieceAnew(drawn, yaml, options);
}

function readPieceAnew(
  { name, map, file, own, other }: DrawnPiece,
  yaml: YamlFile<SetContent>,
  options: OptionValues,
): ReadPiece {
  const entry = yaml.value.pieces[name]!;
  const said = saidEdges(name, yaml.value);
  const read = ({ entities }: DrawnHalf) => {
    const made = pieceOf(name, entry, entities, map, file, options, said);
    const here = entities.filter(({ layer }) => isMet(meaningOf(layer, map)?.when ?? [], options));
    const unknown = unknownThings(name, file, made.unknown, here, map);
    const piece = made.piece === null ? null : withStatedPile(made.piece, yaml);
    return { ...made, piece, unknown };
  };
  const first = read(own);
  const second = other === null || !first.isThere ? null : read(other);
  const piece = first.piece === null ? null : { ...first.piece, other: second?.piece ?? null };
  return {
    piece,
    isThere: first.isThere,
    unknown: [...first.unknown, ...(second?.unknown ?? [])],
    findings: [
      ...own.findings,
      ...first.findings,
      ...(other?.findings ?? []),
      ...(second?.findings ?? []),
      ...(piece !== null && second?.isThere === false ? [otherHalfAbsent(piece)] : []),
    ],
    ofPiece: piece === null ? [] : checkPiece(piece, yaml.value.drawn),
  };
}

/** The edges of a piece that the set file speaks of: in a seam, or as covered or tucked. */
function saidEdges(name: string, { pieces, seams }: SetContent): SaidEdge[] {
  const { covered, tucked } = pieces[name]!;
  const sewn = seams.flatMap(({ join }) => join.map((ref) => ref.split('/')));
  const keys = (said: typeof covered): string[] =>
    typeof said === 'object' ? Object.keys(said) : [];
  return [
    ...sewn.flatMap(([piece, edge]): SaidEdge[] =>
      piece === name && edge !== undefined ? [{ role: 'SEAM', edge }] : [],
    ),
    ...keys(covered).map((edge): SaidEdge => ({ role: 'RAW', edge })),
    ...keys(tucked).map((edge): SaidEdge => ({ role: 'TUCK', edge })),
  ];
}

/** The other half of a pair is drawn with some options, and not where the first is there. */
function otherHalfAbsent(piece: Piece): Finding {
  const message = `the piece is there, and its other half "${piece.entry.other}" is not: nothing holds one against the other.`;
  const todo = 'Give both outlines the same options behind their layer.';
  return pieceWarning(piece, { rule: 'other-half-absent', message, todo });
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
  const guessed =
    outline === undefined || unknown.length === 0
      ? []
      : guessRoles(entities, counterClockwise(outline.path), map);
  return unknown.map((entity) => ({
    piece,
    file,
    entity,
    beside: isBeside(entity) ? doubt : 'nothing',
    guesses: guessed.find((one) => one.entity === entity)?.guesses ?? [],
  }));
}

/**
 * The piece with the pile that the set file states, if no PILE line is drawn and it is certain how the
 * block lies in the vehicle: its AXIS is drawn and shows where the front is, or the set file says so (`front:`, or `at:`,
 * which turns nothing). Otherwise the piece as it is, and a rule asks for the line.
 */
function withStatedPile(piece: Piece, yaml: YamlFile<SetContent>): Piece {
  const { name, entry, outline, axis } = piece;
  const { value } = yaml;
  const said = entry.pile ?? value.pile;
  const isCertain = axis === null ? isUpright(name, yaml) : !isLevel(axis);
  if (piece.pile !== null || said === undefined || !isCertain || entry.turns === 'any')
    return piece;
  return { ...piece, pile: statedPile(outline, said, axis) };
}

/** Whether the set file says that a block is drawn with its top to the front. */
function isUpright(name: string, { value, stands }: YamlFile<SetContent>): boolean {
  const isSaid = value.front !== undefined || value.pieces[name]!.front !== undefined;
  return isSaid || value.at !== undefined || stands(['pieces', name, 'at']);
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
