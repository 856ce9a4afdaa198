import type { Finding } from '../../base/findings.ts';
import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import { areaOf, signedArea } from '../../geometry/paths/area.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { pathLength, segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { pointAt } from '../../geometry/paths/segment.ts';
import { turnsOf } from '../../geometry/paths/turns.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import type { Material } from '../../pattern/shop/material.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import { edgeKinds } from '../../pattern/words.ts';
import { recordedContour, recordedPath } from '../record/figures.ts';
import type { OrderRecord, PartRecord, RunRecord, VertexRecord } from '../record/run-record.ts';
import { fault } from './faults.ts';

/**
 * How far points of the record may be off a line of it, mm: coordinates have six decimals, and so have
 * bulges, which moves an arc on a chord of ten metres by 0.005 mm.
 */
const onLine = 0.01;
/** How far the lengths of the record may be off by that, mm. */
const sameLength = 0.02;
/**
 * How much the area of a path may be off because its vertices and bulges have six decimals, mm2: along a
 * side by its length times that, under an arc by its bulge times the square of its chord.
 */
export function areaSlack(path: Path): number {
  return segmentsOf(path).reduce((sum, segment) => {
    const chord = distance(segment.from, segment.to);
    return sum + 1e-6 * chord * (segment.bulge === 0 ? 1 : 1 + chord);
  }, 1e-3);
}

/**
 * Faults of each part by itself: its name, its contours, its edges, its notches, and what happens next.
 * Parts of several sets have one shape, which is looked at once.
 */
export function partFaults(run: RunRecord, file: string): Finding[] {
  const materials = new Map(run.materials.map((material) => [material.name, material]));
  const shapes = new Map<string, PartFault[]>();
  return run.parts.flatMap((part) => {
    const { cutContour, netContour, netArea, inner, notches, stretches, edges, kind } = part;
    const { pileDeg, material } = part;
    const shape = [cutContour, netContour, netArea, inner, notches, stretches, edges, kind];
    const key = JSON.stringify([...shape, pileDeg, material]);
    const known = shapes.get(key) ?? shapeFaults(part, materials.get(material));
    shapes.set(key, known);
    return [...nameFaults(part, run), ...known, ...stepFaults(part, run)].map(([rule, message]) =>
      fault(rule, message, { file, part: part.label }),
    );
  });
}

function shapeFaults(part: PartRecord, material: Material | undefined): PartFault[] {
  const cut = recordedContour(part.cutContour);
  const net = part.netContour === null ? cut : recordedContour(part.netContour);
  return [
    ...netFaults(part, net, cut),
    ...stretchFaults(part, net),
    ...(material === undefined
      ? [['material', `run.json says nothing of its material ${part.material}.`] as const]
      : [...pileFaults(part, material), ...allowanceFaults(part, cut, net, material)]),
    ...innerFaults(part, cut),
  ];
}

type PartFault = readonly [rule: string, message: string];

/** The label says name, set and order; the name says piece, kind and side; the order says the hand. */
function nameFaults(part: PartRecord, { orders, parts }: RunRecord): PartFault[] {
  const { label, name, piece, kind, side, set } = part;
  const faults: PartFault[] = [];
  const own = [piece, ...(kind === 'piece' ? [] : [kind]), ...(side === null ? [] : [side])].join(
    '-',
  );
  if (!name.startsWith(own) || !/^(?:-\d+)?$/.test(name.slice(own.length))) {
    faults.push(['part-name', `it is called ${name}; piece, kind and side make it ${own}.`]);
  }
  const right = `${name}.${set}.${part.order}`;
  if (label !== right) {
    faults.push(['part-name', `its label is ${label}; name, set and order make it ${right}.`]);
  }
  const order = orders.find((one) => one.order === part.order);
  if (order === undefined) {
    return [...faults, ['order', `there is no order ${part.order}.`]];
  }
  if (order.hand !== part.hand) {
    faults.push(['hand', `it is for ${part.hand}; order ${order.order} is for ${order.hand}.`]);
  }
  if (set > order.quantity) {
    faults.push(['order', `it belongs to set ${set}; order ${order.order} has ${order.quantity}.`]);
  }
  const options: [boolean, string][] = [
    [kind === 'pad' && order.heelPads === 'none', 'no heel pads'],
    [kind === 'board' && !order.boards, 'no boards'],
    [kind === 'underlay' && !order.underlay, 'no underlay'],
  ];
  for (const [isWrong, none] of options) {
    if (isWrong) faults.push(['order', `it is a ${kind}; order ${order.order} wants ${none}.`]);
  }
  if (!isWantedBy(order, part, parts)) {
    faults.push(['order', `order ${order.order} says that it does not want it.`]);
  }
  return faults;
}

