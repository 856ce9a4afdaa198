import type { Finding } from '../base/findings.ts';
import { boxOfPoints, boxesOverlap, growBox } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { chained } from '../geometry/joining/chain.ts';
import type { Path } from '../geometry/paths/path.ts';
import { distance, dot, minus } from '../geometry/paths/point.ts';
import { decimal } from '../base/numbers.ts';
import { cutShort } from '../base/wording.ts';
import type { Drawing, Entity, TextEntity, Units } from './drawing.ts';
import { mmPer } from './units.ts';

/** What the drawn squares and texts say about the units, besides the header. */
export interface DrawnUnits {
  readonly units?: { readonly units: Units; readonly unitsFrom: 'square' | 'text' };
  /** The lines of the file at which the check square begins. */
  readonly squareLines: readonly number[];
  readonly findings: readonly Finding[];
}

/**
 * Finds the units by what is drawn: by a check square (a square with its size written in or beside it:
 * "CHECK 100 MM"), or else by a text "Units: METRIC" or "Units: ENGLISH" as in ASTM D6673, which mean mm
 * and inches. If the square has the written size in no units, that is an error: the drawing is not to
 * scale.
 */
export function drawnUnits({ units, blocks, entities }: Drawing): DrawnUnits {
  const all = [...entities, ...blocks.flatMap((block) => block.entities)];
  const texts = all.filter((entity): entity is TextEntity => entity.kind === 'text');
  const alone: TextEntity[] = [];
  for (const text of texts) {
    const stated = statedSize(text.text);
    if (stated === undefined) continue;
    const square = squareBeside(text, all);
    if (square === undefined) {
      alone.push(text);
      continue;
    }
    return fromSquare(stated, square.side / mmPer[units], square.lines);
  }
  const findings = alone
    .filter(({ text }) => isCheckLabel(text))
    .slice(0, 1)
    .map(withoutSquare);
  const words = texts.map((one) => /^\s*units\s*:\s*(metric|english)\b/im.exec(one.text)?.[1]);
  const word = words.find((one) => one !== undefined)?.toLowerCase();
  if (word === undefined) return { squareLines: [], findings };
  const said = word === 'metric' ? ('mm' as const) : ('in' as const);
  return { units: { units: said, unitsFrom: 'text' }, squareLines: [], findings };
}

const unitsByWord: Readonly<Record<string, Units>> = {
  mm: 'mm',
  cm: 'cm',
  m: 'm',
  in: 'in',
  '"': 'in',
};

const squareWords = /check|test|scale|control|calibrat|square|kontroll|quadrat|carr[ée]/i;

/** The side of a check square, in mm, if the text states one. */
function statedSize(text: string): number | undefined {
  const found =
    /(\d+(?:[.,]\d+)?)\s*(?:[x×*]\s*(\d+(?:[.,]\d+)?)\s*)?(mm|cm|m|inch(?:es)?|in|")(?![a-z])/i.exec(
      text,
    );
  if (found === null) return undefined;
  const [, one, two, word] = found;
  const isCalled = squareWords.test(text);
  if (!isCalled && (two === undefined || two !== one)) return undefined;
  const units = unitsByWord[word!.toLowerCase().replace(/^inch(es)?$/, 'in')]!;
  return Number(one!.replace(',', '.')) * mmPer[units];
}

/**
 * Whether a text with a size is the label of a check square and nothing else: without the words for one
 * and the size, next to nothing is left of it. `CHECK LENGTH 250 MM` asks for something else.
 */
function isCheckLabel(text: string): boolean {
  return (
    squareWords.test(text) &&
    /^[\W_]*$/.test(
      text
        .replaceAll(
          /\b(?:check|test|scale|control|calibrat\w*|square|kontroll\w*|quadrat|carr[ée]|box|size|units?)/gi,
          '',
        )
        .replaceAll(/[\d.,x×*]+|\b(?:mm|cm|m|inch(?:es)?|in)\b/gi, ''),
    )
  );
}

function withoutSquare({ text, line }: TextEntity): Finding {
  return {
    severity: 'warning',
    rule: 'no-check-square',
    message: `a text says "${cutShort(text.trim(), 40)}", and no square belongs to it: nothing of this drawing is held against it.`,
    todo: 'Draw the square beside the text, or take the text away.',
    where: { line },
  };
}

function squareBeside(
  text: TextEntity,
  all: readonly Entity[],
): { side: number; lines: readonly number[] } | undefined {
  for (const { path, lines } of squaresAmong(all)) {
    const side = distance(path.vertices[0]!, path.vertices[1]!);
    const reach = growBox(boxOfPath(path), side / 2);
    if (boxesOverlap(reach, boxOfPoints([text.at]))) return { side, lines };
  }
  return undefined;
}

/** All squares, drawn as one closed path or as four lines. */
function squaresAmong(all: readonly Entity[]): { path: Path; lines: readonly number[] }[] {
  const closed = all.flatMap((entity) =>
    entity.kind === 'path' && entity.path.closed
      ? [{ path: entity.path, lines: [entity.line] }]
      : [],
  );
  const sides = all.flatMap((entity) =>
    entity.kind === 'path' && !entity.path.closed && entity.path.vertices.length === 2
      ? [{ path: entity.path, line: entity.line }]
      : [],
  );
  const { chains } = chained(
    sides.map(({ path }) => path),
    1e-3,
  );
  const joined = chains.flatMap(({ path, members }) =>
    path.closed ? [{ path, lines: members.map((i) => sides[i]!.line) }] : [],
  );
  return [...closed, ...joined].filter(({ path }) => isSquare(path));
}

function isSquare({ closed, vertices }: Path): boolean {
  if (!closed || vertices.length !== 4 || vertices.some(({ bulge }) => bulge !== 0)) return false;
  const sides = vertices.map((vertex, i) => minus(vertices[(i + 1) % 4]!, vertex));
  const length = Math.hypot(sides[0]!.x, sides[0]!.y);
  return sides.every(
    (side, i) =>
      Math.abs(Math.hypot(side.x, side.y) - length) < 0.005 * length &&
      Math.abs(dot(side, sides[(i + 1) % 4]!)) < 0.005 * length * length,
  );
}

/**
 * The units in which the square has the size that is written. `stated` is in mm, `measured` in drawing
 * units.
 */
function fromSquare(stated: number, measured: number, lines: readonly number[]): DrawnUnits {
  const right = (['mm', 'cm', 'm', 'in'] as const).find(
    (units) => Math.abs((measured * mmPer[units]) / stated - 1) <= 0.005,
  );
  if (right !== undefined) {
    return { units: { units: right, unitsFrom: 'square' }, squareLines: lines, findings: [] };
  }
  const message = `the check square is to measure ${decimal(stated, 2)} mm and has ${decimal(measured, 3)} drawing units, which is right in no units: the drawing is not to scale.`;
  const todo = 'Export the drawing again at full size, or correct the size that is written there.';
  return {
    squareLines: lines,
    findings: [
      { severity: 'error', rule: 'not-to-scale', message, todo, where: { line: lines[0]! } },
    ],
  };
}
