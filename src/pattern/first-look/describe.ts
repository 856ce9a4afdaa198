import type { Drawing, Entity, TextEntity } from '../../drawing/drawing.ts';
import { startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding, Place } from '../../base/findings.ts';
import { hasErrors } from '../../base/findings.ts';
import { boxOfPath, pathLength, segmentsOf } from '../../geometry/paths/path.ts';
import { selfCrossings } from '../../geometry/relations/crossings.ts';

import { decimal } from '../../base/numbers.ts';
import { counted, shownNames } from '../../base/wording.ts';
import type { ClosedLine } from '../outlines/closed-line.ts';
import type { Outline } from '../outlines/contours.ts';
import { outlinesOf, outlineVotesOf } from '../outlines/contours.ts';
import type { Group } from '../outlines/groups.ts';
import { groupsOf } from '../outlines/groups.ts';
import type { Labels } from '../labels.ts';
import { isLabel, labelsOf } from '../labels.ts';
import type { LayerMap } from '../layers.ts';
import { layerName, meaningOf } from '../layers.ts';
import type { BridgedGaps, OpenChain, OutlineOptions } from '../outlines/outlines.ts';
import { gapFindings, openContours, outlined, withoutLoose } from '../outlines/outlines.ts';
import type { HalfOutline } from '../outlines/half-outlines.ts';
import { closedHalves, halfOutlines } from '../outlines/half-outlines.ts';
import { counterClockwise } from '../../geometry/paths/area.ts';
import { guessRoles } from './guess-roles.ts';
import { frameFindings, framesAmong } from './frames.ts';
import { whichOutlineFindings } from './outline-doubts.ts';
import type { SeenPiece, Sight } from './sight.ts';
import { placesWords, strayFindings } from './strays.ts';
import type { OutlineVotes } from '../outlines/twins.ts';
import { sizeFindings } from './size.ts';
import { unfoldedContours } from '../outlines/unfold-contours.ts';
import type { UnknownThing } from '../unknown-layers.ts';
import { unknownLayerFindings } from '../unknown-layers.ts';

/**
 * Finds the pieces of a drawing. They are looked for in each place of an insert, among loose entities,
 * and in blocks that nothing places.
 */
export function describeDrawing(drawing: Drawing, map: LayerMap, options: OutlineOptions): Sight {
  const { file, units, unitsFrom } = drawing;
  const all = groupsOf(drawing).map((group) => joinedGroup(group, drawing, map, options));
  const frames = framesAmong(
    all.flatMap(({ entities }) => entities),
    map,
  );
  const sheets = new Set<Entity>(frames);
  const joined = all.map((group) => ({
    ...group,
    entities: group.entities.filter((entity) => !sheets.has(entity)),
  }));
  const votes = countedVotes(joined.flatMap(({ entities }) => outlineVotesOf(entities, map)));
  const groups = joined.map((group) => groupSight(group, map, votes));
  const pieces = distinct(groups.flatMap((group) => group.pieces));
  const stray = groups.flatMap((group) => group.stray);
  const own = groups.flatMap((group) => group.findings);
  const findings = [
    ...drawing.findings,
    ...gapFindings(groups.flatMap(({ gaps }) => gaps)),
    ...own,
    ...frameFindings(frames, file),
    ...whichOutlineFindings(pieces, file),
    ...unknownLayerFindings(
      pieces.flatMap((piece) => unknownThings(piece, file, map)),
      { severity: 'warning', frame: 'in the drawing', todo: layerTodo },
    ),
    ...(pieces.length > 0 ? strayFindings(stray, map, file) : []),
    // An open outline is told already, and is the reason.
    ...(pieces.length > 0 || hasErrors(own) ? [] : [nothingSeen(drawing, map)]),
  ];
  const report = { file, units, unitsFrom, pieces: pieces.map((piece) => piece.report), findings };
  const leftOut = [...groups.flatMap((group) => group.alone), ...stray, ...sheets];
  return { report, pieces, leftOut, hidden: hiddenBlocks(drawing), square: squareOf(drawing) };
}

function hiddenBlocks({ entities, unplaced }: Drawing): readonly string[] {
  return entities.some(({ placement }) => placement !== undefined) ? unplaced : [];
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
  return {
    block,
    entities: whole.entities,
    where,
    chains: joined.chains,
    half: whole.half,
    gaps: joined.gaps,
    findings: [...joined.findings, ...whole.findings],
  };
}

function countedVotes(layers: readonly string[]): Map<string, number> {
  const votes = new Map<string, number>();
  for (const layer of layers) votes.set(layer, (votes.get(layer) ?? 0) + 1);
  return votes;
}

/** An outline with the centreline along which it was closed, if it was. */
function withAxis(outline: Outline, halves: readonly HalfOutline[]): Outline {
  const half = halves.find(({ contour }) => contour === outline.contour.entity);
  if (half === undefined) return outline;
  const dashes = new Set<Entity>(half.dashes);
  const others = outline.others.filter((entity) => !dashes.has(entity));
  return { ...outline, others: [...others, half.axis], half: half.axis };
}

/** Behind the name of a layer of outlines: the layer on which things are kept that were drawn there too. */
const thingsSuffix = '-THINGS';

/** An outline with lines that lie on its layer and are no part of it on a layer of their own, which says nothing. */
function withThingsApart(outline: Outline, isMisplaced: (entity: Entity) => boolean): Outline {
  if (!outline.others.some(isMisplaced)) return outline;
  const others = outline.others.map((entity) =>
    isMisplaced(entity) ? { ...entity, layer: `${entity.layer}${thingsSuffix}` } : entity,
  );
  return { ...outline, others };
}

