import { z } from 'zod';
import type { Entity, PathEntity } from '../../drawing/drawing.ts';
import { pathOfEntity, startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding, Place } from '../../base/findings.ts';
import { wordSpot } from '../../base/findings.ts';
import type { Chained } from '../../geometry/joining/chain.ts';
import { chained } from '../../geometry/joining/chain.ts';
import { repeats } from '../../geometry/joining/duplicates.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { between, distance } from '../../geometry/paths/point.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import { refitted } from '../../geometry/curves/refit.ts';
import { decimal } from '../../base/numbers.ts';
import { counted, listed } from '../../base/wording.ts';
import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import { isStick, withoutDashes } from '../dashes.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import type { OpenGap } from './open-ends.ts';
import { openGaps, openWords } from './open-ends.ts';

/** How loose lines become outlines. Lengths in mm. */
export interface OutlineOptions {
  /** Ends this near to each other are joined. */
  readonly gap: number;
  /** If given: outlines of many points are replaced by lines and arcs that are this near to them. */
  readonly refit?: number | undefined;
}

export const defaultGap = 0.05;

/** A wider gap (mm) would show in the carpet, and the pattern maker must close it. */
export const widestGap = 5;

export const gapSchema = z.number().min(0).max(widestGap);

export const refitSchema = z.number().min(0.001).max(2);

/** Roles whose lines must be closed. */
const closedRoles: ReadonlySet<string> = new Set(['OUTLINE', 'CUTOUT', 'HOLE', 'PAD']);

/**
 * Of so many dashes, at least, a straight line of a role may be made: two folds may end on either side of
 * a narrow cutout.
 */
const fewestDashes: Readonly<Record<string, number>> = { AXIS: 2, FOLD: 3 };

/**
 * An outline with fewer straight segments than this was drawn by hand and not digitised: it is not
 * refitted.
 */
export const fewestDigitised = 24;

/** Loose ends on one layer that were joined over a gap. */
export interface BridgedGaps {
  readonly layer: string;
  readonly count: number;
  /** The widest of the gaps, mm, and where it was. */
  readonly widest: number;
  readonly where: Place;
}

/** Open lines on a layer without a meaning that meet end to end. */
export interface OpenChain {
  /** What they would be as one line. */
  readonly joined: PathEntity;
  readonly members: readonly PathEntity[];
}

interface Outlined {
  readonly entities: readonly Entity[];
  /** Open lines that meet and were left as drawn: nothing says that they are one. */
  readonly chains: readonly OpenChain[];
  readonly gaps: readonly BridgedGaps[];
  readonly findings: readonly Finding[];
}

/**
 * The entities of one piece or drawing, tidied layer by layer. Repeats are removed. On layers of
 * contours loose lines are joined to outlines and refitted if the options ask for it. So they are on
 * layers without a meaning where they make a closed line, which may be a contour; other lines there stay
 * as drawn, because each may say something of its own. Findings report all of this, except the gaps, which are told with those of other
 * pieces (see gapFindings).
 */
export function outlined(
  entities: readonly Entity[],
  map: LayerMap,
  options: OutlineOptions,
  where: Place,
): Outlined {
  const layers = [...new Set(entities.map(({ layer }) => layer))];
  const done = layers.map((layer): Outlined => {
    const own = entities.filter((entity) => entity.layer === layer);
    const meaning = meaningOf(layer, map);
    if (meaning?.role === 'NOTE') return { entities: own, chains: [], gaps: [], findings: [] };
    const once = withoutRepeats(own, layer, where);
    const dashes = fewestDashes[meaning?.role ?? ''];
    if (dashes !== undefined) return { ...once, entities: inOnePiece(once.entities, dashes) };
    if (meaning !== null && !closedRoles.has(meaning.role)) return once;
    const joined = joinedEnds(once.entities, layer, options.gap, where, meaning === null);
    const { refit } = options;
    const fit =
      refit === undefined
        ? { entities: joined.entities, findings: [] }
        : refittedPaths(joined.entities, layer, refit, where);
    return {
      entities: fit.entities,
      chains: joined.chains,
      gaps: joined.gaps,
      findings: [...once.findings, ...joined.findings, ...fit.findings],
    };
  });
  return {
    entities: done.flatMap((one) => one.entities),
    chains: done.flatMap((one) => one.chains),
    gaps: done.flatMap((one) => one.gaps),
    findings: done.flatMap((one) => one.findings),
  };
}

/** The entities with every line that is drawn in dashes as one. */
function inOnePiece(entities: readonly Entity[], fewest: number): Entity[] {
  const paths = entities.filter((entity): entity is PathEntity => entity.kind === 'path');
  return [...withoutDashes(paths, fewest), ...entities.filter(({ kind }) => kind !== 'path')];
}

