/**
 * Deriving and checking sets, each of 25 pieces with outlines of 200 segments, edges traced, cutouts,
 * holes and notches: `npm run bench:derive`, or `npm run bench:derive -- 20` for fewer than 100 sets.
 * Every set is another geometry. The last line is a ratio: the time of the whole against that of growing the
 * same outlines once with clipper2-ts, flattened, which is the least that any allowance costs.
 */
import { Clipper, EndType, JoinType } from 'clipper2-ts';
import { deriveParts } from '../../src/handing/derive.ts';
import type { Order } from '../../src/handing/order.ts';
import { flatten } from '../../src/geometry/paths/flatten.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { circle, pathLength, polyline } from '../../src/geometry/paths/path.ts';
import { stretchOf } from '../../src/geometry/paths/stretch.ts';
import { seededRandom } from '../../src/lay/engine/random.ts';
import { readMaterials } from '../../src/pattern/shop/material.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import type { Feature } from '../../src/pattern/feature.ts';
import type { PieceEntry } from '../../src/pattern/set-file.ts';
import type { PatternSet } from '../../src/pattern/set.ts';
import { hands } from '../../src/pattern/words.ts';
import { checkPiece } from '../../src/pattern/rules/rules.ts';

const sets = Number(process.argv[2] ?? 100);
const piecesPerSet = 25;
const segments = 200;
const random = seededRandom(1);
const materials = readMaterials(new Map([['carpet-loop', {}]]), 'shared');

/** A rounded, wavy outline of lines and arcs about the origin. */
function outlineOf(size: number): Path {
  const phase = random() * 7;
  const vertices = Array.from({ length: segments }, (_, i) => {
    const turn = (2 * Math.PI * i) / segments;
    const radius = size * (1 + 0.15 * Math.sin(3 * turn + phase) + 0.02 * Math.sin(11 * turn));
    const bulge = i % 3 === 0 ? 0.02 : 0;
    return { x: radius * Math.cos(turn), y: radius * Math.sin(turn), bulge };
  });
  return { closed: true, vertices };
}

function pieceOf(set: number, index: number): Piece {
  const outline = outlineOf(200 + 300 * random());
  const length = pathLength(outline);
  const feature = (role: Feature['role'], path: Path): Feature => ({
    role,
    follows: null,
    when: [],
    name: null,
    path,
    line: 1,
  });
  const cuts = [0.03, 0.28, 0.55, 0.81].map((share) => share * length);
  const traces = (['BOUND', 'SEAM', 'TUCK', 'RAW'] as const).map((role, i) =>
    feature(role, stretchOf(outline, cuts[i]!, cuts[(i + 1) % 4]!)),
  );
  const entry: PieceEntry = {
    side: index % 3 === 0 ? 'centre' : 'pair',
    drawnSide: 'right',
    outline: 'body',
    material: 'carpet-loop',
    quantity: 1,
    at: [0, 0],
    half: false,
    covered: 'trim',
  };
  return {
    name: `piece-${index}`,
    entry,
    outline,
    other: null,
    forAll: null,
    features: [
      ...traces,
      feature('CUTOUT', circle({ x: 40, y: 30 }, 30)),
      feature('CUTOUT', circle({ x: -60, y: -20 }, 25)),
      feature('HOLE', circle({ x: 0, y: 80 }, 4)),
      feature(
        'MARK',
        polyline(
          [
            { x: -20, y: 0 },
            { x: 20, y: 0 },
          ],
          false,
        ),
      ),
      feature(
        'STITCH',
        polyline(
          [
            { x: -50, y: -70 },
            { x: 50, y: -70 },
          ],
          false,
        ),
      ),
    ],
    notes: [],
    unknown: [],
    pile: { from: { x: 0, y: 50 }, to: { x: 0, y: -50 } },
    axis: { from: { x: 0, y: 0 }, to: { x: 0, y: 100 } },
    where: { file: `set-${set}.dxf`, piece: `piece-${index}` },
  };
}

function setOf(index: number): PatternSet {
  const pieces = Array.from({ length: piecesPerSet }, (_, i) => pieceOf(index, i));
  return {
    name: `set-${index}`,
    content: {
      title: `set ${index}`,
      drawn: 'RHD',
      ease: 3,
      seams: [],
      pieces: Object.fromEntries(pieces.map(({ name, entry }) => [name, entry])),
    },
    uses: new Map(),
    options: new Map(),
    absent: new Set(),
    shapedBy: new Map(),
    pieces,
    binding: null,
    placeOf: () => ({ file: 'set.yaml' }),
    findings: [],
    materials: new Map(),
    leftOut: [],
    drawnUnits: ['mm'],
    files: [],
  };
}

function timed<T>(what: string, work: () => T): { result: T; ms: number } {
  const start = performance.now();
  const result = work();
  const ms = performance.now() - start;
  console.log(`${what.padEnd(44)} ${ms.toFixed(0).padStart(7)} ms`);
  return { result, ms };
}

const all = Array.from({ length: sets }, (_, i) => setOf(i));
const order: Order = {
  order: 'A',
  set: 'bench',
  hand: hands[1],
  quantity: 1,
  heelPads: 'driver',
  boards: true,
  underlay: true,
};

console.log(`${sets} sets of ${piecesPerSet} pieces of ${segments} segments`);
const checked = timed('pieces as drawn checked', () =>
  all.flatMap((set) => set.pieces.flatMap((piece) => checkPiece(piece, 'RHD'))),
);
const derived = timed('derived for LHD and checked', () =>
  all.map((set) => deriveParts(set, order, materials)),
);
const reference = timed('the same outlines grown by clipper2-ts', () =>
  all.flatMap((set) =>
    set.pieces.map(({ outline }) =>
      Clipper.inflatePaths(
        [
          flatten(outline, 0.05).map(({ x, y }) => ({
            x: Math.round(x * 1e4),
            y: Math.round(y * 1e4),
          })),
        ],
        1e5,
        JoinType.Miter,
        EndType.Polygon,
      ),
    ),
  ),
);
const parts = derived.result.reduce((sum, one) => sum + one.parts.length, 0);
const findings = derived.result.reduce(
  (sum, one) => sum + one.findings.length,
  checked.result.length,
);
const ratio = (checked.ms + derived.ms) / reference.ms;
console.log(`${parts} parts, ${findings} findings; ratio to growing alone ${ratio.toFixed(2)}`);
