import type { Finding } from '../../base/findings.ts';
import { listed } from '../../base/wording.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { distanceFromLine } from '../../geometry/paths/point.ts';
import { reflectionIn, transformPath } from '../../geometry/paths/transform.ts';
import type { DrawnLine, Feature } from '../feature.ts';
import { cuttingRoles } from '../feature.ts';
import type { DrawnPlace } from '../findings.ts';
import { pieceError, pieceWarning } from '../findings.ts';
import { alikeInConditions } from '../conditions.ts';
import type { Piece } from '../piece.ts';
import { twinTolerance } from '../twins.ts';
import { axisOffMiddle } from './axis-middle.ts';

/** So many are named one by one; the rest is counted. */
const mostNamed = 6;

/** Something on one side of the middle alone, and how far its own middle is from there, mm. */
interface OneSided {
  readonly feature: Feature;
  readonly off: number;
}

/**
 * Rules: what is cut on one side of a centre piece alone, and has no suffix, must have been thought
 * about: a hole for the hand brake stays, one for the pedals does not. The set file says so once for the
 * piece. A pad there is an error, because an order for the driver's pads alone would get it in one hand
 * only.
 */
export function checkOneSided(piece: Piece): Finding[] {
  const { side, decided, open } = piece.entry;
  // As long as it is a guess that this is a centre piece, that is the question.
  if (side !== 'centre' || open?.['side'] !== undefined) return [];
  const found = oneSided(piece);
  const pads = found.filter(({ feature }) => feature.role === 'PAD');
  const others = found.filter(({ feature }) => feature.role !== 'PAD');
  return [
    ...(pads.length === 0 ? [] : [lonePad(piece, pads[0]!)]),
    ...(decided === undefined ? alikeInConditions(others, ({ feature }) => feature.when) : []).map(
      (alike) => notDecided(piece, alike),
    ),
  ];
}

/** What is drawn on one side of the middle alone. Of several lines that may be the middle, the best. */
function oneSided(piece: Piece): OneSided[] {
  const features = piece.features.filter(
    ({ role, follows }) => follows === null && cuttingRoles.has(role),
  );
  const tries = middlesOf(piece).map((middle) => withoutTwin(features, middle));
  return tries.reduce((best, one) => (one.length < best.length ? one : best));
}

function withoutTwin(features: readonly Feature[], middle: DrawnLine): OneSided[] {
  const mirror = reflectionIn(middle);
  return features
    .filter(({ role, path }) => {
      const image = transformPath(mirror, path);
      return !features.some(
        (other) => other.role === role && sameCurve(image, other.path, twinTolerance),
      );
    })
    .map((feature) => ({
      feature,
      off: distanceFromLine(middle, centreOf(boxOfPath(feature.path))),
    }));
}

/**
 * The lines that may be the middle: the AXIS, or the middle of a symmetrical outline beside which it was
 * drawn. Without one, the vehicle's centreline and the middle of the outline.
 */
function middlesOf(piece: Piece): DrawnLine[] {
  if (piece.axis !== null) return [axisOffMiddle(piece)?.middle ?? piece.axis];
  const upright = (x: number): DrawnLine => ({ from: { x, y: 0 }, to: { x, y: 1 } });
  const box = boxOfPath(piece.outline);
  const vehicle = -piece.entry.at[0];
  return [
    ...(box.minX < vehicle && vehicle < box.maxX ? [upright(vehicle)] : []),
    upright(centreOf(box).x),
  ];
}

function notDecided(piece: Piece, found: readonly OneSided[]): Finding {
  const named = found.slice(0, mostNamed).map(wordOneSided);
  const more = found.length > named.length ? [`${found.length - named.length} more`] : [];
  const isOne = found.length === 1;
  const becomes =
    piece.entry.outline === 'driver'
      ? `${isOne ? 'goes' : 'go'} over with the outline for the other hand`
      : `${isOne ? 'stays' : 'stay'} there in both hands`;
  const words = listed([...named, ...more]);
  const message = `in the piece's drawing, ${words} ${isOne ? 'has' : 'have'} nothing like ${isOne ? 'it' : 'them'} on the other side and no suffix, and ${becomes}.`;
  const todo =
    'Put -DRIVER or -PASSENGER behind the layer of what goes with a person, -LEFT or -RIGHT behind that of what stays on its side, or write down why it is right as "decided:" of the piece.';
  return pieceWarning(piece, { rule: 'one-sided', message, todo }, placeOfFirst(found));
}

function lonePad(piece: Piece, found: OneSided): Finding {
  const message = `in the piece's drawing, ${wordOneSided(found)} has nothing like it on the other side: for the driver alone it is cut in one hand and not in the other.`;
  const todo =
    'Put it on PAD-DRIVER if it goes with the driver, or draw one for the other side too.';
  return pieceError(piece, { rule: 'pad-one-sided', message, todo }, placeOfFirst([found]));
}

function wordOneSided({ feature, off }: OneSided): string {
  const { x, y } = centreOf(boxOfPath(feature.path));
  return `a ${feature.role} at ${x.toFixed(1)}, ${y.toFixed(1)} (${off.toFixed(1)} mm from the middle)`;
}

function placeOfFirst([first]: readonly OneSided[]): DrawnPlace {
  const { path, line } = first!.feature;
  return { line, at: centreOf(boxOfPath(path)) };
}
