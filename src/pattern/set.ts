import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Drawing, Entity, Units } from '../drawing/drawing.ts';
import { readDrawing } from '../drawing/read.ts';
import type { Finding, Place } from '../base/findings.ts';
import type { YamlFile } from '../base/yaml.ts';
import { readYaml } from '../base/yaml.ts';
import type { Binding } from './shop/binding.ts';
import { readBinding } from './shop/binding.ts';
import { customerFile, readCustomerLayers } from './shop/customer.ts';
import { layersInTurn, ownLayers, readLayerMap } from './layers.ts';
import type { Piece } from './piece.ts';
import { neverShown } from './placed-blocks.ts';
import type { PieceUses, SetChoice } from './choice.ts';
import { choicesToTry } from './choices.ts';
import {
  materialKey,
  materialsNamed,
  materialsOfUses,
  optionsOf,
  usesOf,
  withMaterials,
} from './choice.ts';
import type { OptionValues } from './conditions.ts';
import type { DrawnPiece } from './drawn-piece.ts';
import { drawnPiece, gapsIn, optionalLayers, readPiece } from './drawn-piece.ts';
import { gapFindings } from './outlines/outlines.ts';
import type { SetContent } from './set-file.ts';
import { leftOutBlock, leftOutKey, setSchema } from './set-file.ts';
import type { OptionalLayer } from './rules/options.ts';
import { checkOptions } from './rules/options.ts';
import { checkSetContent } from './rules/rules.ts';
import { checkShapes } from './rules/shapes.ts';
import type { DrawingInUse } from './rules/unused-blocks.ts';
import { checkUses } from './rules/uses.ts';
import { checkUnusedBlocks } from './rules/unused-blocks.ts';
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
  readonly options: OptionValues;
  /** The pieces that could be read. The findings say what is wrong with the others. */
  readonly pieces: readonly Piece[];
  /** The pieces that vehicles with these options do not have. */
  readonly absent: ReadonlySet<string>;
  /** The options that layers of each piece name, by the piece: with them it has another shape, or is not there. */
  readonly shapedBy: ReadonlyMap<string, ReadonlySet<string>>;
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
  for (const [name, entry] of Object.entries(value.pieces)) {
    for (const [kind, one] of Object.entries(materialsNamed(entry))) {
      if (!places.has(one)) places.set(one, placeOf(['pieces', name, materialKey(kind)]));
    }
  }
  return places;
}

/** A set whose files have been read, for any choice of materials and options. */
export interface SetFiles {
  /** What the set file says, as it is written. */
  readonly written: SetContent;
  /** The layers of its pieces that go with options. */
  readonly optional: readonly OptionalLayer[];
  /** The set as it is with a choice. What no choice changes is made once. Throws a Refusal. */
  readonly chosen: (choice: SetChoice) => PatternSet;
  /** Its pieces alone, as they are with a choice. */
  readonly piecesOf: (choice: SetChoice) => readonly Piece[];
}

/**
 * Reads patterns/<set>: set.yaml and its drawings, as an order has chosen it. Throws a Refusal if the set
 * file or a drawing cannot be read at all. What is wrong with single pieces is among the findings.
 */
export function readSet(folder: string, sharedFolder: string, choice: SetChoice = {}): PatternSet {
  return readSetFiles(folder, sharedFolder).chosen(choice);
}

/** Where the files of a set are read from. */
export interface SetSource {
  readonly setFile: (file: string) => YamlFile<SetContent>;
  /** A drawing that the set file names; `units`: those that it states for drawings which say none. */
  readonly drawing: (file: string, units: Units | undefined) => Drawing;
}

const fromDisk: SetSource = {
  setFile: (file) => readYaml(file, setSchema, 'set file'),
  drawing: (file, setUnits) => readDrawing(file, { setUnits }),
};