/**
 * Whether the order may want a part. The record does not say what groups of a set are: a name that means no
 * part of the order by itself may be one, and then anything may be in it.
 */
function isWantedBy(
  { order, alone, without = [] }: OrderRecord,
  part: PartRecord,
  parts: readonly PartRecord[],
): boolean {
  if (without.some((name) => isCalled(name, part))) return false;
  if (alone === undefined || alone.some((name) => isCalled(name, part))) return true;
  const own = parts.filter((one) => one.order === order);
  return !alone.every((name) => own.some((one) => isCalled(name, one)));
}

function isCalled(name: string, { piece, side, name: own }: PartRecord): boolean {
  return name === piece || name === own || (side !== null && name === `${piece}-${side}`);
}

/** The net outline lies within the cut contour and has the area that is said. */
function netFaults({ netArea, kind, netContour }: PartRecord, net: Path, cut: Path): PartFault[] {
  const faults: PartFault[] = [];
  const area = areaOf(net);
  if (Math.abs(area - netArea) > areaSlack(net)) {
    faults.push([
      'area',
      `the net outline bounds ${area.toFixed(1)} mm2, but netArea is ${netArea.toFixed(1)}.`,
    ]);
  }
  for (const [name, path] of [
    ['cut contour', cut],
    ['net outline', net],
  ] as const) {
    if (signedArea(path) <= 0)
      faults.push(['contour', `its ${name} does not run counter-clockwise.`]);
  }
  if (kind !== 'piece' && netContour !== null) {
    faults.push(['contour', `a ${kind} is cut to its net outline, and it has two contours.`]);
  }
  if (net.vertices.some((vertex) => placeInPath(cut, vertex, onLine) === 'outside')) {
    faults.push(['contour', 'its net outline lies outside its cut contour.']);
  }
  return faults;
}

/** The stretches follow each other along the net outline, all round, and add up to the edges. */
function stretchFaults({ stretches, edges, kind }: PartRecord, net: Path): PartFault[] {
  const faults: PartFault[] = [];
  const paths = stretches.map(({ path }) => recordedPath(path, false));
  for (const own of edgeKinds) {
    const length = paths
      .filter((_, i) => stretches[i]!.kind === own)
      .reduce((sum, path) => sum + pathLength(path), 0);
    if (Math.abs(length - edges[own]) <= sameLength) continue;
    faults.push([
      'edges',
      `its ${own} edges are ${length.toFixed(2)} mm long; the record says ${edges[own].toFixed(2)}.`,
    ]);
  }
  if (kind !== 'piece') {
    if (stretches.length > 0) faults.push(['edges', `nothing is done to the edges of a ${kind}.`]);
    return faults;
  }
  for (const { kind: own, onShow } of stretches) {
    if (own === 'raw' || onShow === (own === 'bound')) continue;
    faults.push(['edges', `a ${own} edge is said to be ${onShow ? '' : 'not '}on show.`]);
  }
  const apart = stretches.findIndex(({ path }, i) => {
    const [x, y] = path.at(-1)!;
    const [nextX, nextY] = stretches[(i + 1) % stretches.length]!.path[0]!;
    return Math.hypot(nextX - x, nextY - y) > onLine;
  });
  const round: Path = {
    closed: true,
    vertices: paths.flatMap(({ vertices }) => vertices.slice(0, -1)),
  };
  if (
    apart !== -1 ||
    stretches.length === 0 ||
    Math.abs(pathLength(round) - pathLength(net)) > sameLength ||
    !liesOn(round, net)
  ) {
    faults.push(['edges', 'its edges do not go round its net outline once.']);
  }
  return faults;
}

/** Whether a path lies on an outline: as long as that is, it then goes round it once. */
function liesOn(path: Path, outline: Path): boolean {
  return segmentsOf(path).every((segment) =>
    [0, 0.5].every((t) => nearestOnPath(outline, pointAt(segment, t)).distance <= onLine),
  );
}

