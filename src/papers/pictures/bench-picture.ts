import { heightOf, unionBox, widthOf } from '../../geometry/paths/box.ts';
import {
  alongPath,
  boxOfPath,
  middleOfPath,
  pathLength,
  polyline,
} from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, leftOf, plus, times } from '../../geometry/paths/point.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import { transformPath, transformPoint } from '../../geometry/paths/transform.ts';
import type { SeamFacts } from '../../handing/bench-facts.ts';
import type { Edge, Part } from '../../handing/part.ts';
import type { LeftWork } from '../../knife/left-work.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import { unbrokenEdges } from '../../handing/edges/unbroken.ts';
import { edgeKinds } from '../../pattern/words.ts';
import { drawFill } from '../svg/fills.ts';
import { drawLegend, legendHeight } from '../svg/legend.ts';
import { arrow, drawCross, mm, ringed, svgPage } from '../svg/svg.ts';
import { drawEdgeStroke, drawStroke, edgeEntries } from './edge-strokes.ts';

/** Height of the type, mm: 8 points. */
const type = 2.9;

/**
 * A picture of a part as the bench sees it: face up, with the front of the vehicle at the top, no larger
 * than `size` (mm on paper, which is its unit). Bound edges are heavy, each other kind has a stroke of
 * its own. Notches, pads, and an arrow for the pile are shown. If `seams` are given, their letters and
 * the names of their notches are shown too. What is `left` to be done by hand is ringed.
 */
export function benchPicture(
  part: Part,
  { width, height }: { readonly width: number; readonly height: number },
  { seams, left = [] }: { seams?: readonly SeamFacts[]; left?: readonly LeftWork[] } = {},
): string {
  const worded = seams !== undefined;
  // The letters of seams need space outside the part.
  const margin = seams === undefined ? 1.5 : seams.length > 0 ? 8 : 2.5;
  const box = unionBox(boxOfPath(part.cut), boxOfPath(part.net));
  const scale = Math.min(
    (width - 2 * margin) / widthOf(box),
    (height - 2 * margin) / heightOf(box),
  );
  const onPage: Transform = {
    a: scale,
    b: 0,
    c: 0,
    d: -scale,
    e: (width - scale * widthOf(box)) / 2 - scale * box.minX,
    f: margin + scale * box.maxY,
  };
  const used = scale * heightOf(box) + 2 * margin;
  const place = (path: Path): Path => transformPath(onPage, path);
  return svgPage(
    { width, height: used, type },
    part.name,
    [
      drawFill(
        { tint: '#f4f1ea', strokes: [] },
        [place(part.net), ...part.inner.map(({ path }) => place(path))],
        2,
      ),
      ...(part.cut === part.net ? [] : [drawStroke([place(part.cut)], 0.15, '0.8 0.8')]),
      ...part.marks.filter(({ role }) => role === 'PAD').map(({ path }) => drawPad(place(path))),
      drawStroke(
        part.inner.map(({ path }) => place(path)),
        0.25,
      ),
      drawStroke(
        part.marks.filter(({ path }) => path.vertices.length > 1).map(({ path }) => place(path)),
        0.2,
        '1 0.7',
      ),
      ...part.marks
        .filter(({ path }) => path.vertices.length === 1)
        .map(({ path }) =>
          drawCross(place(path).vertices[0]!, 1.6, 'stroke="#1b1b1b" stroke-width="0.2"'),
        ),
      ...drawEdges(part, place),
      drawStroke(
        part.notches.map(({ from, to }) => place(notchLine(from, to, scale))),
        0.45,
      ),
      part.pileDeg === null ? '' : drawPile(part, place, worded),
      ...left.flatMap(({ places }) => places.map((at) => drawRing(transformPoint(onPage, at)))),
      ...drawWords(seams ?? [], onPage),
    ].filter((line) => line !== ''),
  );
}

