import { headingDeg } from '../../../geometry/paths/angle.ts';
import type { Entity } from '../../../drawing/drawing.ts';
import type { Box } from '../../../geometry/paths/box.ts';
import { boxOfPoints, growBox } from '../../../geometry/paths/box.ts';
import type { Path } from '../../../geometry/paths/path.ts';
import { between, distance, minus } from '../../../geometry/paths/point.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import { transformPath, transformPoint } from '../../../geometry/paths/transform.ts';
import type { Piece } from '../../../pattern/piece.ts';
import type { DrawnLine, Feature } from '../../../pattern/feature.ts';
import { isHole, isTrace } from '../hands/shown-hand.ts';
import { measurePath, stretchAlong } from '../../../geometry/measuring/measured-path.ts';
import type { EdgeStretch } from '../../../pattern/edges.ts';
import { claimEdges, traceTolerance, tracesOf } from '../../../pattern/edges.ts';
import { edgeKinds } from '../../../pattern/words.ts';
import { drawLegend, legendHeight } from '../../svg/legend.ts';
import { notchLine } from '../bench-layout.ts';
import { drawEdgeStroke, edgeEntries } from '../edge-strokes.ts';
import { edgeKindWords } from '../said-edges.ts';
import { drawUnexplained } from '../unexplained.ts';
import { arrow, cutOffAt, drawCross, mm, pathData } from '../../svg/svg.ts';

/**
 * A piece as its block draws it: each edge with the stroke of its kind, cutouts open, the pile as an arrow, and
 * the centreline as far as it lies within `box` (in the frame of the block). What lies on layers that
 * say nothing is broken red.
 */
export function drawPiece(piece: Piece, box: Box, onPage: Transform): string {
  const { outline, features, unknown, axis, pile } = piece;
  const place = (path: Path): Path => transformPath(onPage, path);
  const courses = features.filter(({ path }) => path.vertices.length > 1);
  const drawn = (wanted: (feature: Feature) => boolean): Path[] =>
    courses.filter(wanted).map(({ path }) => place(path));
  const contours = [place(outline), ...drawn(isHole)];
  const line = 'fill="none" stroke="#1b1b1b"';
  const points = features.filter(({ path }) => path.vertices.length === 1);
  return [
    drawPaths(contours, 'fill="#eef0ee" fill-rule="evenodd"'),
    drawPaths(drawn(isHole), `${line} stroke-width="0.35" stroke-linejoin="round"`),
    drawOutline(piece, place),
    drawPaths(
      drawn((feature) => !isHole(feature) && !isTrace(feature) && !isNotch(feature)),
      `${line} stroke-width="0.18"`,
    ),
    drawPaths(
      courses.filter(isNotch).map(({ path }) => {
        const [from, to] = path.vertices;
        return place(notchLine(from!, to!, onPage.a));
      }),
      `${line} stroke-width="0.5"`,
    ),
    ...points.map(({ path }) =>
      drawCross(
        transformPoint(onPage, path.vertices[0]!),
        1.4,
        'stroke="#1b1b1b" stroke-width="0.2"',
      ),
    ),
    axis === null ? '' : drawAxis(onPage, clipped(axis, box)),
    pile === null ? '' : drawPile(onPage, pile),
    drawUnknown(unknown, box, onPage),
  ].join('');
}

function isNotch({ role, path }: Feature): boolean {
  return role === 'NOTCH' && path.vertices.length === 2;
}

/**
 * The outline, with the stroke of what happens to each stretch of it; grey where nothing says that. Where
 * a trace does not fit the outline, all traces are drawn broad and pale, as they lie.
 */
