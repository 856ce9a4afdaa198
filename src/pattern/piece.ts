import type { Entity } from '../drawing/drawing.ts';
import { pathOfEntity } from '../drawing/entity-of.ts';
import type { Finding, Place } from '../base/findings.ts';
import { counterClockwise } from '../geometry/paths/area.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import type { Conditions, OptionValues } from './conditions.ts';
import { isMet } from './conditions.ts';
import { isStick, lineThrough } from './dashes.ts';
import type { SaidEdge } from './edge-names.ts';
import { edgeNames } from './edge-names.ts';
import { tracedKinds } from './edges.ts';
import type { DrawnLine, Feature } from './feature.ts';
import type { LayerMap, LayerMeaning, Role } from './layers.ts';
import { layerName, meaningOf, mirrorLayer } from './layers.ts';
import { numberedPath, outlineAmong } from './outlines/numbered.ts';
import { openGaps, openWords } from './outlines/open-ends.ts';
import { widestGap } from './outlines/outlines.ts';
import type { PieceEntry } from './set-file.ts';
import { plainNotches } from './notch-shapes.ts';
import { unfold } from './outlines/unfold.ts';
import { markNames } from './mark-names.ts';
import { arrowAmong } from './pile-arrow.ts';

/** All that is drawn on a piece, whatever the options are, in the order of the drawing. */
interface DrawnForAll {
  /** Features with outlines, PILE and AXIS lines, which may be several: each goes with some options. */
  readonly features: readonly Feature[];
  readonly notes: readonly { readonly note: Entity; readonly when: Conditions }[];
}

/**
 * A pattern piece as drawn, as it is with some choice of options: what the set file says about it and what
 * its block holds, in mm, in the frame of the block.
 */
export interface Piece {
  readonly name: string;
  readonly entry: PieceEntry;
  /** The net outline: closed, counter-clockwise. */
  readonly outline: Path;
  /** All features but the outline, PILE, AXIS and NOTE. */
  readonly features: readonly Feature[];
  /**
   * What is only for people to read: everything on NOTE, and texts on any layer unless they name edges or
   * marks.
   */
  readonly notes: readonly Entity[];
  /** What lies on layers that say nothing, and so takes no part in anything. Texts are notes. */
  readonly unknown: readonly Entity[];
  /**
   * The direction in which the pile leans: as drawn, or as the set file says where that is certain. null:
   * nothing says it.
   */
  readonly pile: DrawnLine | null;
  /** The vehicle's centreline, towards the front. null: none is drawn. */
  readonly axis: DrawnLine | null;
  /** The other half of a pair. null: only one half is drawn. */
  readonly other: Piece | null;
  /** null: nothing on it depends on an option. */
  readonly forAll: DrawnForAll | null;
  readonly where: Place;
}

const closedRoles: ReadonlySet<Role> = new Set(['OUTLINE', 'CUTOUT', 'HOLE', 'PAD']);
const straightRoles: ReadonlySet<Role> = new Set(['PILE', 'AXIS']);

/** What is read of the block of a piece. */
interface PieceRead {
  /** null: a finding is an error, or it is not there. */
  readonly piece: Piece | null;
  /** Whether it is there with these options: none of its outlines may be. */
  readonly isThere: boolean;
  /** What lies on layers that say nothing: whoever reads the whole set asks about these, layer by layer. */
  readonly unknown: readonly Entity[];
  readonly findings: readonly Finding[];
}

/**
 * Makes a piece from the entities of its block, as it is where the options have these values. `said`: the
 * edges of it that the set file speaks of.
 */
