import type { Entity, TextEntity } from '../../drawing/drawing.ts';
import { distanceToPath } from '../../geometry/measuring/nearest.ts';
import { boxOfPath, segmentsOf } from '../../geometry/paths/path.ts';
import { pointAt } from '../../geometry/paths/segment.ts';
import { headingOf } from '../../geometry/paths/angle.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, plus, times } from '../../geometry/paths/point.ts';
import type { Outline } from '../outlines/contours.ts';
import { traceTolerance } from '../edges.ts';
import { askedNumber, saysPair } from './side-words.ts';

/** A text names a thing that is no further from it, mm. */
const reach = 60;

/** About how wide a letter is, as a share of its height. */
const letterWidth = 0.7;

/** A name has no more words. */
const mostWords = 3;

/**
 * Words that may ask for something: numbers, sides, hands, directions, what is done at the bench or the
 * cutter, conditions, materials. A text with one of them is never taken for a mere name.
 */
const askingWords = new Set(
  `one two three four five six half quarter double single pair pairs each both all every set per off qty quantity extra spare
  left right lh rh lhs rhs l r lhd rhd driver drivers passenger passengers side sides hand handed opp opposite other mirror mirrored
  front rear back forward forwards rearward rearwards fwd aft up down top bottom upper lower inner outer inside outside in out
  over under above below across along way towards toward to from face pile nap grain direction
  cut trim make use add fit leave keep move turn flip rotate reverse sew stitch bind bound glue bond tuck drill punch slit
  snip match check see ask measure mark note delete omit remove ignore allow repeat shorten lengthen join split copy move pleat
  tape taped binding edge edged raw overlock
  no not never none only except without with if unless when until before after must may should same as like instead than
  is are be do does dont this that these those here there
  carpet felt foam rubber vinyl leather board underlay ply mm cm inch inches new old late early type version rev revised wrong right
  please tbc tba approx about`.split(/\s+/),
);

/**
 * Whether a text on a piece only names something that is drawn beside or round it: `gear lever` at a
 * cutout. It must lie there, be short, and have no number and no word that could ask for anything.
 */
export function onlyNames(text: TextEntity, outline: Outline): boolean {
  return isPlainName(text.text) && thingsOn(outline).some((thing) => isBeside(text, thing));
}

/** Whether a text is short and has no number and no word that could ask for anything. */
export function isPlainName(text: string): boolean {
  return (
    text.trim().split(/\s+/).length <= mostWords &&
    !/\d|[?!:=<>"+&%]/.test(text) &&
    text
      .toLowerCase()
      .split(/[^\p{L}]+/u)
      .every((word) => !askingWords.has(word))
  );
}

/** What is drawn on a piece, but for its outline and what is traced along that. */
function thingsOn({ contour, inner, others }: Outline): Path[] {
  const drawn = others
    .flatMap((entity) => pathsOf(entity))
    .filter((path) => !isTracedAlong(path, contour.path));
  return [...inner.map(({ path }) => path), ...drawn];
}

/** Whether an open line lies along an outline. A fold has its ends there too: the middles tell. */
function isTracedAlong(path: Path, outline: Path): boolean {
  return (
    !path.closed &&
    segmentsOf(path)
      .flatMap((segment) => [0, 0.5, 1].map((t) => pointAt(segment, t)))
      .every((at) => distanceToPath(outline, at) <= traceTolerance)
  );
}

/**
 * Whether a text may name a line along the outline that lies on its own layer: a few words beside it, of
 * letters alone, that say neither how many are wanted nor for which side.
 */
export function mayNameEdge(text: TextEntity, { contour, others }: Outline): boolean {
  const isWord = /^\p{L}[\p{L} /-]{0,20}$/u.test(text.text.trim());
  return (
    isWord &&
    !saysPair(text.text) &&
    askedNumber(text.text) === null &&
    others.some(
      (one) =>
        one.kind === 'path' &&
        one.layer === text.layer &&
        isTracedAlong(one.path, contour.path) &&
        isBeside(text, one.path),
    )
  );
}

function pathsOf(entity: Entity): Path[] {
  return entity.kind === 'path' ? [entity.path] : [];
}

/** Whether a text lies inside the box of a thing, or near it. */
export function isBeside({ text, at, height, deg }: TextEntity, thing: Path): boolean {
  const length = letterWidth * height * Math.max(...text.split('\n').map((line) => line.length));
  const places = [0, 0.25, 0.5, 0.75, 1].map((t) => plus(at, times(headingOf(deg), t * length)));
  const box = boxOfPath(thing);
  const isInside = ({ x, y }: Point): boolean =>
    thing.closed && box.minX <= x && x <= box.maxX && box.minY <= y && y <= box.maxY;
  return places.some((place) => isInside(place) || nearest(thing, place) <= reach);
}

function nearest(path: Path, at: Point): number {
  const [first] = path.vertices;
  return path.vertices.length === 1 ? distance(first!, at) : distanceToPath(path, at);
}