function drawOutline(
  { outline, features, entry, where }: Piece,
  place: (path: Path) => Path,
): string {
  const traces = tracesOf(features);
  const { stretches } = claimEdges(outline, traces, entry.edge ?? null, where);
  return [
    ...(stretches.length === 0 && traces.length > 0
      ? [
          drawPaths(
            traces.map(({ path }) => place(path)),
            misfit,
          ),
        ]
      : []),
    drawPaths(undecided(outline, stretches).map(place), notSaid),
    ...edgeKinds.toReversed().map((kind) =>
      drawEdgeStroke(
        stretches.filter((one) => one.kind === kind).map(({ path }) => place(path)),
        kind,
      ),
    ),
  ].join('');
}

/** The parts of an outline that none of its stretches takes up; they follow each other round it. */
function undecided(outline: Path, stretches: readonly EdgeStretch[]): Path[] {
  if (stretches.length === 0) return [outline];
  const measured = measurePath(outline);
  return stretches.flatMap(({ to }, i) => {
    const next = stretches[(i + 1) % stretches.length]!.from;
    const gap = (next - to + measured.length) % measured.length;
    return gap <= traceTolerance ? [] : [stretchAlong(measured, to, next)];
  });
}

const notSaid = 'fill="none" stroke="#9c9c9c" stroke-width="0.8"';
const misfit = 'fill="none" stroke="#b9c4bb" stroke-width="1.4"';

/** The legend of what happens to edges in pictures of a set, `width` mm wide from a corner. */
export function edgeKey(left: number, top: number, width: number, type: number): Legend {
  const grey = `<path d="M0 -0.9L6 -0.9" ${notSaid}/>`;
  const entries = [...edgeEntries(edgeKindWords), { mark: grey, words: 'edge not said yet' }];
  return {
    svg: drawLegend(entries, left, top, width, type),
    height: legendHeight(entries, width, type),
  };
}

interface Legend {
  readonly svg: string;
  readonly height: number;
}

/** A customer's lines may run far beyond the piece: they are cut off a little beyond it. */
function drawUnknown(unknown: readonly Entity[], box: Box, onPage: Transform): string {
  const corners = [
    { x: box.minX, y: box.minY },
    { x: box.maxX, y: box.maxY },
  ].map((corner) => transformPoint(onPage, corner));
  const drawn = unknown.map((entity) => drawUnexplained(entity, onPage)).join('');
  return cutOffAt(growBox(boxOfPoints(corners), 4), drawn);
}

/** The part of a line that lies in a box; null: none of it does. */
function clipped({ from, to }: DrawnLine, box: Box): DrawnLine | null {
  const along = minus(to, from);
  let [begin, end] = [0, 1];
  for (const [start, step, least, most] of [
    [from.x, along.x, box.minX, box.maxX],
    [from.y, along.y, box.minY, box.maxY],
  ] as const) {
    if (step === 0) {
      if (start < least || start > most) return null;
      continue;
    }
    const [one, other] = [(least - start) / step, (most - start) / step];
    begin = Math.max(begin, Math.min(one, other));
    end = Math.min(end, Math.max(one, other));
  }
  return begin >= end ? null : { from: between(from, to, begin), to: between(from, to, end) };
}

function drawPaths(paths: readonly Path[], attributes: string): string {
  return paths.length === 0 ? '' : `<path d="${paths.map(pathData).join('')}" ${attributes}/>`;
}

function drawAxis(onPage: Transform, axis: DrawnLine | null): string {
  if (axis === null) return '';
  const [from, to] = [transformPoint(onPage, axis.from), transformPoint(onPage, axis.to)];
  return `<path d="M${mm(from.x)} ${mm(from.y)}L${mm(to.x)} ${mm(to.y)}" fill="none" stroke="#55514a" stroke-width="0.25" stroke-dasharray="4 1 0.8 1"/>`;
}

function drawPile(onPage: Transform, pile: DrawnLine): string {
  const [from, to] = [transformPoint(onPage, pile.from), transformPoint(onPage, pile.to)];
  return arrow(between(from, to, 0.5), headingDeg(minus(to, from)), distance(from, to), 0.3);
}
