import type { Entity, PathEntity, TextEntity } from '../../drawing/drawing.ts';
import { decimal } from '../../base/numbers.ts';
import type { MirrorLine } from '../../geometry/fitting/mirror.ts';
import { mirrorLineOf } from '../../geometry/fitting/mirror.ts';
import { followPath } from '../../geometry/measuring/follow.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath, nearestPlace } from '../../geometry/measuring/measured-path.ts';
import { heightOf, widthOf } from '../../geometry/paths/box.ts';
import { boxOfPath, pathLength, segmentsOf } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, distanceFromLine } from '../../geometry/paths/point.ts';
import { pointAt, segmentLength } from '../../geometry/paths/segment.ts';
import { crossingsWith } from '../../geometry/relations/crossings.ts';
import { placeInArea } from '../../geometry/relations/measured-area.ts';
import { chainLines, widestDashGap } from '../dashes.ts';
import { jumpAllowed, traceTolerance } from '../edges.ts';
import type { Feature } from '../feature.ts';
import { isLabel } from '../labels.ts';
import type { LayerMap, Role } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import { isStraight, plainNotches } from '../notch-shapes.ts';
import { arrowAmong } from '../pile-arrow.ts';
import { deepestNotch } from '../shop/material.ts';
import { askedNumber, bareName, namedSide, pileIn, saysPair } from './side-words.ts';
import { isBeside, isPlainName } from './thing-names.ts';

/** What a thing looks like: the machine's word for the reason of a guess. */
export type GuessKind =
  | 'arrow'
  | 'along-outline'
  | 'beside-inside'
  | 'beside-outside'
  | 'edge-line'
  | 'edge-point'
  | 'edge-to-edge'
  | 'inside-closed'
  | 'inside-line'
  | 'inside-point'
  | 'inside-round'
  | 'middle-line'
  | 'off-piece'
  | 'pad-like'
  | 'text-edge'
  | 'text-name'
  | 'text-note'
  | 'text-pair'
  | 'text-pile'
  | 'text-quantity'
  | 'text-side'
  | 'text-thing';

/** What a thing may be, and why. It is offered to a person, and never taken for the answer. */
export interface RoleGuess {
  readonly role: Role;
  readonly kind: GuessKind;
  /** The reason in a few plain words: `a short line at the edge, 6 mm long`. */
  readonly words: string;
  /** Whether nothing else is sensible. */
  readonly isLikely: boolean;
}

/** One thing on a layer that says nothing, and what it may be: the likeliest first. */
export interface ThingGuess {
  /** Its place in the list of entities. */
  readonly index: number;
  readonly entity: Entity;
  /** The places of all things that make one with it: the dashes of a line, the lines of an arrow. */
  readonly group: readonly number[];
  readonly guesses: readonly RoleGuess[];
}

/** What is known of a piece when its things are looked at. */
interface Ground {
  readonly outline: MeasuredPath;
  readonly middle: () => MirrorLine | null;
  readonly texts: readonly TextEntity[];
  readonly name: string | null;
}

/** A line that lies this near to the middle of a symmetrical outline (mm) is drawn as that. */
const nearMiddle = 2;

/** An outline that is its own mirror image to so many mm is symmetrical, as people draw. */
const symmetrical = 1;

/** A fold may end so far from the edge, mm; see the rule on folds. */
const nearEdge = 5;

/** A line that runs beside the outline at one distance is no further from it, mm. */
const widestBeside = 60;

/** A heel pad is no smaller and no larger, mm. */
const padSide = { least: 150, most: 800 };

/** A circle no wider than this (mm) is a hole or the mark of one. */
const widestHole = 25;

/**
 * What the things of a piece may be that lie on layers which say nothing, by their shape, their place and
 * the name of their layer. `entities`: those of its block. `outline`: closed, counter-clockwise, in the
 * same frame. `name`: what the piece is called, if that is known.
 */
