import type { Drawing, Entity, TextEntity } from '../../drawing/drawing.ts';
import { startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding, Place } from '../../base/findings.ts';
import { hasErrors } from '../../base/findings.ts';
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
import type { BridgedGaps } from '../outlines/outlines.ts';
import { gapFindings, openContours, outlined } from '../outlines/outlines.ts';
import { sizeFindings } from './size.ts';
import { unfoldedContours } from '../outlines/unfold-contours.ts';
import type { UnknownThing } from '../unknown-layers.ts';
import { thingWords, unknownLayerFindings } from '../unknown-layers.ts';

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
  /** Those of its layers that say nothing. */
  readonly unknownLayers: readonly string[];
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

/** What was found in a drawing: a report, the pieces as drawn, and what belongs to none of them. */
export interface Sight {
  readonly report: DrawingReport;
  readonly pieces: readonly SeenPiece[];
  /** Everything that lies in no outline, texts and notes too; all but the check square. */
  readonly leftOut: readonly Entity[];
  /** The lines of the check square. */
  readonly square: readonly Entity[];
}

/**
 * Finds the pieces of a drawing. They are looked for in each place of an insert, among loose entities,
 * and in blocks that nothing places.
 */
export function describeDrawing(drawing: Drawing, map: LayerMap, options: OutlineOptions): Sight {
  const { file, units, unitsFrom } = drawing;
  const groups = groupsOf(drawing).map((group) => groupSight(group, drawing, map, options));
  const pieces = distinct(groups.flatMap((group) => group.pieces));
  const stray = groups.flatMap((group) => group.stray);
  const own = groups.flatMap((group) => group.findings);
  const findings = [
    ...drawing.findings,
    ...gapFindings(groups.flatMap(({ gaps }) => gaps)),
    ...own,
    ...unknownLayerFindings(
      pieces.flatMap((piece) => unknownThings(piece, file, map)),
      { severity: 'warning', frame: 'in the drawing', todo: layerTodo },
    ),
    ...(pieces.length > 0 ? strayFindings(stray, map, file) : []),
    // An open outline is told already, and is the reason.
    ...(pieces.length > 0 || hasErrors(own) ? [] : [nothingSeen(drawing)]),
  ];
  const report = { file, units, unitsFrom, pieces: pieces.map((piece) => piece.report), findings };
  const leftOut = [...groups.flatMap((group) => group.alone), ...stray];
  return { report, pieces, leftOut, square: squareOf(drawing) };
}

function squareOf({ entities, squareLines }: Drawing): Entity[] {
  return entities.filter(({ line }) => squareLines.includes(line));
}

interface GroupSight {
  readonly pieces: readonly SeenPiece[];
  readonly alone: readonly Entity[];
  readonly stray: readonly Entity[];
  readonly gaps: readonly BridgedGaps[];
  readonly findings: readonly Finding[];
}

function groupSight(
  group: Group,
  { file, squareLines }: Drawing,
  map: LayerMap,
  options: OutlineOptions,
): GroupSight {
  const where: Place = { file, ...(group.block !== null && { piece: group.block }) };
  const drawn = group.entities.filter(({ line }) => !squareLines.includes(line));
  const joined = outlined(drawn, map, options, where);
  const whole = unfoldedContours(joined.entities, map, where);
  const isBlock = group.block !== null;
  const { outlines, alone, stray, findings } = outlinesOf(whole.entities, map, where, isBlock);
  const pieces = outlines.map((outline, i): SeenPiece => {
    const count = outlines.length > 1 ? i + 1 : 0;
    return { outline, report: pieceReport(outline, group, count, whole.half, map) };
  });
  return {
    pieces,
    alone,
    stray,
    gaps: joined.gaps,
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
    unknownLayers: [...new Set(entities.filter(isUnknown(map)).map(({ layer }) => layer))].sort(),
  };
}

/** Whether an entity is drawn, and its layer does not say what it is. */
function isUnknown(map: LayerMap): (entity: Entity) => boolean {
  return ({ kind, layer }) => kind !== 'text' && meaningOf(layer, map) === null;
}

/** What lies on a piece on layers that say nothing, but for its outline. */
function unknownThings(
  { report, outline }: SeenPiece,
  file: string,
  map: LayerMap,
): UnknownThing[] {
  const inner = outline.inner.filter(({ role }) => role === 'unknown').map(({ entity }) => entity);
  const others = outline.others.filter(isUnknown(map));
  return [...inner, ...others].map((entity) => ({ piece: report.name, file, entity }));
}

function layerTodo(_: string, roles: string): string {
  return `Until it is said, it is not cut. Name the layer for what it is (${roles}, or NOTE if it is only to be read), or say it in shared/layers.yaml; in a set, "layers:" says it.`;
}

/** The error on a drawing in which no piece was found. */
function nothingSeen({ file, entities, blocks }: Drawing): Finding {
  const isEmpty = entities.length === 0 && blocks.every((block) => block.entities.length === 0);
  return {
    severity: 'error',
    rule: 'no-piece',
    message: `there is no closed outline in this drawing${isEmpty ? '; nothing is drawn in it at all' : ''}.`,
    todo: isEmpty
      ? 'Export it again with its model space, or send another file.'
      : 'Close the outlines; --gap bridges small gaps between the ends of lines.',
    where: { file },
  };
}

/** So many places of things that lie in no outline are told for a layer. */
const mostPlaces = 3;

/**
 * Findings on what belongs to no piece, one for each layer, with the places of the first. Texts and notes
 * may stand anywhere.
 */
function strayFindings(stray: readonly Entity[], map: LayerMap, file: string): Finding[] {
  const counted = stray.filter(
    ({ kind, layer }) => kind !== 'text' && meaningOf(layer, map)?.role !== 'NOTE',
  );
  const layers = [...new Set(counted.map(({ layer }) => layer))];
  return layers.map((layer) => {
    const own = counted.filter((entity) => entity.layer === layer);
    const words =
      own.length === 1 ? 'lies in no outline and belongs' : 'lie in no outline and belong';
    return {
      severity: 'warning',
      rule: 'in-no-outline',
      message: `${own.length} on layer ${layer} ${words} to no piece: ${placesWords(own)}.`,
      todo: 'Draw it on its piece, or on NOTE if it is only to be read.',
      where: { file, line: own[0]!.line, at: startOfEntity(own[0]!) },
    };
  });
}

/** What things are and where, in the frame of the drawing: `a point at 700, 20`. */
export function placesWords(entities: readonly Entity[]): string {
  const told = entities.slice(0, mostPlaces).map((entity) => {
    const { x, y } = startOfEntity(entity);
    return `${thingWords(entity)} at ${decimal(x, 1)}, ${decimal(y, 1)}`;
  });
  const rest = entities.length - told.length;
  return `${told.join('; ')}${rest > 0 ? `; and ${rest} more` : ''}`;
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
