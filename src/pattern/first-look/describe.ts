import type { Drawing, Entity, TextEntity } from '../../drawing/drawing.ts';
import type { Finding, Place } from '../../base/findings.ts';
import { boxOfPath, pathLength, segmentsOf } from '../../geometry/paths/path.ts';
import { selfCrossings } from '../../geometry/relations/crossings.ts';

import { decimal } from '../../base/numbers.ts';
import type { ClosedLine, Outline } from '../outlines/contours.ts';
import { outlinesOf } from '../outlines/contours.ts';
import type { Group } from '../outlines/groups.ts';
import { groupsOf } from '../outlines/groups.ts';
import type { Labels } from '../labels.ts';
import { isLabel, labelsOf } from '../labels.ts';
import type { LayerMap, Role } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import type { OutlineOptions } from '../outlines/outlines.ts';
import { openContours, outlined } from '../outlines/outlines.ts';
import { sizeFindings } from './size.ts';
import { unfoldedContours } from '../outlines/unfold-contours.ts';

/** An outline in a drawing with what lies inside it; areas in mm2, lengths in mm. */
interface PieceReport {
  readonly name: string;
  /** Where the name comes from; `count`: the drawing gives none, so the piece is numbered. */
  readonly nameFrom: 'block' | 'text' | 'count';
  /** The block in which it is drawn. null: it is drawn loose. */
  readonly block: string | null;
  readonly outline: {
    readonly area: number;
    readonly perimeter: number;
    readonly bbox: readonly [number, number, number, number];
    readonly segments: { readonly lines: number; readonly arcs: number };
  };
  readonly inner: readonly { readonly role: Role | 'unknown'; readonly area: number }[];
  /** How many lines and points of each role lie in it, without contours, texts and notes. */
  readonly features: Readonly<Partial<Record<Role, number>>>;
  /** Whether only one half is drawn, with a mirror line. The figures are those of the whole piece. */
  readonly half: boolean;
  readonly labels: Labels;
  readonly layers: readonly string[];
}

/** What the tool sees in a drawing, before any set exists. */
export interface DrawingReport {
  readonly file: string;
  readonly units: Drawing['units'];
  readonly unitsFrom: Drawing['unitsFrom'];
  readonly pieces: readonly PieceReport[];
  readonly findings: readonly Finding[];
}

/** A piece as it was found: in figures, and as drawn. */
export interface SeenPiece {
  readonly report: PieceReport;
  readonly outline: Outline;
}

/** What was found in a drawing: a report, and the pieces as drawn. */
export interface Sight {
  readonly report: DrawingReport;
  readonly pieces: readonly SeenPiece[];
}

/**
 * Finds the pieces of a drawing. They are looked for in each place of an insert, among loose entities,
 * and in blocks that nothing places.
 */
export function describeDrawing(drawing: Drawing, map: LayerMap, options: OutlineOptions): Sight {
  const { file, units, unitsFrom } = drawing;
  const groups = groupsOf(drawing).map((group) => groupSight(group, drawing, map, options));
  const pieces = distinct(groups.flatMap((group) => group.pieces));
  const findings = [...drawing.findings, ...groups.flatMap((group) => group.findings)];
  const report = { file, units, unitsFrom, pieces: pieces.map((piece) => piece.report), findings };
  return { report, pieces };
}

function groupSight(
  group: Group,
  { file, squareLines }: Drawing,
  map: LayerMap,
  options: OutlineOptions,
): { pieces: SeenPiece[]; findings: Finding[] } {
  const where: Place = { file, ...(group.block !== null && { piece: group.block }) };
  const drawn = group.entities.filter(({ line }) => !squareLines.includes(line));
  const joined = outlined(drawn, map, options, where);
  const whole = unfoldedContours(joined.entities, map, where);
  const { outlines, findings } = outlinesOf(whole.entities, map, where);
  const pieces = outlines.map((outline, i): SeenPiece => {
    const count = outlines.length > 1 ? i + 1 : 0;
    return { outline, report: pieceReport(outline, group, count, whole.half, map) };
  });
  return {
    pieces,
    findings: [
      ...joined.findings,
      ...whole.findings,
      ...openContours(joined.entities, map, where),
      ...findings,
      ...outlines.flatMap(({ contour, inner }) => [
        ...[contour, ...inner].flatMap((one) => crossingFindings(one, where)),
        ...sizeFindings(contour.path, { ...where, line: contour.entity.line }),
      ]),
    ],
  };
}

