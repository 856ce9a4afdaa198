import type { Box } from '../../../geometry/paths/box.ts';
import { boxOfPoints, heightOf, unionBox, widthOf } from '../../../geometry/paths/box.ts';
import { boxOfPath } from '../../../geometry/paths/path.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import { transformPoint } from '../../../geometry/paths/transform.ts';
import type { Piece } from '../../../pattern/piece.ts';
import { edgeKindWords, usualEdge } from '../said-edges.ts';
import { drawPiece } from './drawn-piece.ts';
import { drawFigures, rulerRoom } from './ruler.ts';
import type { ListedFinding } from './finding-list.ts';
import { drawMark, drawRing, ringRadius, ringsBeside } from './finding-marks.ts';
import { lineWidth } from '../../svg/label.ts';
import { escapeXml, mm } from '../../svg/svg.ts';

/** A piece with its findings, as it stands on the page. `piece` is null if it could not be read. */
export interface PieceCell {
  readonly name: string;
  readonly piece: Piece | null;
  readonly findings: readonly ListedFinding[];
  /** The box round what is drawn and where findings lie, in the frame of the block. */
  readonly box: Box;
  /** Width on the page, mm. */
  readonly width: number;
  readonly height: number;
  /** How many mm on the page a mm of the piece has. */
  readonly scale: number;
  /** Space at the left and below for the figures by which places are found, mm. */
  readonly ruler: { readonly left: number; readonly below: number };
}

/**
 * In mm on the page: the height of names, the space for them above a drawing, and the space round it for
 * rings.
 */
const nameSize = 3.8;
const head = 8;
const padding = 9;
/** Largest and least length of a piece, mm on the page. */
const lengths = { largest: 100, least: 30 };

/** The pieces of a set, all at the same scale, except those that would be too small to mark. */
export function cellsOf(
  pieces: readonly Pick<PieceCell, 'name' | 'piece' | 'findings'>[],
  pageWidth: number,
): PieceCell[] {
  const boxes = pieces.map(boxOf);
  const scale = lengths.largest / Math.max(...boxes.map(longest));
  return pieces.map((one, i) => {
    const box = boxes[i]!;
    const isFound = one.piece !== null && one.findings.some(({ at }) => at !== null);
    const ruler = isFound ? rulerRoom : { left: 0, below: 0 };
    const own = Math.min(
      Math.max(scale, lengths.least / longest(box)),
      (pageWidth - 2 * padding - ruler.left) / widthOf(box),
    );
    const nameWidth = nameSize * lineWidth(one.name) + unplaced(one.findings).length * ringPitch;
    const usualWidth = 0.6 * usualSize * usualWords(one.piece).length;
    return {
      ...one,
      box,
      scale: own,
      ruler,
      width: Math.max(own * widthOf(box) + 2 * padding + ruler.left, nameWidth, usualWidth),
      height: own * heightOf(box) + 2 * padding + head + ruler.below,
    };
  });
}

/** Height of the type that says what is taken as usual, mm. */
const usualSize = 2.8;

/** What edges of a piece are of which no line says it; empty: each has a line, or nobody said. */
function usualWords(piece: Piece | null): string {
  const kind = piece === null ? null : usualEdge(piece);
  return kind === null ? '' : `without a line: ${edgeKindWords[kind]} ("edge:")`;
}

/** Distance between the rings behind a name, mm. */
const ringPitch = 2 * ringRadius + 0.8;

function longest(box: Box): number {
  return Math.max(widthOf(box), heightOf(box), 1);
}

/** The box round everything drawn and found. A piece that could not be read gets a little space. */
function boxOf({ piece, findings }: Pick<PieceCell, 'piece' | 'findings'>): Box {
  if (piece === null) return { minX: 0, minY: 0, maxX: 1, maxY: 1 };
  const paths = [piece.outline, ...piece.features.map(({ path }) => path)];
  const places = findings.flatMap(({ at }) => (at === null ? [] : [at]));
  return paths.map(boxOfPath).reduce(unionBox, boxOfPoints(places));
}

function unplaced(findings: readonly ListedFinding[]): ListedFinding[] {
  return findings.filter(({ at }) => at === null);
}

/** Draws a cell with its upper left corner at a point of the page. */
export function drawCell(cell: PieceCell, corner: Point): string {
  const { name, piece, findings, box, scale, height, ruler } = cell;
  const onPage: Transform = {
    a: scale,
    b: 0,
    c: 0,
    d: -scale,
    e: corner.x + ruler.left + padding - scale * box.minX,
    f: corner.y + head + padding + scale * box.maxY,
  };
  return [
    `<text x="${mm(corner.x)}" y="${mm(corner.y + 5)}" font-size="${nameSize}" font-weight="bold">${escapeXml(name)}</text>`,
    drawUnplaced(cell, corner),
    drawUsual(piece, corner),
    ruler.left === 0
      ? ''
      : drawFigures(box, onPage, { x: corner.x + ruler.left, y: corner.y + height - ruler.below }),
    piece === null ? drawUnread(corner) : drawPiece(piece, box, onPage),
    piece === null ? '' : drawMarks(findings, onPage, areaFor(corner, cell)),
  ]
    .filter((markup) => markup !== '')
    .join('\n');
}

/** The places where the rings of a cell may stand. */
function areaFor({ x, y }: Point, { width, height, ruler }: PieceCell): Box {
  return {
    minX: x + ruler.left,
    minY: y + head + 1.5,
    maxX: x + width,
    maxY: y + height - ruler.below,
  };
}

function drawUsual(piece: Piece | null, { x, y }: Point): string {
  const words = usualWords(piece);
  return words === ''
    ? ''
    : `<text x="${mm(x)}" y="${mm(y + 8.6)}" font-size="${usualSize}" fill="#55514a">${escapeXml(words)}</text>`;
}

/**
 * Draws, behind the name, the findings that have no place on the drawing; all findings if the piece could
 * not be read.
 */
function drawUnplaced({ name, piece, findings }: PieceCell, { x, y }: Point): string {
  const rings = piece === null ? findings : unplaced(findings);
  const start = x + nameSize * lineWidth(name) + ringRadius;
  return rings
    .map(({ number, finding }, i) =>
      drawRing(number, finding.severity, { x: start + i * ringPitch, y: y + 3.7 }),
    )
    .join('');
}

function drawUnread({ x, y }: Point): string {
  return `<text x="${mm(x)}" y="${mm(y + head + 3)}">could not be read</text>`;
}

function drawMarks(findings: readonly ListedFinding[], onPage: Transform, area: Box): string {
  const placed = findings.flatMap(({ at, number, finding }) =>
    at === null ? [] : [{ number, severity: finding.severity, spot: transformPoint(onPage, at) }],
  );
  const rings = ringsBeside(
    placed.map(({ spot }) => spot),
    area,
  );
  return placed
    .map(({ number, severity, spot }, i) => drawMark(number, severity, spot, rings[i]!))
    .join('\n');
}
