import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Drawing, Units } from '../drawing/drawing.ts';
import { readDrawing } from '../drawing/read.ts';
import type { Finding } from '../base/findings.ts';
import { refuse, refuseErrors } from '../base/findings.ts';
import { areaOf } from '../geometry/paths/area.ts';
import { namesIn } from '../base/named-file.ts';
import { describeDrawing } from '../pattern/first-look/describe.ts';
import { firstSetFile } from '../pattern/first-look/first-file.ts';
import { firstOptions } from '../pattern/first-look/first-options.ts';
import { firstPile, firstTitle } from '../pattern/first-look/first-words.ts';
import type { FirstSet } from '../pattern/first-look/first-set.ts';
import {
  blocksOf,
  doubtOf,
  firstPieces,
  layersWithInner,
  leftOutOf,
  outlineLayersOf,
} from '../pattern/first-look/first-set.ts';
import type { Guess } from '../pattern/first-look/first-side.ts';
import { ownLayerNames } from '../pattern/first-look/own-layers.ts';
import type { Sight } from '../pattern/first-look/sight.ts';
import { splitLayers } from '../pattern/first-look/split-layers.ts';
import { placesWords } from '../pattern/first-look/strays.ts';
import { handIn } from '../pattern/first-look/side-words.ts';
import { readLayerMap } from '../pattern/layers.ts';
import type { OutlineOptions } from '../pattern/outlines/outlines.ts';
import { pieceName } from '../pattern/set-file.ts';
import { readSetFiles, setsToTry } from '../pattern/set.ts';
import type { Hand } from '../pattern/words.ts';
import { shortLayers, writeSetDrawing } from '../pattern/write-set.ts';
import { publishAtOnce } from '../publishing/publish.ts';

export interface ImportRequest extends OutlineOptions {
  /** The drawing. */
  readonly file: string;
  /** The folder to make for the set; it must not exist yet. */
  readonly folder: string;
  readonly sharedFolder: string;
  readonly units: Units | undefined;
  /** The hand that is drawn. undefined: nobody said, and right-hand drive is assumed. */
  readonly drawn: Hand | undefined;
}

export interface Imported {
  readonly set: FirstSet;
  readonly findings: readonly Finding[];
}

/**
 * Makes a first set from a drawing: set.yaml, and a drawing in mm in which each piece found is a block,
 * on layers named after their roles. Both are read again and compared with what was found before they get
 * their names. Throws a Refusal if the drawing has errors, no piece or no units, or if the folder exists.
 */
export function importSet(request: ImportRequest): Imported {
  const { file, folder, sharedFolder, units, drawn, gap, refit } = request;
  const name = basename(folder);
  if (!pieceName.safeParse(name).success) {
    refuse(
      'argument',
      `--set ${name} is no name for a set.`,
      'Use small letters, digits and hyphens.',
    );
  }
  if (existsSync(folder)) {
    const todo = 'Name another set; what is written in a set by hand is not written over.';
    refuse('target', 'this set exists already.', todo, { file: folder });
  }
  const map = readLayerMap(sharedFolder);
  const drawing = readDrawing(file, units === undefined ? {} : { units });
  const sight = describeDrawing(drawing, map, { gap, refit });
  const { report, pieces: seen } = sight;
  refuseErrors(report.findings);
  const assumed = report.findings.find(({ rule }) => rule === 'units-assumed');
  if (assumed !== undefined) {
    refuse('units-assumed', assumed.message, 'Say so with --units mm or --units in.', { file });
  }
  const split = splitLayers(sight, map);
  const drawnLayers = [...layersOf(drawing), ...layersSeen(sight), ...split.values()];
  const layers = ownLayerNames(layersWithInner(drawnLayers, sight), map);
  const pieces = firstPieces(sight, map, layers, namesIn(join(sharedFolder, 'materials')), split);
  const leftOut = leftOutOf(sight, map, layers);
  const full = [...blocksOf(pieces), ...(leftOut === null ? [] : [leftOut])];
  const { blocks, layers: shortened } = shortLayers(full);
  const set: FirstSet = {
    title: firstTitle(sight, name),
    hand: handOf(drawn, drawing),
    pile: firstPile(sight),
    drawing: `${name}.dxf`,
    pieces,
    options: firstOptions(pieces.flatMap(({ entities }) => entities)),
    shortened,
    leftOut: leftOutWords(sight, drawing),
    outlineLayers: outlineLayersOf(sight, layers),
    doubt: doubtOf(sight, layers),
  };
  const files = new Map([
    ['set.yaml', firstSetFile(set)],
    [set.drawing, writeSetDrawing(blocks, shortened)],
  ]);
  const areas = new Map(
    pieces.map((piece, i) => {
      const { area } = seen[i]!.report.outline;
      return [piece.name, piece.half === null ? area : 2 * area];
    }),
  );
  publishAtOnce([folder, null, false], files, (partial) => proofOf(partial, sharedFolder, areas));
  return { set, findings: report.findings };
}