export function guessRoles(
  entities: readonly Entity[],
  outline: Path,
  map: LayerMap,
  name: string | null = null,
): ThingGuess[] {
  const unknown = entities.flatMap((entity, index) =>
    meaningOf(entity.layer, map) === null ? [{ entity, index }] : [],
  );
  if (unknown.length === 0) return [];
  let middle: MirrorLine | null | undefined;
  const ground: Ground = {
    outline: measurePath(outline),
    middle: () => (middle === undefined ? (middle = mirrorLineOf(outline, symmetrical)) : middle),
    texts: entities.filter((entity): entity is TextEntity => entity.kind === 'text'),
    name,
  };
  const indexOf = new Map(unknown.map(({ entity, index }) => [entity, index]));
  const units = unitsOf(unknown.map(({ entity }) => entity));
  return unknown.map(({ entity, index }) => {
    const unit = units.get(entity) ?? null;
    const guesses =
      entity.kind === 'text'
        ? textGuesses(entity, entities, map, ground)
        : entity.kind === 'point'
          ? pointGuesses(entity.at, ground)
          : pathGuesses(entity.path, unit, ground);
    return {
      index,
      entity,
      group: (unit?.members ?? [entity]).map((one) => indexOf.get(one)!),
      guesses: entity.kind === 'text' ? guesses : byLayerName(guesses, entity.layer),
    };
  });
}

/** Lines that are one thing together. */
interface Unit {
  readonly members: readonly PathEntity[];
  readonly whole: Path;
  readonly isArrow: boolean;
}

/** Of more open lines than this on one layer none are looked at together. */
const mostLooked = 300;

/** The arrows and the lines in dashes among entities, by each of their lines. */
function unitsOf(entities: readonly Entity[]): ReadonlyMap<Entity, Unit> {
  const open = entities.filter(
    (entity): entity is PathEntity => entity.kind === 'path' && !entity.path.closed,
  );
  const units = new Map<Entity, Unit>();
  for (const layer of new Set(open.map((one) => one.layer))) {
    const own = open.filter((one) => one.layer === layer);
    if (own.length > mostLooked) continue;
    for (const members of clusters(own)) {
      const whole = arrowAmong(members.map(({ path }) => path));
      if (whole === null) continue;
      for (const one of members) units.set(one, { members, whole, isArrow: true });
    }
    for (const { whole, dashes } of chainLines(own.filter((one) => !units.has(one)))) {
      if (dashes.length < 2) continue;
      const unit = { members: dashes, whole: whole.path, isArrow: false };
      for (const dash of dashes) units.set(dash, unit);
    }
  }
  return units;
}

/** Ends that meet within so many mm belong to one arrow. */
const meeting = 1;

/** Lines that meet end to end, at most so many together: an arrow has few. */
function clusters(lines: readonly PathEntity[]): PathEntity[][] {
  const most = 5;
  const endsOf = ({ path: { vertices } }: PathEntity): Point[] => [vertices[0]!, vertices.at(-1)!];
  const meet = (a: PathEntity, b: PathEntity): boolean =>
    endsOf(a).some((one) => endsOf(b).some((other) => distance(one, other) <= meeting));
  const done = new Set<PathEntity>();
  return lines.flatMap((line) => {
    if (done.has(line)) return [];
    const cluster = [line];
    for (let i = 0; i < cluster.length && cluster.length <= most; i++) {
      cluster.push(...lines.filter((one) => !cluster.includes(one) && meet(one, cluster[i]!)));
    }
    for (const one of cluster) done.add(one);
    return cluster.length <= most ? [cluster] : [];
  });
}

function guess(
  kind: GuessKind,
  words: string,
  roles: readonly Role[],
  isLikely = false,
): RoleGuess[] {
  return roles.map((role, i) => ({ role, kind, words, isLikely: isLikely && i === 0 }));
}

const mm = (length: number): string => `${decimal(length, 0)} mm`;

function pointGuesses(at: Point, { outline }: Ground): RoleGuess[] {
  if (nearestPlace(outline, at).distance <= traceTolerance) {
    return guess('edge-point', 'a point on the edge', ['NOTCH', 'HOLE', 'MARK'], true);
  }
  if (placeInArea(outline, at) === 'outside') {
    return guess('off-piece', 'a point beside the piece', ['NOTE']);
  }
  return guess('inside-point', 'a point inside the piece', ['HOLE', 'MARK'], true);
}