/** The report on one piece. `count` is its number if a group has several outlines, otherwise 0. */
function pieceReport(
  { contour, inner, others }: Outline,
  group: Group,
  count: number,
  half: boolean,
  map: LayerMap,
): PieceReport {
  const labels = labelsOf(others);
  const entities = [contour.entity, ...inner.map(({ entity }) => entity), ...others];
  return {
    ...nameOf(group, count, labels, others),
    block: group.block,
    outline: outlineReport(contour),
    inner: inner.map(({ role, area }) => ({ role, area })),
    features: featureCounts(others, map),
    half,
    labels,
    layers: [...new Set(entities.map(({ layer }) => layer))].sort(),
  };
}

/**
 * The name of a piece: from a label, otherwise from its block, otherwise from the largest text drawn on
 * it, otherwise a number. The name of a block only counts if there is one outline in it.
 */
function nameOf(
  { block }: Group,
  count: number,
  labels: Labels,
  others: readonly Entity[],
): Pick<PieceReport, 'name' | 'nameFrom'> {
  if (labels.name !== undefined) return { name: labels.name, nameFrom: 'text' };
  if (block !== null && count === 0) return { name: block, nameFrom: 'block' };
  const texts = others.filter(
    (entity): entity is TextEntity => entity.kind === 'text' && !isLabel(entity.text),
  );
  const [first, ...rest] = texts;
  if (first !== undefined) {
    const largest = rest.reduce((best, one) => (one.height > best.height ? one : best), first);
    const name = largest.text.split('\n')[0]!.trim();
    if (name !== '') return { name, nameFrom: 'text' };
  }
  const name = block ?? 'drawing';
  return { name: count === 0 ? name : `${name}-${count}`, nameFrom: 'count' };
}

/** Adds a number to a name that an earlier piece has. */
function distinct(pieces: readonly SeenPiece[]): SeenPiece[] {
  const taken = new Set<string>();
  return pieces.map((piece) => {
    let { name } = piece.report;
    for (let n = 2; taken.has(name); n++) name = `${piece.report.name} (${n})`;
    taken.add(name);
    return { ...piece, report: { ...piece.report, name } };
  });
}

function featureCounts(others: readonly Entity[], map: LayerMap): PieceReport['features'] {
  const counts: Partial<Record<Role, number>> = {};
  for (const { kind, layer } of others) {
    const role = meaningOf(layer, map)?.role;
    if (role !== undefined && role !== 'NOTE' && kind !== 'text')
      counts[role] = (counts[role] ?? 0) + 1;
  }
  return counts;
}

function outlineReport({ path, area }: ClosedLine): PieceReport['outline'] {
  const { minX, minY, maxX, maxY } = boxOfPath(path);
  const segments = segmentsOf(path);
  const arcs = segments.filter(({ bulge }) => bulge !== 0).length;
  return {
    area,
    perimeter: pathLength(path),
    bbox: [minX, minY, maxX, maxY],
    segments: { lines: segments.length - arcs, arcs },
  };
}

/** So many crossings are listed; of more only the number is given. */
const mostCrossings = 5;

function crossingFindings({ entity, path }: ClosedLine, where: Place): Finding[] {
  const crossings = selfCrossings(path);
  const [first] = crossings;
  if (first === undefined) return [];
  const places = crossings.map(({ x, y }) => `${decimal(x, 1)}, ${decimal(y, 1)}`);
  const more = places.length > mostCrossings ? ` and ${places.length - mostCrossings} more` : '';
  const told = places.slice(0, mostCrossings).join('; ');
  return [
    {
      severity: 'error',
      rule: 'self-crossing',
      message: `a contour on layer ${entity.layer} crosses or touches itself at ${told}${more}.`,
      todo: 'Untangle it there.',
      where: { ...where, line: entity.line, at: first },
    },
  ];
}