function layersOf({ entities, blocks }: Drawing): string[] {
  return [...entities, ...blocks.flatMap((block) => block.entities)].map(({ layer }) => layer);
}

/** The layers of what lies on the pieces: some are kept on layers of their own. */
function layersSeen({ pieces }: Sight): string[] {
  return pieces.flatMap(({ outline }) => outline.others.map(({ layer }) => layer));
}

/** The hand that is drawn: as somebody said, or as the drawing says, or else a mere guess. */
function handOf(said: Hand | undefined, { entities, blocks, file }: Drawing): Guess {
  if (said !== undefined) return { value: said, why: null };
  const texts = [...entities, ...blocks.flatMap((block) => block.entities)].flatMap((entity) =>
    entity.kind === 'text' ? [entity.text] : [],
  );
  const words = [basename(file), ...blocks.map((block) => block.name), ...texts].join('\n');
  const hand = handIn(words);
  return hand === undefined
    ? { value: 'RHD', why: 'nobody said which hand is drawn (--drawn)' }
    : { value: hand, why: `the drawing says ${hand} somewhere` };
}

/** Rules of findings on things of a drawing that are not read at all. */
const unread: ReadonlySet<string> = new Set(['hidden', 'left-out', 'block-left-out']);

/** What lies in no outline or was not read, in words; null: nothing. */
function leftOutWords({ leftOut }: Sight, { findings, file }: Drawing): string | null {
  const texts = leftOut.flatMap((entity) =>
    entity.kind === 'text' ? [`"${entity.text.replaceAll(/\s+/g, ' ').trim()}"`] : [],
  );
  const drawn = leftOut.filter(({ kind }) => kind !== 'text');
  const words = [
    ...[...new Set(drawn.map(({ layer }) => layer))].map((layer) => {
      const own = drawn.filter((entity) => entity.layer === layer);
      return `${own.length} on layer ${layer} (${placesWords(own)})`;
    }),
    ...(texts.length === 0 ? [] : [`the texts ${texts.join(', ')}`]),
    ...findings
      .filter(({ rule }) => unread.has(rule))
      .map(
        ({ message, where }) =>
          `${message.replace(/\.$/, '')} (line ${where.line ?? 0} of ${basename(file)})`,
      ),
  ];
  return words.length === 0 ? null : words.join('; ');
}

/**
 * Reads the written set again: every piece must have the area that was found in the drawing, to a
 * millionth. Otherwise there is an error.
 */
function proofOf(
  folder: string,
  sharedFolder: string,
  areas: ReadonlyMap<string, number>,
): Finding[] {
  const sets = setsToTry(readSetFiles(folder, sharedFolder));
  const pieces = sets.flatMap((set) => set.pieces);
  const findings = sets.flatMap((set) => set.findings);
  return [...areas].flatMap(([piece, area]): Finding[] => {
    // With some options it may be absent, or of another outline.
    const again = pieces.filter(({ name }) => name === piece).map(({ outline }) => areaOf(outline));
    if (again.some((one) => Math.abs(one - area) <= 1e-6 * area)) return [];
    const why = findings.find((one) => one.severity === 'error' && one.where.piece === piece);
    return [
      {
        severity: 'error',
        rule: 'import-proof',
        message: `this piece cannot be read again as it was seen${why === undefined ? '.' : `: ${why.message}`}`,
        todo: why?.todo ?? 'Redraw it as one closed line on layer OUTLINE.',
        where: { piece, ...(why?.where.at && { at: why.where.at }) },
      },
    ];
  });
}