export function pieceOf(
  name: string,
  entry: PieceEntry,
  entities: readonly Entity[],
  map: LayerMap,
  file: string,
  options: OptionValues = new Map(),
  said: readonly SaidEdge[] = [],
): PieceRead {
  const where = { file, piece: name };
  const isHere = ({ when }: Pick<LayerMeaning, 'when'>): boolean => isMet(when, options);
  const contours = entities.filter(({ layer }) => isHere(meaningOf(layer, map) ?? always));
  const contour = outlineAmong(contours, map)?.path;
  const isOutline = ({ kind, layer }: Entity): boolean =>
    kind === 'path' && meaningOf(layer, map)?.role === 'OUTLINE';
  if (entities.some(isOutline) && !contours.some(isOutline))
    return { piece: null, isThere: false, unknown: [], findings: [] };
  const findings: Finding[] = [];
  const features: Feature[] = [];
  const unknown: Entity[] = [];
  for (const entity of entities) {
    const feature = featureOf(entity, map, contour);
    if (isMirror(entity) && !entry.half) findings.push(halfNotSaid(entity, where));
    if (feature === 'unknown') unknown.push(entity);
    else if (feature !== null) features.push(feature);
  }
  const named = edgeNames(features, entities, map, where, said);
  const marked = markNames(named.features, entities, map, Object.keys(entry.onSite ?? {}));
  const here = withOneAxis(marked.features.filter(isHere));
  const drawn = entry.half ? unfolded(here, where) : { features: here, findings: [] };
  const read = withOneArrow(drawn.features);
  findings.push(...named.findings, ...drawn.findings);
  const shapes = read.flatMap((feature) => directionFindings(feature, where));
  const open = read.filter(isOpenContour);
  findings.push(...openFindings(open, where));
  const only = (role: Role, needed: boolean): Feature | null => {
    const found = read.filter((feature) => feature.role === role);
    // Where one is open, that is the reason why there are several.
    const isTold = found.some((one) => open.includes(one));
    if ((found.length > 1 && !isTold) || (needed && found.length === 0)) {
      findings.push(countFinding(role, found, where));
    }
    return found[0] ?? null;
  };
  const outline = only('OUTLINE', true);
  const axis = only('AXIS', false);
  findings.push(...shapes.filter(({ role }) => role !== 'PILE').map(({ finding }) => finding));
  const isSound = !findings.some(({ severity }) => severity === 'error');
  // What is wrong with the PILE is asked: it is no reason not to look at the rest of the piece.
  const pile = only('PILE', false);
  findings.push(...shapes.filter(({ role }) => role === 'PILE').map(({ finding }) => finding));
  if (outline === null || !isSound) return { piece: null, isThere: true, unknown, findings };
  const notes = entities.filter((entity) => isNote(entity, map) && !marked.texts.has(entity));
  const piece: Piece = {
    name,
    other: null,
    entry,
    outline: counterClockwise(outline.path),
    features: plainNotches(read, outline.path)
      .filter(({ role }) => !['OUTLINE', 'PILE', 'AXIS'].includes(role))
      .map(orientedFeature),
    notes: notes.filter(({ layer }) => isHere(meaningOf(layer, map) ?? always)),
    unknown,
    pile: pile === null ? null : endsOf(pile.path),
    axis: axis === null || isMirrorLineOnly(entry) ? null : endsOf(axis.path),
    forAll: isPlain(entities, map)
      ? null
      : {
          features: wholeFeatures(marked.features, entry, here, where).map(orientedFeature),
          notes: notes.map((note) => ({ note, when: (meaningOf(note.layer, map) ?? always).when })),
        },
    where: { ...where, line: outline.line },
  };
  return { piece, isThere: true, unknown, findings };
}

/** What is drawn on a layer that says nothing is always there. */
const always: Pick<LayerMeaning, 'when'> = { when: [] };

/** Whether nothing of what is drawn depends on an option. */
function isPlain(entities: readonly Entity[], map: LayerMap): boolean {
  return entities.every(({ layer }) => (meaningOf(layer, map) ?? always).when.length === 0);
}

/** All features, made whole as those that are here have been. */
function wholeFeatures(
  all: readonly Feature[],
  { half }: PieceEntry,
  here: readonly Feature[],
  where: Place,
): readonly Feature[] {
  const axis = here.find(({ role }) => role === 'AXIS');
  return half && axis !== undefined ? unfold(all, endsOf(axis.path), where).features : all;
}

/** The features of a piece, and where something on it depends on options all that are drawn. */
export function featuresForAll({ forAll, features }: Piece): readonly Feature[] {
  return forAll === null ? features : forAll.features;
}

/** A piece of which one half is drawn, made whole by its AXIS line. */
function unfolded(
  features: readonly Feature[],
  where: Place,
): { features: readonly Feature[]; findings: readonly Finding[] } {
  const axis = features.find(({ role }) => role === 'AXIS');
  if (axis !== undefined && isStick(axis.path)) return unfold(features, endsOf(axis.path), where);
  const message = 'the piece is drawn half, and there is no straight AXIS line to mirror it in.';
  const todo = 'Draw its mirror line on layer AXIS.';
  return { features, findings: [{ severity: 'error', rule: 'half-axis', message, todo, where }] };
}

/**
 * Whether the AXIS is only the mirror line of a piece that is drawn half: unless the piece lies across
 * the vehicle's centreline, it says nothing about that line.
 */
function isMirrorLineOnly({ half, side }: PieceEntry): boolean {
  return half && side !== 'centre';
}

/** Whether an entity lies on the layer of ASTM D6673 that says that one half is drawn. */
function isMirror({ kind, layer }: Entity): boolean {
  return kind === 'path' && layer === mirrorLayer;
}

