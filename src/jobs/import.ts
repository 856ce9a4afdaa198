import { existsSync } from 'node:fs';
import { basename, extname, join } from 'node:path';
import type { Units } from '../drawing/drawing.ts';
import { readDrawing } from '../drawing/read.ts';
import type { Finding } from '../base/findings.ts';
import { refuse, refuseErrors } from '../base/findings.ts';
import { areaOf } from '../geometry/paths/area.ts';
import { namesIn } from '../base/named-file.ts';
import { describeDrawing } from '../pattern/first-look/describe.ts';
import type { FirstPiece } from '../pattern/first-look/first-set.ts';
import { blocksOf, firstPieces, firstSetFile } from '../pattern/first-look/first-set.ts';
import { readLayerMap } from '../pattern/layers.ts';
import type { OutlineOptions } from '../pattern/outlines/outlines.ts';
import { pieceName } from '../pattern/set-file.ts';
import { readSet } from '../pattern/set.ts';
import type { Hand } from '../pattern/words.ts';
import { writeSetDrawing } from '../pattern/write-set.ts';
import { publish } from '../publishing/publish.ts';
import { claimTarget } from '../publishing/target.ts';

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
  readonly pieces: readonly FirstPiece[];
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
  const { report, pieces: seen } = describeDrawing(drawing, map, { gap, refit });
  refuseErrors(report.findings);
  const assumed = report.findings.find(({ rule }) => rule === 'units-assumed');
  if (assumed !== undefined) {
    refuse('units-assumed', assumed.message, 'Say so with --units mm or --units in.', { file });
  }
  if (seen.length === 0) {
    const todo = 'Look at it with "pileway read".';
    refuse('no-piece', 'there is no closed outline in this drawing.', todo, { file });
  }
  const pieces = firstPieces(seen, map, namesIn(join(sharedFolder, 'materials')));
  const setFile = firstSetFile({
    title: basename(file, extname(file)),
    hand: { value: drawn ?? 'RHD', why: drawn === undefined ? 'the hand it is drawn for' : null },
    drawing: `${name}.dxf`,
    pieces,
  });
  const files = new Map([
    ['set.yaml', setFile],
    [`${name}.dxf`, writeSetDrawing(blocksOf(pieces))],
  ]);
  const areas = new Map(pieces.map((piece, i) => [piece.name, seen[i]!.report.outline.area]));
  const target = claimTarget(folder, null, false);
  try {
    publish(target, files, (partial) => proofOf(partial, sharedFolder, areas), { listed: false });
  } finally {
    target.release();
  }
  return { pieces, findings: report.findings };
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
  const { pieces, findings } = readSet(folder, sharedFolder);
  const read = new Map(pieces.map((piece) => [piece.name, areaOf(piece.outline)]));
  return [...areas].flatMap(([piece, area]): Finding[] => {
    const again = read.get(piece);
    if (again !== undefined && Math.abs(again - area) <= 1e-6 * area) return [];
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
