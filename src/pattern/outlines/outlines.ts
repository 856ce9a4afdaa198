import { z } from 'zod';
import type { Entity, PathEntity } from '../../drawing/drawing.ts';
import { pathOfEntity, startOfEntity } from '../../drawing/entity-of.ts';
import type { Finding, Place } from '../../base/findings.ts';
import type { Chaining } from '../../geometry/joining/chain.ts';
import { chained } from '../../geometry/joining/chain.ts';
import { repeats } from '../../geometry/joining/duplicates.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { refitted } from '../../geometry/curves/refit.ts';
import { decimal } from '../../base/numbers.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';

/** How loose lines become outlines. Lengths in mm. */
export interface OutlineOptions {
  /** Ends this near to each other are joined. */
  readonly gap: number;
  /** If given: outlines of many points are replaced by lines and arcs that are this near to them. */
  readonly refit?: number | undefined;
}

export const defaultGap = 0.05;

/** At most 5 mm: a wider gap would show in the carpet, and the pattern maker must close it. */
export const gapSchema = z.number().min(0).max(5);

export const refitSchema = z.number().min(0.001).max(2);

/** Roles whose lines must be closed. */
const closedRoles: ReadonlySet<string> = new Set(['OUTLINE', 'CUTOUT', 'HOLE', 'PAD']);

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
  const { chains, gaps, branches, slivers } = chained(
    paths.map(({ path }) => path),
    tolerance,
  );
  const joined = chains.map(({ path, members }): OpenChain => ({
    joined: {
      ...paths[members[0]!]!,
      line: members.reduce((least, i) => Math.min(least, paths[i]!.line), Infinity),
      path,
    },
    members: members.map((i) => paths[i]!),
  }));
  const isLeft = (chain: OpenChain): boolean => onlyRings && !chain.joined.path.closed;
  const left = joined.filter(isLeft);
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
      ...joined.flatMap((chain) => (isLeft(chain) ? chain.members : [chain.joined])),
      ...entities.filter(({ kind }) => kind !== 'path'),
    ],
    chains: left.filter(({ members }) => members.length > 1),
    gaps: bridged(
      left.length === 0
        ? gaps
        : gapsOfRings(
            joined.filter((chain) => !isLeft(chain)),
            tolerance,
          ),
      layer,
      where,
    ),
    findings,
  };
}

/** The gaps in chains that are closed: those in others were not bridged. */
function gapsOfRings(rings: readonly OpenChain[], tolerance: number): Chaining['gaps'] {
  const members = rings.flatMap((ring) => ring.members.map(({ path }) => path));
  return chained(members, tolerance).gaps;
}

function bridged(gaps: Chaining['gaps'], layer: string, where: Place): BridgedGaps[] {
  const [first, ...rest] = gaps;
  if (first === undefined) return [];
  const widest = rest.reduce((most, gap) => (gap.size > most.size ? gap : most), first);
  const place = { ...where, at: widest.at };
  return [{ layer, count: gaps.length, widest: widest.size, where: place }];
}

/** Notes on the gaps that were bridged: one for each layer, at the widest. */
export function gapFindings(gaps: readonly BridgedGaps[]): Finding[] {
  const layers = [...new Set(gaps.map(({ layer }) => layer))];
  return layers.map((layer) => {
    const own = gaps.filter((one) => one.layer === layer);
    const widest = own.reduce((most, one) => (one.widest > most.widest ? one : most));
    const count = own.reduce((sum, one) => sum + one.count, 0);
    const size = `${decimal(widest.widest, 4)} mm`;
    const message =
      count === 1
        ? `a gap of ${size} on layer ${layer} is bridged.`
        : `${count} gaps on layer ${layer} are bridged, the widest of ${size} here.`;
    return finding('note', 'gap-bridged', message, widest.where);
  });
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

/**
 * The entities without those that are plainly no contour, though their layer is one of contours: single
 * straight lines in no outline (`stray`) that end near no other line of their layer.
 */
export function withoutLoose(
  entities: readonly Entity[],
  stray: readonly Entity[],
  map: LayerMap,
): Entity[] {
  const open = entities.filter(
    (entity): entity is PathEntity =>
      entity.kind === 'path' &&
      !entity.path.closed &&
      closedRoles.has(meaningOf(entity.layer, map)?.role ?? ''),
  );
  const endsOf = ({ path: { vertices } }: PathEntity): Point[] => [vertices[0]!, vertices.at(-1)!];
  const isLoose = (one: PathEntity): boolean =>
    one.path.vertices.length === 2 &&
    one.path.vertices[0]!.bulge === 0 &&
    stray.includes(one) &&
    !open.some(
      (other) =>
        other !== one &&
        endsOf(other).some((end) => endsOf(one).some((own) => distance(own, end) <= farFromEnds)),
    );
  const loose = new Set<Entity>(open.filter(isLoose));
  return entities.filter((entity) => !loose.has(entity));
}

/** Findings on contours that are still open, with the size of the gap between their ends. */
export function openContours(entities: readonly Entity[], map: LayerMap, where: Place): Finding[] {
  return entities.flatMap((entity): Finding[] => {
    if (entity.kind !== 'path' || entity.path.closed) return [];
    const meaning = meaningOf(entity.layer, map);
    const { vertices } = entity.path;
    const [first, last] = [vertices[0]!, vertices.at(-1)!];
    const gap = distance(first, last);
    const isContour =
      meaning === null ? isNearlyClosed(entity.path) : closedRoles.has(meaning.role);
    if (!isContour) return [];
    const message = `a line on layer ${entity.layer} is open: a gap of ${decimal(gap, 2)} mm between its ends, here and at ${decimal(last.x, 1)}, ${decimal(last.y, 1)}.`;
    return [
      {
        severity: meaning === null ? 'warning' : 'error',
        rule: 'open-contour',
        message,
        todo: 'Close it in the drawing; --gap bridges what is small enough.',
        where: { ...where, line: entity.line, at: { x: first.x, y: first.y } },
      },
    ];
  });
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
