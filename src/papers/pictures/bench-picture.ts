import type { Path } from '../../geometry/paths/path.ts';
import { polyline } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { transformPath, transformPoint } from '../../geometry/paths/transform.ts';
import type { Edge, Mark, Part } from '../../handing/part.ts';
import type { LeftWork } from '../../knife/left-work.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import { unbrokenEdges } from '../../handing/edges/unbroken.ts';
import { edgeKinds } from '../../pattern/words.ts';
import { drawFill } from '../svg/fills.ts';
import { drawLegend, legendHeight } from '../svg/legend.ts';
import { arrow, drawCross, mm, ringed, svgPage } from '../svg/svg.ts';
import type { BenchLayout, PlacedMark, Told } from './bench-layout.ts';
import { layOutBench, letterRing, notchLine, benchType, workRing } from './bench-layout.ts';
import { drawEdgeStroke, drawStroke, edgeEntries } from './edge-strokes.ts';

/**
 * A picture of a part as the bench sees it: face up, with the front of the vehicle at the top, no larger than `size`
 * (mm on paper, which is its unit). Bound edges are heavy, each other kind has a stroke of its own. Notches, pads, and
 * an arrow for the pile are shown. If the bench is told more, the letters of seams, the names of their notches and what
 * is added at each edge (mm) stand there too. What is `left` to be done by hand is ringed.
 */
export function benchPicture(
  part: Part,
  size: { readonly width: number; readonly height: number },
  { told = null, left = [] }: { told?: Told | null; left?: readonly LeftWork[] } = {},
): string {
  return drawBench(part, layOutBench(part, size, told, left), left);
}

/** The picture of a part that is laid out. */
export function drawBench(part: Part, layout: BenchLayout, left: readonly LeftWork[]): string {
  const { onPage } = layout;
  const place = (path: Path): Path => transformPath(onPage, path);
  return svgPage(
    { width: layout.width, height: layout.height, type: benchType },
    part.name,
    [
      drawFill(
        { tint: '#f4f1ea', strokes: [] },
        [place(part.net), ...part.inner.map(({ path }) => place(path))],
        2,
      ),
      ...(part.cut === part.net ? [] : [drawStroke([place(part.cut)], ...cutStroke)]),
      ...part.marks.filter(({ role }) => role === 'PAD').map(({ path }) => drawPad(place(path))),
      drawStroke(
        part.inner.map(({ path }) => place(path)),
        0.25,
      ),
      ...part.marks
        .filter(({ path }) => path.vertices.length > 1)
        .map(({ role, path }) => drawStroke([place(path)], ...markStrokes[role])),
      ...part.marks
        .filter(({ path }) => path.vertices.length === 1)
        .map(({ path }) => drawDrill(place(path).vertices[0]!)),
      ...drawEdges(part, place),
      drawStroke(
        part.notches.map(({ from, to }) => place(notchLine(from, to, onPage.a))),
        0.45,
      ),
      ...left.flatMap(({ places }) =>
        places.map((at) => drawRing(transformPoint(onPage, at), layout.ring)),
      ),
      ...layout.marks.map((mark) => drawMark(mark, part)),
    ].filter((line) => line !== ''),
  );
}

/** Weight and dashes of lines on a part, mm on paper: none is like another, nor like that of an edge. */
const markStrokes: Readonly<Record<Mark['role'], [weight: number, dashes?: string]>> = {
  FOLD: [0.25, '4 1'],
  STITCH: [0.25, '0.9 0.7'],
  MARK: [0.15, '0.3 0.6'],
  PAD: [0.35],
  DRILL: [0.2],
};
/** Where a part is cut, outside its finished edge. */
const cutStroke = [0.12] as const;

function drawDrill(at: Point): string {
  return drawCross(at, 1.6, 'stroke="#1b1b1b" stroke-width="0.2"');
}

function drawMark({ kind, words, at, length }: PlacedMark, { pileDeg }: Part): string {
  if (kind === 'arrow') return arrow(at, -pileDeg!, length!, 0.45);
  if (kind === 'letter')
    return ringed(words, at, { radius: letterRing, weight: 0.25, type: benchType });
  return `<text x="${mm(at.x)}" y="${mm(at.y + 0.36 * benchType)}" text-anchor="middle">${words}</text>`;
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

/** The ring round a place that is left to be done by hand. */
function drawRing({ x, y }: Point, radius: number): string {
  return `<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" fill="none" stroke="#1b1b1b" stroke-width="${radius < 1 ? 0.3 : 0.5}"/>`;
}

const words: Readonly<Record<Exclude<EdgeKind, 'bound'>, string>> = {
  seam: 'sewn to the part of that letter',
  tuck: 'tucked under when fitted',
  turned: 'turned under',
  raw: 'raw, covered when fitted',
};

/**
 * The legend of a part's picture, as a picture 190 mm wide. `bound` says what bound edges are: bound, or finished
 * otherwise. `isSewn`: whether each seam edge has something that it is sewn to.
 */
export function edgeLegend(bound: string, isSewn: boolean): string {
  const width = 190;
  const line = (draw: typeof drawStroke, ...look: [number, string?]): string =>
    draw(
      [
        polyline(
          [
            { x: 0, y: -0.9 },
            { x: 6, y: -0.9 },
          ],
          false,
        ),
      ],
      ...look,
    );
  const entries = [
    ...edgeEntries({
      ...words,
      bound,
      ...(isSewn ? {} : { seam: 'seam: sewn as its step says' }),
    }),
    { mark: line(drawStroke, ...cutStroke), words: 'outermost: where it is cut' },
    { mark: line(drawStroke, ...markStrokes.FOLD), words: 'fold' },
    { mark: line(drawStroke, ...markStrokes.STITCH), words: 'stitch line' },
    { mark: line(drawStroke, ...markStrokes.MARK), words: 'mark: only to be seen' },
    { mark: holeMark, words: 'hole or cutout' },
    {
      mark: line(drawStroke, 0.45),
      words: 'short, at the edge: notch',
    },
    { mark: arrow({ x: 3, y: -0.9 }, 0, 6, 0.45), words: 'the pile leans this way' },
    { mark: drawDrill({ x: 3, y: -0.9 }), words: 'drill mark: not cut' },
    { mark: drawRing({ x: 3, y: -0.9 }, workRing.most), words: 'left by the knife: do it by hand' },
    { mark: figureMark, words: 'mm from the edge to where it is cut' },
    { mark: padMark, words: 'heel pad' },
  ];
  const height = legendHeight(entries, width, benchType) + 1;
  return svgPage({ width, height, type: benchType }, 'What the pictures show', [
    drawLegend(entries, 0, 0, width, benchType),
  ]);
}

const holeMark =
  '<circle cx="3" cy="-0.9" r="1.1" fill="none" stroke="#1b1b1b" stroke-width="0.25"/>';
const figureMark = '<text x="3" text-anchor="middle">30</text>';
const padMark = drawPad(
  polyline(
    [
      { x: 1, y: 0.2 },
      { x: 5, y: 0.2 },
      { x: 5, y: -2 },
      { x: 1, y: -2 },
    ],
    true,
  ),
);