function pileFaults({ pileDeg }: PartRecord, { turns, name }: Material): PartFault[] {
  if ((pileDeg === null) === (turns === 'any')) return [];
  const said = pileDeg === null ? 'no pile' : `a pile that leans to ${pileDeg.toFixed(1)} degrees`;
  return [['pile', `it has ${said}; ${name} has ${turns === 'any' ? 'none' : 'one'}.`]];
}

/** How far from its stretch a cut contour with an allowance may lie, mm. */
const sameAllowance = 0.02;
/** A place of a cut contour nearer than this to being straight out from a corner is beside it, mm. */
const atCorner = 0.5;

/**
 * The cut contour lies outside each stretch of the net outline by the allowance of its material. Beside
 * corners, where allowances meet, it may go anyhow; so it may near the ends and the corners of a turned edge,
 * which are shaped so that it lies on the back.
 */
function allowanceFaults(
  part: PartRecord,
  cut: Path,
  net: Path,
  { allowances, name }: Material,
): PartFault[] {
  if (part.kind !== 'piece') return [];
  const edges = part.stretches.map(({ kind, path }): AllowedEdge => ({
    kind,
    allowance: allowances[kind],
    path: recordedPath(path, false),
  }));
  const met = new Set<AllowedEdge>();
  let off: { at: Point; kind: EdgeKind; away: number } | undefined;
  for (const segment of segmentsOf(cut)) {
    const at = pointAt(segment, 0.5);
    const away = edges.map(({ path }) => nearestOnPath(path, at).distance);
    const fitting = edges.filter(
      ({ allowance }, i) => Math.abs(away[i]! - allowance) <= sameAllowance,
    );
    for (const edge of fitting) met.add(edge);
    if (fitting.length > 0 || isBesideCorner(net, edges, at)) continue;
    const near = away.indexOf(Math.min(...away));
    const edge = edges[near];
    if (edge === undefined || isShapedToTurn(edges, at)) continue;
    off ??= { at, kind: edge.kind, away: away[near]! };
  }
  const faults: PartFault[] = [];
  if (off !== undefined) {
    const { at, kind, away } = off;
    faults.push([
      'allowance',
      `at ${at.x.toFixed(1)}, ${at.y.toFixed(1)} it is cut ${away.toFixed(2)} mm outside a ${kind} edge; ${name} has ${allowances[kind]} mm for one.`,
    ]);
  }
  const folded = edges.filter(
    (edge) => edge.kind === 'turned' && pathLength(edge.path) > 4 * edge.allowance,
  );
  if (folded.some((edge) => !met.has(edge))) {
    faults.push([
      'allowance',
      `a turned edge is nowhere cut ${allowances.turned} mm outside, as ${name} has it.`,
    ]);
  }
  return faults;
}

/** A stretch of the net outline, and what is added outside it. */
interface AllowedEdge {
  readonly kind: EdgeKind;
  readonly allowance: number;
  readonly path: Path;
}

/** Whether the place of an outline that is nearest to a point is a corner, or where two stretches meet. */
function isBesideCorner(net: Path, edges: readonly AllowedEdge[], at: Point): boolean {
  const { point } = nearestOnPath(net, at);
  const corners = [...net.vertices, ...edges.flatMap(({ path }) => path.vertices)];
  return corners.some((corner) => distance(corner, point) <= atCorner);
}

/** A turned edge is shaped within so many allowances of its corners, and of where it meets the next stretch. */
const shapedWithin = 3;

function isShapedToTurn(edges: readonly AllowedEdge[], at: Point): boolean {
  const most = Math.max(...edges.map(({ allowance }) => allowance));
  return edges
    .filter(({ kind }) => kind === 'turned')
    .flatMap(({ path }) => [path.vertices[0]!, path.vertices.at(-1)!, ...cornersOf(path)])
    .some((end) => distance(end, at) <= shapedWithin * most);
}

function cornersOf(path: Path): Point[] {
  return turnsOf(path)
    .filter(({ radius }) => radius === 0)
    .map(({ at }) => at);
}