function halfNotSaid({ line }: Entity, where: Place): Finding {
  return {
    severity: 'error',
    rule: 'half-not-said',
    message: `the line on layer ${mirrorLayer} is a mirror line (ASTM D6673): one half is drawn, and the set file does not say so.`,
    todo: 'Add "half: true" to the piece, or put the line on NOTE if the piece is drawn whole.',
    where: { ...where, line },
  };
}

/** Features of which the PILE lines are one, from tail to head, if they are plainly one arrow. */
function withOneArrow(features: readonly Feature[]): readonly Feature[] {
  const piles = features.filter(({ role }) => role === 'PILE');
  const arrow = arrowAmong(piles.map(({ path }) => path));
  if (arrow === null) return features;
  return [...features.filter(({ role }) => role !== 'PILE'), { ...piles[0]!, path: arrow }];
}

/** Features of which the AXIS lines are one, if they are the dashes of one. */
function withOneAxis(features: readonly Feature[]): readonly Feature[] {
  const dashes = features.filter(({ role }) => role === 'AXIS');
  const path = lineThrough(dashes.map((dash) => dash.path));
  if (path === null || path === dashes[0]!.path) return features;
  return [...features.filter(({ role }) => role !== 'AXIS'), { ...dashes[0]!, path }];
}

function featureOf(
  entity: Entity,
  map: LayerMap,
  outline: Path | undefined,
): Feature | 'unknown' | null {
  if (entity.kind === 'text') return null;
  const meaning = meaningOf(entity.layer, map);
  if (meaning === null) return 'unknown';
  if (meaning.role === 'NOTE') return null;
  const path =
    entity.kind === 'path'
      ? entity.path
      : (numberedPath(entity, meaning.role, outline) ?? pathOfEntity(entity));
  return { ...meaning, name: null, path, line: entity.line };
}

/**
 * Whether an entity is only for people to read. A text on the layer of an edge's line is not: it names
 * that line.
 */
function isNote({ kind, layer }: Entity, map: LayerMap): boolean {
  const role = meaningOf(layer, map)?.role;
  if (kind === 'text') return role === undefined || tracedKinds[role] === undefined;
  return role === 'NOTE';
}

function orientedFeature(feature: Feature): Feature {
  return feature.path.closed ? { ...feature, path: counterClockwise(feature.path) } : feature;
}

function endsOf(path: Path): DrawnLine {
  const bare = ({ x, y }: Point): Point => ({ x, y });
  return { from: bare(path.vertices[0]!), to: bare(path.vertices.at(-1)!) };
}

function countFinding(role: Role, found: readonly Feature[], where: Place): Finding {
  const second = found[1];
  return {
    severity: 'error',
    rule: `one-${role.toLowerCase()}`,
    message:
      second === undefined
        ? `there is no ${role} in this piece.`
        : `there are ${found.length} ${role} lines in this piece, and there can be one.`,
    todo:
      second === undefined
        ? `Draw its outline as one closed polyline on layer ${role}.`
        : 'Keep one; put the others on NOTE or in a block of their own.',
    where:
      second === undefined ? where : { ...where, line: second.line, at: second.path.vertices[0]! },
  };
}

function isOpenContour({ role, path }: Feature): boolean {
  const isDrillMark = role === 'HOLE' && path.vertices.length === 1;
  return closedRoles.has(role) && !path.closed && !isDrillMark;
}

/** The gaps that keep contours open, one by one, the widest first. */
function openFindings(open: readonly Feature[], where: Place): Finding[] {
  const layers = [...new Set(open.map(layerName))];
  const gaps = layers.flatMap((layer) => openGaps(open.filter((one) => layerName(one) === layer)));
  return gaps
    .toSorted((a, b) => b.size - a.size)
    .map(({ of, at, to, size }) => ({
      severity: 'error',
      rule: 'open-contour',
      message: `this ${of.role} is not closed: ${openWords({ to, size })}.`,
      todo:
        size > samePoint && size <= widestGap
          ? `Close it in the drawing, or write "gap: ${Math.ceil(size * 10) / 10}" in the set file, which closes all that is no wider.`
          : 'Close it in the drawing.',
      where: { ...where, line: of.line, at },
    }));
}

/** An error if a direction is not one straight line. */
function directionFindings(feature: Feature, where: Place): { role: Role; finding: Finding }[] {
  const { role, path, line } = feature;
  const place = { ...where, line, at: path.vertices.at(-1)! };
  if (straightRoles.has(role) && !isStick(path)) {
    return [
      {
        role,
        finding: {
          severity: 'error',
          rule: 'not-straight',
          message: `the ${role} line must be one straight line from tail to head.`,
          todo: 'Draw it anew as a single LINE.',
          where: place,
        },
      },
    ];
  }
  return [];
}