/** A warning for each layer of outlines on which other lines lie too. */
function misplacedFindings(misplaced: readonly Entity[], where: Place): Finding[] {
  const layers = [...new Set(misplaced.map(({ layer }) => layer))];
  return layers.map((layer) => {
    const own = misplaced.filter((one) => one.layer === layer);
    const isOne = own.length === 1;
    return {
      severity: 'warning',
      rule: 'on-outline-layer',
      message: `${counted(own.length, 'line')} on layer ${layer} ${isOne ? 'lies' : 'lie'} on a piece and ${isOne ? 'is' : 'are'} no part of its outline: ${placesWords(own)}. ${isOne ? 'It counts' : 'They count'} as drawn on a layer ${layer}${thingsSuffix}, which says nothing.`,
      todo: 'If it closes an outline, close that in the drawing; if not, say what that layer means.',
      where: { ...where, line: own[0]!.line, at: startOfEntity(own[0]!) },
    };
  });
}

function halfFinding({ contour, axis }: HalfOutline, where: Place): Finding {
  return {
    severity: 'warning',
    rule: 'half-outline',
    message: `an outline on layer ${contour.layer} is open, and both its ends lie on the line on layer ${axis.layer}: it is closed along that line, as one half of a piece.`,
    todo: 'If that is no half of a piece, close the outline in the drawing.',
    where: { ...where, line: contour.line, at: startOfEntity(contour) },
  };
}

function groupSight(group: JoinedGroup, map: LayerMap, votes: OutlineVotes): GroupSight {
  const { where, half, gaps } = group;
  const isBlock = group.block !== null;
  const halves = half ? [] : halfOutlines(group, map, votes);
  const entities = closedHalves(group.entities, halves);
  const found = outlinesOf(entities, map, where, isBlock, votes);
  const closedOnes = found.outlines.map((outline) => withAxis(outline, halves));
  const kept = new Set<Entity>(
    withoutLoose(
      entities,
      found.stray,
      closedOnes.map(({ contour }) => contour.path),
      map,
    ),
  );
  const loose = new Set(entities.filter((one) => !kept.has(one) && !found.stray.includes(one)));
  const isMisplaced = (one: Entity): boolean => loose.has(one);
  const outlines = closedOnes.map((outline) => withThingsApart(outline, isMisplaced));
  const used = new Set(outlines.map((one) => one.half));
  const axes = new Set<Entity>(
    halves.flatMap(({ axis, dashes }) => (used.has(axis) ? [axis, ...dashes] : [])),
  );
  const stray = found.stray.filter((entity) => !axes.has(entity));
  const { alone, findings } = found;
  const closed = new Set(halves.flatMap(({ members }) => members));
  const chains = group.chains.filter(({ members }) => !members.some((one) => closed.has(one)));
  const ends = [...kept, ...chains.map((chain) => chain.joined)];
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
      ...openContours(ends, map, where),
      ...halves.map((one) => halfFinding(one, where)),
      ...misplacedFindings(
        closedOnes.flatMap((one) => one.others.filter(isMisplaced)),
        where,
      ),
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
): SeenPiece['report'] {
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
  const all = [...inner, ...others];
  if (all.length === 0) return [];
  const things = [...outline.inner.map(({ entity }) => entity), ...outline.others];
  const guessed = guessRoles(things, counterClockwise(outline.contour.path), map, report.name);
  return all.map((entity) => ({
    piece: report.name,
    file,
    entity,
    beside: !twins.has(entity) ? 'nothing' : isNamed ? 'outline' : 'doubtful-outline',
    guesses: guessed.find((one) => one.entity === entity)?.guesses ?? [],
  }));
}

function layerTodo(_: string, roles: string): string {
  return `Until it is said, it is not cut. Name the layer for what it is (${roles}, or NOTE if it is only to be read), or say it in shared/layers.yaml; in a set, "layers:" says it.`;
}

/** The error on a drawing in which no piece was found. */
function nothingSeen({ file, entities, blocks }: Drawing, map: LayerMap): Finding {
  const isEmpty = entities.length === 0 && blocks.every((block) => block.entities.length === 0);
  const closed = [...entities, ...blocks.flatMap((block) => block.entities)].flatMap((entity) =>
    entity.kind === 'path' && entity.path.closed ? [entity.layer] : [],
  );
  if (closed.length > 0) {
    const means = [...new Set(closed)].map((layer) => {
      const meaning = meaningOf(layer, map);
      return `layer ${layer} means ${meaning === null ? 'nothing' : layerName(meaning)}`;
    });
    return {
      severity: 'error',
      rule: 'no-piece',
      message: `there are closed lines in this drawing, and none of them is an outline: ${shownNames(means)}.`,
      todo: 'Say which layer has the outlines.',
      where: { file },
    };
  }
  return {
    severity: 'error',
    rule: 'no-piece',
    message: `there is no closed outline in this drawing${isEmpty ? '; nothing is drawn in it at all' : ''}.`,
    todo: isEmpty
      ? 'Export it again with its model space, or send another file.'
      : 'Close the outlines in the drawing. Or allow wider gaps between the ends of lines (gap, at most 5 mm).',
    where: { file },
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
): Pick<SeenPiece['report'], 'name' | 'nameFrom'> {
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

function featureCounts(others: readonly Entity[], map: LayerMap): SeenPiece['report']['features'] {
  const counts: Record<string, number> = {};
  for (const { kind, layer } of others) {
    const meaning = meaningOf(layer, map);
    if (meaning === null || meaning.role === 'NOTE' || kind === 'text') continue;
    const key = layerName({ ...meaning, follows: null });
    counts[key] = (counts[key] ?? 0) + 1;
  }
  return counts;
}

function outlineReport({ path, area }: ClosedLine): SeenPiece['report']['outline'] {
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