/** What is cut inside lies inside, and notches begin on the cut contour. */
function innerFaults(part: PartRecord, cut: Path): PartFault[] {
  const faults: PartFault[] = [];
  const isOutside = ([x, y]: readonly [number, number, ...number[]]): boolean =>
    placeInPath(cut, { x, y }, onLine) === 'outside';
  for (const { role, contour } of part.inner) {
    if (signedArea(recordedContour(contour)) <= 0) {
      faults.push(['contour', `a ${role} in it does not run counter-clockwise.`]);
    }
    if (contour.some((vertex: VertexRecord) => isOutside(vertex))) {
      faults.push(['contour', `a ${role} of it lies outside its cut contour.`]);
    }
  }
  for (const [[x, y], to] of part.notches) {
    if (nearestOnPath(cut, { x, y }).distance > onLine || isOutside(to)) {
      faults.push([
        'notch',
        `its notch at ${x.toFixed(1)}, ${y.toFixed(1)} does not go in from its cut contour.`,
      ]);
    }
  }
  return faults;
}

/** The verbs for what is done to bound edges: all parts of a set and a finish have one of them. */
const finishes = ['Bind', 'Overlock'];

/**
 * What is bound, turned under or wrapped round a board next is as long as the edges, of the order's colour, and as deep
 * as its material says.
 */
function stepFaults(part: PartRecord, run: RunRecord): PartFault[] {
  const { next, edges } = part;
  const order = run.orders.find((one) => one.order === part.order);
  const colour = order?.edge?.colour ?? order?.binding ?? null;
  const depth = run.materials.find(({ name }) => name === part.material)?.allowances.turned ?? 0;
  const wraps = next.filter(([verb]) => verb === 'Wrap');
  const isWrapped = wraps.some(([, words]) => wrapWords(edges.turned).test(words));
  const wanted: [verbs: readonly string[], words: RegExp | null][] = [
    [
      ['Turn under'],
      edges.turned > 0 && !isWrapped
        ? stepWords(edges.turned, `, ${Math.round(depth)} mm deep`, '(?:, .+)?')
        : null,
    ],
    [
      finishes,
      edges.bound > 0
        ? stepWords(
            edges.bound,
            colour === null ? '' : ` in ${colour}`,
            String.raw`(?:, \d+ runs?)?`,
          )
        : null,
    ],
    ...(wraps.length === 0 || isWrapped
      ? []
      : [[['Wrap'], edges.tuck > 0 ? wrapWords(edges.tuck) : null] as [string[], RegExp | null]]),
  ];
  const found = wanted.flatMap(([verbs, words]): PartFault[] => {
    const steps = next.filter(([verb]) => verbs.includes(verb));
    const isRight =
      words === null ? steps.length === 0 : steps.length === 1 && words.test(steps[0]![1]);
    // A part that goes on without any words, as in a run made for a test of the machine alone.
    if (isRight || (next.length === 0 && words !== null)) return [];
    const said = steps.map(([, rest]) => rest).join(' and ') || 'nothing';
    const verb = steps[0]?.[0] ?? verbs[0];
    return [['next', `"${verb}" says ${said}, which its edges and its order do not ask for.`]];
  });
  return found.length > 0 || order === undefined ? found : finishFaults(part, order, run);
}

/** Parts of one set whose orders want one finish are finished in one way. */
function finishFaults(part: PartRecord, order: OrderRecord, run: RunRecord): PartFault[] {
  const verb = finishVerb(part);
  if (verb === undefined) return [];
  const alike = run.orders.filter(
    (one) => one.set === order.set && one.edge?.finish === order.edge?.finish,
  );
  const names = new Set(alike.map((one) => one.order));
  const first = run.parts.find((one) => names.has(one.order) && finishVerb(one) !== undefined)!;
  const usual = finishVerb(first)!;
  if (usual === verb) return [];
  return [
    [
      'next',
      `"${verb}" is its step, and "${usual}" that of ${first.label}, whose finish is the same.`,
    ],
  ];
}

function finishVerb({ next }: PartRecord): string | undefined {
  return next.find(([verb]) => finishes.includes(verb))?.[0];
}

/** The words of a step: a length, something that must follow, and what may. */
function stepWords(length: number, plain: string, rest: string): RegExp {
  const quoted = plain.replaceAll(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`);
  return new RegExp(`^${Math.round(length)} mm${quoted}${rest}$`);
}

function wrapWords(length: number): RegExp {
  return stepWords(length, ' round the board', '(?:, .+)?');
}