/** Reads the files of a set. Throws a Refusal where one cannot be read at all. */
export function readSetFiles(
  folder: string,
  sharedFolder: string,
  source: SetSource = fromDisk,
): SetFiles {
  const yaml = source.setFile(join(folder, 'set.yaml'));
  const { drawnBy, layers = {} } = yaml.value;
  const customer = readCustomerLayers(sharedFolder, drawnBy);
  const map = layersInTurn(readLayerMap(sharedFolder), customer, layers);
  const drawings = new Map<string, Drawing>();
  const drawingOf = (name: string): Drawing => {
    const known = drawings.get(name) ?? source.drawing(join(folder, name), yaml.value.units);
    drawings.set(name, known);
    return known;
  };
  const drawn = Object.entries(yaml.value.pieces).map(([name, entry]) =>
    drawnPiece(name, entry, yaml, drawingOf, ownLayers(map, entry.layers ?? {})),
  );
  const optional = drawn.flatMap(optionalLayers);
  const shapedBy = new Map(drawn.map((piece) => [piece.name, optionsNamedBy(piece)]));
  const isMaterial = (name: string): boolean =>
    existsSync(join(sharedFolder, 'materials', `${name}.yaml`));
  const inUse = drawingsInUse(yaml.value, drawings);
  const ofDrawings = [
    ...[...drawings.values()].flatMap(({ findings }) => findings.map(graver)),
    ...gapFindings(drawn.flatMap(gapsIn)),
  ];
  const ofSet = [...checkUses(yaml, isMaterial), ...checkOptions(yaml, optional)];
  const ofBlocks = [
    ...inUse.flatMap(({ drawing, blocks }) => neverShown(drawing, [...blocks])),
    ...checkUnusedBlocks(yaml, inUse, map),
  ];
  const made = remembered(readPiece);
  const readWith = (choice: SetChoice) => {
    const content = withDefaults(yaml, choice);
    const options = optionsOf(yaml.value, choice);
    const read = drawn.map((piece) => made(piece, content, options));
    const pieces = read.map(({ piece }) => piece).filter((piece) => piece !== null);
    return { content, options, read, pieces };
  };
  const chosen = (choice: SetChoice): PatternSet => {
    const { content, options, read, pieces } = readWith(choice);
    const absent = new Set(drawn.flatMap(({ name }, i) => (read[i]!.isThere ? [] : [name])));
    const { binding } = content.value;
    // Texts on pieces name the usual material: they do not contradict what an order chooses instead.
    const isNamed = choice.materials === undefined ? isMaterial : () => false;
    return {
      name: basename(folder),
      content: content.value,
      uses: usesOf(yaml.value),
      options,
      pieces,
      absent,
      shapedBy,
      binding:
        binding === undefined
          ? null
          : readBinding(sharedFolder, binding, yaml.placeOf(['binding'])),
      materials: materialsOf(content),
      findings: [
        ...ofDrawings,
        ...unknownLayerFindings(
          read.flatMap(({ unknown }) => unknown),
          { severity: 'error', frame: 'in the piece’s drawing', todo: layerAnswer },
        ),
        ...read.flatMap(({ findings }) => findings),
        ...read.flatMap(({ ofPiece }) => ofPiece),
        ...ofSet,
        ...checkShapes(yaml, optional, absent),
        ...checkSetContent(content, pieces, absent, isNamed),
        ...ofBlocks,
      ],
      leftOut: leftOutIn(yaml.value, drawings),
      drawnUnits: [...new Set([...drawings.values()].map(({ units }) => units))],
      files: [
        yaml.file,
        ...[...drawings.keys()].map((drawing) => join(folder, drawing)),
        ...filesShared(sharedFolder, drawnBy, binding),
      ],
      placeOf: yaml.placeOf,
    };
  };
  const piecesOf = (choice: SetChoice): readonly Piece[] => readWith(choice).pieces;
  return { written: yaml.value, optional, chosen, piecesOf };
}

/** The set with each of the choices of its options that choicesToTry names; the first is what is usual. */
export function setsToTry(files: SetFiles): PatternSet[] {
  return optionsToTry(files).map((options) =>
    files.chosen({ options: Object.fromEntries(options) }),
  );
}

/** The choices of its options with which a set is tried; the first is what is usual. */
export function optionsToTry({ written, optional }: SetFiles): OptionValues[] {
  const conditions = optional.map(({ when }) => when);
  const named = new Set(conditions.flatMap((when) => when.map(({ option }) => option)));
  return choicesToTry(written, named, conditions);
}

/** The first of several choices of a set, with the pieces that others have besides. */
export function withAllPieces(sets: readonly PatternSet[]): PatternSet {
  const [usual] = sets as [PatternSet];
  const pieces = Object.keys(usual.content.pieces).flatMap((name) => {
    const found = sets.flatMap((set) => set.pieces.filter((piece) => piece.name === name));
    return found.slice(0, 1);
  });
  return { ...usual, pieces };
}

/** The options that layers of a piece name. */
function optionsNamedBy(piece: DrawnPiece): Set<string> {
  return new Set(optionalLayers(piece).flatMap(({ when }) => when.map(({ option }) => option)));
}

/** Reads pieces as readPiece does; what no choice changes is read once. */
function remembered(read: typeof readPiece): typeof readPiece {
  const known = new Map<string, ReturnType<typeof readPiece>>();
  return (piece, yaml, options) => {
    const values = [...optionsNamedBy(piece)].map((option) => options.get(option) ?? null);
    const key = JSON.stringify([piece.name, yaml.value.pieces[piece.name], values]);
    const found = known.get(key) ?? read(piece, yaml, options);
    known.set(key, found);
    return found;
  };
}

/** The files of the shop that say something about a set. */
function filesShared(
  sharedFolder: string,
  drawnBy: string | undefined,
  binding: string | undefined,
): string[] {
  const ofLayers = [
    join(sharedFolder, 'layers.yaml'),
    ...(drawnBy === undefined ? [] : [customerFile(sharedFolder, drawnBy)]),
  ];
  return [
    ...ofLayers.filter((file) => existsSync(file)),
    ...(binding === undefined ? [] : [join(sharedFolder, 'bindings', `${binding}.yaml`)]),
  ];
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
