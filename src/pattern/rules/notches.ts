import type { Finding } from '../../base/findings.ts';
import { bendOf } from '../../geometry/measuring/bend.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { nearestPlace } from '../../geometry/measuring/measured-path.ts';
import { standAt } from '../../geometry/measuring/stand.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { pathLength } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { dot, minus, unit } from '../../geometry/paths/point.ts';
import { traceTolerance } from '../edges.ts';
import type { Feature } from '../feature.ts';
import type { Wording } from '../findings.ts';
import { pieceError } from '../findings.ts';
import type { Piece } from '../piece.ts';
import { deepestNotch } from '../shop/material.ts';

/** A notch line may lean so far from straight in, degrees. One that leans more runs along the edge. */
export const mostLean = 60;

/** The end of a notch that lies nearer to the outline, and the other one. */
interface NotchEnds {
  readonly outer: Point;
  readonly inner: Point;
  /** How far each is from the outline, mm. */
  readonly outerOff: number;
  readonly innerOff: number;
}

/**
 * Rule: a notch is a point on the outline, or one straight line from the outline inwards that is no
 * longer than a slit can be deep. Anything else on its layer was meant to be something else. `name` says
 * which notch it is; `outline` is that of the piece, in whichever hand the notch lies there.
 */
export function checkNotch(
  piece: Piece,
  outline: MeasuredPath,
  { path, line }: Feature,
  name: string,
): Finding[] {
  const ends = endsOf(outline, path);
  const wording = offOutline(ends, name) ?? wrongLine(outline, path, ends, name);
  return wording === null ? [] : [pieceError(piece, wording, { line, at: ends.outer })];
}

function endsOf(outline: MeasuredPath, { vertices }: Path): NotchEnds {
  const [first, last] = [vertices[0]!, vertices.at(-1)!];
  const [a, b] = [first, last].map((end) => nearestPlace(outline, end).distance) as [
    number,
    number,
  ];
  return a <= b
    ? { outer: first, inner: last, outerOff: a, innerOff: b }
    : { outer: last, inner: first, outerOff: b, innerOff: a };
}

function offOutline({ outerOff }: NotchEnds, name: string): Wording | null {
  if (outerOff <= traceTolerance) return null;
  const message = `${name} begins ${outerOff.toFixed(1)} mm from the outline (${traceTolerance} mm allowed).`;
  const todo = 'Snap the notch, or the outer end of its line, to the outline.';
  return { rule: 'notch-off-outline', message, todo };
}

function wrongLine(
  outline: MeasuredPath,
  path: Path,
  { outer, inner, innerOff }: NotchEnds,
  name: string,
): Wording | null {
  const length = pathLength(path);
  if (length <= traceTolerance) return null;
  const ofLength = `${name} line of ${length.toFixed(0)} mm`;
  const todo = 'Put it on FOLD or MARK, or draw a point on the outline where the notch stands.';
  if (bendOf(path).distance > traceTolerance) {
    const message = `${ofLength} is not straight, and a slit is.`;
    return { rule: 'notch-shape', message, todo };
  }
  const lean = dot(unit(minus(inner, outer)), standAt(outline, outer).outward);
  if (Math.abs(lean) < Math.cos((mostLean * Math.PI) / 180)) {
    const message = `${ofLength} runs along the edge, and a slit runs in from it.`;
    return { rule: 'notch-shape', message, todo };
  }
  if (innerOff <= traceTolerance && length > 2 * traceTolerance) {
    const message = `${ofLength} runs across the piece, from edge to edge.`;
    return { rule: 'notch-across', message, todo };
  }
  if (length <= deepestNotch) return null;
  const message = `${ofLength} is longer than a notch can be (${deepestNotch} mm).`;
  return { rule: 'notch-long', message, todo };
}