function pathGuesses(drawn: Path, unit: Unit | null, ground: Ground): RoleGuess[] {
  const path = unit?.whole ?? drawn;
  const length = pathLength(path);
  if (unit?.isArrow === true)
    return guess('arrow', `an arrow, ${mm(length)} long`, ['PILE', 'MARK', 'NOTE'], true);
  const beside = besideOutline(path, ground.outline);
  if (beside !== null) return besideGuesses(path, beside, ground);
  if (path.closed) return closedGuesses(path, ground);
  // A line in dashes may end in a gap.
  return openGuesses(path, length, unit === null ? nearEdge : widestDashGap, ground);
}

const edgeRoles: readonly Role[] = ['BOUND', 'SEAM', 'TUCK', 'TURNED', 'RAW'];

/** How a line runs along the outline: `off` mm beside it, and on which side. */
interface Beside {
  readonly off: number;
  readonly side: 'on' | 'inside' | 'outside';
}

/** How a line runs along the outline, if it keeps its distance from it all along. null: it does not. */
function besideOutline(path: Path, outline: MeasuredPath): Beside | null {
  if (pathLength(path) <= deepestNotch) return null;
  const looks = segmentsOf(path).flatMap((segment) => {
    const count = Math.max(2, Math.ceil(segmentLength(segment) / 20));
    return Array.from({ length: count + 1 }, (_, k) => pointAt(segment, k / count));
  });
  const offs: number[] = [];
  let guessed = 0;
  for (const look of looks) {
    const { distance: off, station } = nearestPlace(outline, look, guessed);
    if (off > widestBeside) return null;
    offs.push(off);
    guessed = station.segment;
  }
  const [least, most] = [Math.min(...offs), Math.max(...offs)];
  if (most <= traceTolerance) return follows(path, outline) ? { off: 0, side: 'on' } : null;
  // At the corners a line beside the outline is up to half as far again from it.
  const middling = offs.toSorted((a, b) => a - b)[offs.length >> 1]!;
  const keeps = offs.filter((off) => Math.abs(off - middling) <= traceTolerance);
  if (keeps.length < 0.8 * offs.length || most > 1.5 * middling + traceTolerance) return null;
  if (least < 0.5 * middling) return null;
  const places = new Set(looks.map((look) => placeInArea(outline, look)));
  if (places.size > 1) return null;
  const [side] = places;
  return { off: middling, side: side! };
}

/** Whether a line on the outline goes along it, and not to and fro. */
function follows(path: Path, outline: MeasuredPath): boolean {
  return followPath(outline, path, traceTolerance).jump.length <= jumpAllowed;
}

function besideGuesses(path: Path, { off, side }: Beside, ground: Ground): RoleGuess[] {
  const length = mm(pathLength(path));
  if (side === 'on') {
    const words = `a line along the edge, ${length} long`;
    return guess('along-outline', words, edgeRoles);
  }
  const away = `${decimal(off, 1)} mm ${side === 'inside' ? 'inside' : 'outside'} it`;
  const words = `a line beside the outline, ${away}`;
  if (side === 'outside') return guess('beside-outside', words, ['NOTE', ...edgeRoles]);
  // A straight line near a straight edge may as well be where it is folded.
  const fold: Role[] = isStraight(path) && reachesEdges(path, nearEdge, ground) ? ['FOLD'] : [];
  const bound: Role[] = off <= deepestNotch ? ['BOUND'] : [];
  return guess('beside-inside', words, ['STITCH', ...fold, ...bound, 'MARK', 'NOTE']);
}

function closedGuesses(path: Path, ground: Ground): RoleGuess[] {
  const { outline } = ground;
  const notch = asNotch(path, ground);
  if (notch !== null) return notch;
  const box = boxOfPath(path);
  const [width, height] = [widthOf(box), heightOf(box)];
  const isInside = path.vertices.every((vertex) => placeInArea(outline, vertex) !== 'outside');
  const size = isRound(path) ? `${mm(width)} round` : `${mm(width)} by ${mm(height)}`;
  if (!isInside) {
    return guess('off-piece', `a closed line of ${size}, not wholly on the piece`, [
      'MARK',
      'NOTE',
    ]);
  }
  const words = `a closed line inside the piece, ${size}`;
  const said = ground.texts.find((text) => isBeside(text, path) && saysPad(text.text));
  if (said !== undefined) {
    const why = `${words}, with a text "${said.text.trim()}" at it`;
    return guess('pad-like', why, ['PAD', 'CUTOUT', 'MARK'], true);
  }
  if (isRound(path) && width <= widestHole) {
    return guess('inside-round', words, ['HOLE', 'CUTOUT', 'MARK'], true);
  }
  if (isRound(path)) return guess('inside-round', words, ['HOLE', 'CUTOUT', 'MARK']);
  return isLikePad(path, ground)
    ? guess('pad-like', words, ['PAD', 'CUTOUT', 'MARK'])
    : guess('inside-closed', words, ['CUTOUT', 'HOLE', 'MARK']);
}