function withoutRepeats(entities: readonly Entity[], layer: string, where: Place): Outlined {
  const drawn = entities.filter(({ kind }) => kind !== 'text');
  const again = new Set(repeats(drawn.map(pathOfEntity)).map((i) => drawn[i]!));
  const [first] = again;
  if (first === undefined) return { entities, chains: [], gaps: [], findings: [] };
  return {
    entities: entities.filter((entity) => !again.has(entity)),
    chains: [],
    gaps: [],
    findings: [
      {
        severity: 'warning',
        rule: 'repeated',
        message: `${again.size} on layer ${layer} ${again.size === 1 ? 'is the same as one' : 'are the same as others'} already drawn there, forwards or backwards; each is taken once, not twice.`,
        todo: 'Delete the duplicates in the drawing.',
        where: { ...where, line: first.line, at: startOfEntity(first) },
      },
    ],
  };
}

function joinedEnds(
  entities: readonly Entity[],
  layer: string,
  tolerance: number,
  where: Place,
  onlyRings: boolean,
): Outlined {
  const paths = entities.filter((entity): entity is PathEntity => entity.kind === 'path');
  if (paths.every(({ path }) => path.closed)) {
    return { entities, chains: [], gaps: [], findings: [] };
  }
  const { chains, branches, slivers } = chained(
    paths.map(({ path }) => path),
    tolerance,
  );
  const isLeft = ({ path }: Chained): boolean => onlyRings && !path.closed;
  const whole = chains.filter((chain) => !isLeft(chain));
  const asOne = ({ path, members }: Chained): OpenChain => ({
    joined: {
      ...paths[members[0]!]!,
      line: members.reduce((least, i) => Math.min(least, paths[i]!.line), Infinity),
      path,
    },
    members: members.map((i) => paths[i]!),
  });
  const findings = [
    ...branches.map((at) => ({
      ...finding(
        'warning',
        'branch',
        `more than two lines on layer ${layer} end here: which way the outline goes is not clear, and nothing is joined.`,
        { ...where, at },
      ),
      todo: 'Delete the line that does not belong to the outline, or put it on a layer of its own.',
    })),
    ...(slivers.length > 0
      ? [
          finding(
            'note',
            'zero-length',
            `${slivers.length} bits on layer ${layer} shorter than ${tolerance} mm are left out.`,
            { ...where, line: paths[slivers[0]!]!.line },
          ),
        ]
      : []),
  ];
  return {
    entities: [
      ...chains.flatMap((chain) => {
        const { joined, members } = asOne(chain);
        return isLeft(chain) ? members : [joined];
      }),
      ...entities.filter(({ kind }) => kind !== 'path'),
    ],
    chains: chains.filter((one) => isLeft(one) && one.members.length > 1).map(asOne),
    gaps: bridged(
      whole.flatMap(({ gaps }) => gaps),
      layer,
      where,
    ),
    findings,
  };
}

function bridged(gaps: Chained['gaps'], layer: string, where: Place): BridgedGaps[] {
  const [first, ...rest] = gaps;
  if (first === undefined) return [];
  const widest = rest.reduce((most, gap) => (gap.size > most.size ? gap : most), first);
  const place = { ...where, at: widest.at };
  return [{ layer, count: gaps.length, widest: widest.size, where: place }];
}

/** The note on all gaps that were bridged, at the widest. Empty: there are none. */
export function gapFindings(gaps: readonly BridgedGaps[]): Finding[] {
  if (gaps.length === 0) return [];
  const layers = [...new Set(gaps.map(({ layer }) => layer))];
  const pieces = new Set(gaps.map(({ where }) => where.piece));
  const widest = gaps.reduce((most, one) => (one.widest > most.widest ? one : most));
  const count = gaps.reduce((sum, one) => sum + one.count, 0);
  const size = `${decimal(widest.widest, 4)} mm`;
  const on = `on ${layers.length === 1 ? 'layer' : 'layers'} ${listed(layers)}`;
  const isOfOne = pieces.size === 1;
  const of = isOfOne ? '' : ` of ${counted(pieces.size, 'piece')}`;
  const { file, piece, at } = widest.where;
  const there = isOfOne || piece === undefined ? 'here' : `at ${wordSpot(at!)} in ${piece}`;
  const message =
    count === 1
      ? `a gap of ${size} ${on} is bridged.`
      : `${count} gaps ${on}${of} are bridged, the widest of ${size} ${there}.`;
  // What lies on several pieces stands with the whole set.
  const where = there === 'here' ? widest.where : { ...(file !== undefined && { file }) };
  return [finding('note', 'gap-bridged', message, where)];
}

