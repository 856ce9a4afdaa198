import type { Drawing, Entity, TextEntity } from '../../drawing/drawing.ts';
import { startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding, Place } from '../../base/findings.ts';
import { hasErrors } from '../../base/findings.ts';
import { boxOfPath, pathLength, segmentsOf } from '../../geometry/paths/path.ts';
import { selfCrossings } from '../../geometry/relations/crossings.ts';

import { decimal } from '../../base/numbers.ts';
import type { ClosedLine } from '../outlines/closed-line.ts';
import type { Outline } from '../outlines/contours.ts';
import { outlinesOf, outlineVotesOf } from '../outlines/contours.ts';
import type { Group } from '../outlines/groups.ts';
import { groupsOf } from '../outlines/groups.ts';
import type { Labels } from '../labels.ts';
import { isLabel, labelsOf } from '../labels.ts';
import type { LayerMap, Role } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import type { BridgedGaps, OpenChain, OutlineOptions } from '../outlines/outlines.ts';
import { gapFindings, openContours, outlined } from '../outlines/outlines.ts';
import type { OutlineVotes } from '../outlines/twins.ts';
import { runTogether } from '../outlines/twins.ts';
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
  const joined = groupsOf(drawing).map((group) => joinedGroup(group, drawing, map, options));
  const votes = countedVotes(joined.flatMap(({ entities }) => outlineVotesOf(entities, map)));
  const groups = joined.map((group) => groupSight(group, map, votes));
  const pieces = distinct(groups.flatMap((group) => group.pieces));
  const stray = groups.flatMap((group) => group.stray);
  const own = groups.flatMap((group) => group.findings);
  const findings = [
    ...drawing.findings,
    ...gapFindings(groups.flatMap(({ gaps }) => gaps)),
    ...own,
    ...whichOutlineFindings(pieces, file),
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

/** A group whose loose lines are joined. */
interface JoinedGroup extends Group {
  readonly where: Place;
  readonly chains: readonly OpenChain[];
  readonly half: boolean;
  readonly gaps: readonly BridgedGaps[];
  readonly findings: readonly Finding[];
}

function joinedGroup(
  { block, entities }: Group,
  { file, squareLines }: Drawing,
  map: LayerMap,
  options: OutlineOptions,
): JoinedGroup {
  const where: Place = { file, ...(block !== null && { piece: block }) };
  const drawn = entities.filter(({ line }) => !squareLines.includes(line));
  const joined = outlined(drawn, map, options, where);
  const whole = unfoldedContours(joined.entities, map, where);
  const ends = [...joined.entities, ...joined.chains.map((chain) => chain.joined)];
  return {
    block,
    entities: whole.entities,
    where,
    chains: joined.chains,
    half: whole.half,
    gaps: joined.gaps,
    findings: [...joined.findings, ...whole.findings, ...openContours(ends, map, where)],
  };
}

function countedVotes(layers: readonly string[]): Map<string, number> {
  const votes = new Map<string, number>();
  for (const layer of layers) votes.set(layer, (votes.get(layer) ?? 0) + 1);
  return votes;
}

function groupSight(group: JoinedGroup, map: LayerMap, votes: OutlineVotes): GroupSight {
  const { where, half, gaps } = group;
  const isBlock = group.block !== null;
  const found = outlinesOf(group.entities, map, where, isBlock, votes);
  const { outlines, alone, stray, findings } = found;
  const pieces = outlines.map((outline, i): SeenPiece => {
    const count = outlines.length > 1 ? i + 1 : 0;
    return { outline, report: pieceReport(outline, group, count, half, map) };
  });
  return {
    pieces,
    alone,
    stray,
    gaps,
    findings: [
      ...group.findings,
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
  const twins = new Set<Entity>(outline.twins.map(({ entity }) => entity));
  const isNamed = outline.contour.role === 'OUTLINE';
  return [...inner, ...others].map((entity) => ({
    piece: report.name,
    file,
    entity,
    beside: !twins.has(entity) ? 'nothing' : isNamed ? 'outline' : 'doubtful-outline',
  }));
}

/** The layers of two closed lines that run beside each other, and the pieces on which they do. */
export interface OutlineDoubt {
  readonly layer: string;
  readonly other: string;
  readonly cases: readonly { readonly piece: SeenPiece; readonly twin: ClosedLine }[];
}

/**
 * Where closed lines on two layers that say nothing run beside each other, and it matters which is the
 * outline: for each two layers, the first the one that was chosen.
 */
export function outlineDoubts(pieces: readonly SeenPiece[]): OutlineDoubt[] {
  const cases = pieces.flatMap((piece) =>
    piece.outline.contour.role === 'OUTLINE'
      ? []
      : piece.outline.twins
          .filter(({ path }) => !runTogether(path, piece.outline.contour.path))
          .map((twin) => ({ piece, twin })),
  );
  const pairOf = ({ piece, twin }: (typeof cases)[number]): string =>
    JSON.stringify([piece.outline.contour.entity.layer, twin.entity.layer]);
  return [...new Set(cases.map(pairOf))].map((pair) => {
    const same = cases.filter((one) => pairOf(one) === pair);
    const [{ piece, twin }] = same as [(typeof cases)[number]];
    return { layer: piece.outline.contour.entity.layer, other: twin.entity.layer, cases: same };
  });
}

/** What is in doubt, in words: the lines with their sizes, and which is taken. */
export function doubtWords({ layer, other, cases }: OutlineDoubt): string {
  const told = cases.slice(0, mostPlaces).map(({ piece: { report, outline }, twin }) => {
    const [one, two] = [outline.contour.entity, twin.entity].map(thingWords);
    return `${one} on ${layer} and ${two} on ${other} in ${report.name}`;
  });
  const rest = cases.length - told.length;
  return `lines on layers ${layer} and ${other} run beside each other all round (${told.join('; ')}${rest > 0 ? `; and ${rest} more` : ''}), and ${layer} is taken for the outline`;
}

function whichOutlineFindings(pieces: readonly SeenPiece[], file: string): Finding[] {
  return outlineDoubts(pieces).map((doubt) => {
    const { entity } = doubt.cases[0]!.twin;
    return {
      severity: 'warning',
      rule: 'which-outline',
      message: `${doubtWords(doubt)}.`,
      todo: 'Put on layer OUTLINE what is the outline, or say what both layers are: in shared/layers.yaml, or in a set by "layers:".',
      where: { file, line: entity.line, at: startOfEntity(entity) },
    };
  });
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