function saysPad(text: string): boolean {
  return /\b(heel|pads?)\b/i.test(text);
}

/** Whether a closed line is as large as a heel pad, on a piece that is a good deal larger. */
function isLikePad(path: Path, { outline }: Ground): boolean {
  const [box, whole] = [boxOfPath(path), boxOfPath(outline.path)];
  const sides = [widthOf(box), heightOf(box)];
  return (
    sides.every((side) => side >= padSide.least && side <= padSide.most) &&
    widthOf(box) <= 0.8 * widthOf(whole) &&
    heightOf(box) <= 0.8 * heightOf(whole)
  );
}

function isRound(path: Path): boolean {
  const box = boxOfPath(path);
  const [width, height] = [widthOf(box), heightOf(box)];
  if (Math.abs(width - height) > 0.05 * width) return false;
  const around = Math.PI * ((width + height) / 2);
  return Math.abs(pathLength(path) - around) <= 0.03 * around && path.vertices.length !== 4;
}

function openGuesses(path: Path, length: number, reach: number, ground: Ground): RoleGuess[] {
  const notch = asNotch(path, ground);
  if (notch !== null) return notch;
  const { outline } = ground;
  const isOff =
    path.vertices.every((vertex) => placeInArea(outline, vertex) === 'outside') &&
    crossingsWith(outline, path).length === 0;
  const straight = isStraight(path);
  const middle = straight && length > deepestNotch ? ground.middle() : null;
  if (middle !== null && liesOn(path, middle)) {
    const words = `a straight line in the middle of the outline, which is symmetrical there to ${decimal(middle.off, 1)} mm`;
    return guess('middle-line', words, ['AXIS', 'FOLD', 'STITCH', 'MARK'], true);
  }
  if (isOff) {
    return guess('off-piece', `a line beside the piece, ${mm(length)} long`, ['NOTE', 'MARK']);
  }
  if (reachesEdges(path, reach, ground) && length > deepestNotch) {
    const words = `a long ${straight ? 'straight line' : 'line'} from edge to edge, ${mm(length)} long`;
    return straight
      ? guess('edge-to-edge', words, ['FOLD', 'STITCH', 'MARK', 'AXIS'])
      : guess('edge-to-edge', words, ['STITCH', 'MARK']);
  }
  const words = `a ${straight ? 'straight line' : 'line'} inside the piece, ${mm(length)} long`;
  return guess(
    'inside-line',
    words,
    straight ? ['MARK', 'STITCH', 'PILE', 'AXIS'] : ['MARK', 'STITCH'],
  );
}

/** What a short line at the edge is, if it can be a notch. null: it can not. */
function asNotch(path: Path, { outline }: Ground): RoleGuess[] | null {
  const { vertices } = path;
  const length = pathLength(path);
  if (length > 3 * deepestNotch) return null;
  const drawn: Feature = { role: 'NOTCH', follows: null, when: [], name: null, path, line: 0 };
  const [read] = plainNotches([drawn], outline.path);
  const shape = read?.drawnAs;
  if (shape !== undefined) {
    const how = shape === 'v' ? 'a V at the edge' : 'a short line across the edge';
    return guess('edge-line', `${how}, ${mm(length)} long`, ['NOTCH', 'MARK'], true);
  }
  const ends = [vertices[0]!, vertices.at(-1)!].map((end) => nearestPlace(outline, end).distance);
  const isAtEdge = Math.min(...ends) <= traceTolerance && Math.max(...ends) > traceTolerance;
  if (path.closed || !isAtEdge || length > deepestNotch || !isStraight(path)) return null;
  return guess(
    'edge-line',
    `a short line at the edge, ${mm(length)} long`,
    ['NOTCH', 'MARK'],
    true,
  );
}