function refittedPaths(
  entities: readonly Entity[],
  layer: string,
  tolerance: number,
  where: Place,
): Pick<Outlined, 'entities' | 'findings'> {
  const findings: Finding[] = [];
  const fit = entities.map((entity): Entity => {
    if (entity.kind !== 'path') return entity;
    const straight = entity.path.vertices.filter(({ bulge }) => bulge === 0).length;
    if (straight < fewestDigitised) return entity;
    const { path, deviation } = refitted(entity.path, tolerance);
    const arcs = path.vertices.filter(({ bulge }) => bulge !== 0).length;
    const [before, after] = [entity.path.vertices.length, path.vertices.length];
    if (after >= before) return entity;
    const message = `${before} points on layer ${layer} are refitted to ${after} (${arcs} arcs), at most ${decimal(deviation, 3)} mm off.`;
    findings.push(finding('note', 'refitted', message, { ...where, line: entity.line }));
    return { ...entity, path };
  });
  return { entities: fit, findings };
}

/** A line that ends no nearer than this (mm) to any other end is no part of an outline with gaps. */
const farFromEnds = 50;

/** A line that ends this near to an outline (mm) is drawn on it. */
const touching = 1;

/**
 * The entities without those that are plainly no contour, though their layer is one of contours: single
 * straight lines, in no outline (`stray`) or on a piece, that end near no other line of their layer; and
 * lines that end on a closed outline (`outlines`): they are no part of that.
 */
export function withoutLoose(
  entities: readonly Entity[],
  stray: readonly Entity[],
  outlines: readonly Path[],
  map: LayerMap,
): Entity[] {
  const open = entities.filter(
    (entity): entity is PathEntity =>
      entity.kind === 'path' &&
      !entity.path.closed &&
      closedRoles.has(meaningOf(entity.layer, map)?.role ?? ''),
  );
  const endsOf = ({ path: { vertices } }: PathEntity): Point[] => [vertices[0]!, vertices.at(-1)!];
  const isAlone = (one: PathEntity): boolean =>
    !open.some(
      (other) =>
        other !== one &&
        endsOf(other).some((end) => endsOf(one).some((own) => distance(own, end) <= farFromEnds)),
    );
  const isLoose = (one: PathEntity): boolean => {
    if (!isStick(one.path)) return false;
    if (stray.includes(one)) return isAlone(one);
    if (meaningOf(one.layer, map)?.role !== 'OUTLINE') return false;
    const holder = outlines.find((outline) => isDrawnIn(one.path, outline));
    const touches = (end: Point): boolean => nearestOnPath(holder!, end).distance <= touching;
    return holder !== undefined && (endsOf(one).some(touches) || isAlone(one));
  };
  const loose = new Set<Entity>(open.filter(isLoose));
  return entities.filter((entity) => !loose.has(entity));
}

/** Whether the middle of a straight line lies in an outline, or on it. */
function isDrawnIn({ vertices }: Path, outline: Path): boolean {
  return placeInPath(outline, between(vertices[0]!, vertices[1]!, 0.5), touching) !== 'outside';
}

/** Findings on contours that are still open, with the size of the gap between their ends. */
export function openContours(entities: readonly Entity[], map: LayerMap, where: Place): Finding[] {
  const open = entities.filter(
    (entity): entity is PathEntity => entity.kind === 'path' && !entity.path.closed,
  );
  const named = open.filter(({ layer }) => closedRoles.has(meaningOf(layer, map)?.role ?? ''));
  const layers = [...new Set(named.map(({ layer }) => layer))];
  const gaps = layers.flatMap((layer) => openGaps(named.filter((one) => one.layer === layer)));
  const unnamed = open.filter(
    ({ layer, path }) => meaningOf(layer, map) === null && isNearlyClosed(path),
  );
  return [
    ...gaps.map((gap) => openContour('error', gap, where)),
    ...unnamed.flatMap((one) => openGaps([one])).map((gap) => openContour('warning', gap, where)),
  ];
}

function openContour(
  severity: Finding['severity'],
  gap: OpenGap<PathEntity>,
  where: Place,
): Finding {
  const { of, at } = gap;
  return {
    severity,
    rule: 'open-contour',
    message: `a line on layer ${of.layer} is open: ${openWords(gap)}.`,
    todo: 'Close it in the drawing. Or allow a wider gap (gap, at most 5 mm), if the line only stops short.',
    where: { ...where, line: of.line, at },
  };
}

/**
 * Whether the ends of a line are so near to each other, compared with its size, that it was meant to be
 * closed.
 */
function isNearlyClosed({ vertices }: Path): boolean {
  const [first, last] = [vertices[0]!, vertices.at(-1)!];
  const reach = vertices.reduce((most, vertex) => Math.max(most, distance(first, vertex)), 0);
  return vertices.length > 2 && distance(first, last) < 0.02 * reach;
}

function finding(
  severity: Finding['severity'],
  rule: string,
  message: string,
  where: Place,
): Finding {
  return { severity, rule, message, todo: 'Nothing to do.', where };
}