/** A notch, made longer if it would be too short to be seen. */
function notchLine(from: Point, to: Point, scale: number): Path {
  const length = distance(from, to);
  const seen = Math.max(1, 1.4 / (scale * Math.max(length, 0.1)));
  const end = plus(from, times({ x: to.x - from.x, y: to.y - from.y }, seen));
  return polyline([from, end], false);
}

/** The edges of a part. Boards and pads have none: their outline is drawn plain. */
function drawEdges({ edges, net }: Part, place: (path: Path) => Path): string[] {
  if (edges.length === 0) return [drawStroke([place(net)], 0.4)];
  return edgeKinds.toReversed().map((kind) => {
    return drawEdgeStroke(unbrokenEdges(edges as readonly Edge[], kind).map(place), kind);
  });
}

function drawPad(path: Path): string {
  return drawFill({ tint: '#e6e1d6', strokes: [-45] }, [path], 1.1) + drawStroke([path], 0.35);
}

/** The arrow of the pile, in the middle of the part on a ground of its own. */
function drawPile({ pileDeg, net }: Part, place: (path: Path) => Path, worded: boolean): string {
  const box = boxOfPath(place(net));
  const length = Math.min(worded ? 9 : 7, 0.5 * Math.min(widthOf(box), heightOf(box)) + 2);
  const at = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const halo = `<circle cx="${mm(at.x)}" cy="${mm(at.y)}" r="${mm(length / 2 + 0.8)}" fill="#ffffff" fill-opacity="0.75"/>`;
  return halo + arrow(at, -pileDeg!, length, 0.45);
}

/** The ring round a place that is left to be done by hand. */
function drawRing({ x, y }: Point): string {
  return `<circle cx="${mm(x)}" cy="${mm(y)}" r="1.4" fill="none" stroke="#1b1b1b" stroke-width="0.5"/>`;
}

const ringLook = { radius: 2.5, weight: 0.25, type };

/** The names of notches, inside the part, and the letters of its seams, outside. */
function drawWords(seams: readonly SeamFacts[], onPage: Transform): string[] {
  return seams.flatMap(({ path, letter, notches }) => [
    ...notches.map(({ name, at }) => drawName(name, inwards(path, at, 3.6, onPage))),
    ringed(letter, inwards(path, middleOfPath(path), -4.6, onPage), ringLook),
  ]);
}

/**
 * The point on the page that lies `by` mm of paper inside the part, seen from a point of an edge. The
 * part lies to the left of its edges.
 */
function inwards(path: Path, at: Point, by: number, onPage: Transform): Point {
  const length = pathLength(path);
  const nearest = Array.from({ length: 41 }, (_, i) => alongPath(path, (length * i) / 40)).reduce(
    (best, one) => (distance(one.point, at) < distance(best.point, at) ? one : best),
  );
  const placed = transformPoint(onPage, at);
  const inner = leftOf(nearest.tangent);
  return { x: placed.x + by * inner.x, y: placed.y - by * inner.y };
}

function drawName(name: string, { x, y }: Point): string {
  return `<text x="${mm(x)}" y="${mm(y + 0.36 * type)}" text-anchor="middle">${name}</text>`;
}

const words: Readonly<Record<Exclude<EdgeKind, 'bound'>, string>> = {
  seam: 'sewn to the part of that letter',
  tuck: 'tucked under when fitted',
  turned: 'turned under',
  raw: 'raw, covered when fitted',
};

/**
 * The legend of the strokes in a part's picture, as a picture 190 mm wide. `bound` says what bound edges
 * are: bound, or finished otherwise. `isSewn`: whether each seam edge has something that it is sewn to.
 */
export function edgeLegend(bound: string, isSewn: boolean): string {
  const width = 190;
  const entries = edgeEntries({
    ...words,
    bound,
    ...(isSewn ? {} : { seam: 'seam: sewn as its step says' }),
  });
  entries.push({
    mark: drawRing({ x: 3, y: -0.9 }),
    words: 'left by the knife: to be done by hand',
  });
  const height = legendHeight(entries, width, type) + 1;
  return svgPage({ width, height, type }, 'How edges are drawn', [
    drawLegend(entries, 0, 0, width, type),
  ]);
}