/** Whether both ends of a line lie at the edge, or beyond it. */
function reachesEdges({ vertices }: Path, reach: number, { outline }: Ground): boolean {
  return [vertices[0]!, vertices.at(-1)!].every(
    (end) =>
      placeInArea(outline, end) === 'outside' || nearestPlace(outline, end).distance <= reach,
  );
}

/** Whether a line runs along the middle, for half of its length at least. */
function liesOn({ vertices }: Path, middle: MirrorLine): boolean {
  const ends = [vertices[0]!, vertices.at(-1)!];
  return (
    ends.every((end) => distanceFromLine(middle, end) <= nearMiddle) &&
    distance(ends[0]!, ends[1]!) >= distance(middle.from, middle.to) / 2
  );
}

function textGuesses(
  text: TextEntity,
  entities: readonly Entity[],
  map: LayerMap,
  { name }: Ground,
): RoleGuess[] {
  const said = text.text.trim();
  const note = (kind: GuessKind, words: string): RoleGuess[] => guess(kind, words, ['NOTE'], true);
  if (isLabel(said)) return note('text-note', 'a text with a label before it');
  const sameName = (one: string): string =>
    bareName(one)
      .toLowerCase()
      .replaceAll(/[^\p{L}\p{N}]+/gu, '');
  if (name !== null && sameName(said) !== '' && sameName(said) === sameName(name)) {
    return note('text-name', 'a text that names the piece');
  }
  if (saysPair(said)) return note('text-pair', 'it says that both sides are wanted');
  if (askedNumber(said) !== null) return note('text-quantity', 'it says how many are wanted');
  if (pileIn(said) !== null) return note('text-pile', 'it says where the pile leans');
  if (namedSide(said).says !== null) return note('text-side', 'it says left or right, or a person');
  if (isPlainName(said) || /^\p{L}[\p{L} -]{0,15}$/u.test(said)) {
    const edge = entities.find((one) => isTraced(one, map) && isBeside(text, one.path));
    if (edge !== undefined) {
      const { role } = meaningOf(edge.layer, map)!;
      return [
        ...guess('text-edge', `a name beside a ${role} line`, [role]),
        ...guess('text-note', 'a text', ['NOTE']),
      ];
    }
    const isThing = entities.some((one) => one.kind === 'path' && isBeside(text, one.path));
    if (isThing) return note('text-thing', 'a name beside something on the piece');
  }
  return note('text-note', 'a text');
}

function isTraced(entity: Entity, map: LayerMap): entity is PathEntity {
  const role = meaningOf(entity.layer, map)?.role;
  return entity.kind === 'path' && role !== undefined && edgeRoles.includes(role);
}

/** Words in the names of layers, and the role that they hint at. */
const hints: readonly (readonly [words: RegExp, role: Role])[] = [
  [/notch|snip/i, 'NOTCH'],
  [/fold|crease/i, 'FOLD'],
  [/stitch/i, 'STITCH'],
  [/hole|drill|punch/i, 'HOLE'],
  [/cut[ _-]?out/i, 'CUTOUT'],
  [/bind|bound|tape/i, 'BOUND'],
  [/seam|sewn?\b/i, 'SEAM'],
  [/tuck/i, 'TUCK'],
  [/turn/i, 'TURNED'],
  [/\braw\b/i, 'RAW'],
  [/\bpads?\b|heel/i, 'PAD'],
  [/pile|\bnap\b/i, 'PILE'],
  [/axis|cent(re|er)[ _-]?line|^c[ ./-]?l$/i, 'AXIS'],
  [/mark/i, 'MARK'],
  [/text|note|dim|label|title/i, 'NOTE'],
];

/** The guesses with that first which the name of the layer hints at, if the thing can be so. */
function byLayerName(guesses: readonly RoleGuess[], layer: string): readonly RoleGuess[] {
  const role = hints.find(([words]) => words.test(layer))?.[1];
  const hinted = guesses.find((one) => one.role === role);
  if (hinted === undefined) return guesses;
  const others = guesses
    .filter((one) => one !== hinted)
    .map((one) => ({ ...one, isLikely: false }));
  return [
    { ...hinted, isLikely: true, words: `${hinted.words}, and its layer is called ${layer}` },
    ...others,
  ];
}
