import { longestName } from '../../base/names.ts';
import { centreOf, heightOf, widthOf } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { boxOfPath, middleOfPath } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { lengthOf, rightOf, minus, unit } from '../../geometry/paths/point.ts';
import { transformPath } from '../../geometry/paths/transform.ts';
import { vehicleFrame } from '../../handing/frame.ts';
import type { Piece } from '../../pattern/piece.ts';

/** What lies nearer to the middle of a piece than this share of its size is named by the way it looks out. */
const nearMiddle = 0.3;

/** A place belongs to a corner of the piece if its smaller share is more than this part of its larger one. */
const towardsCorner = 0.5;

/**
 * The name that says where an edge lies on its piece, as the piece lies in the vehicle: `front`, `rear`,
 * `left`, `right`, or a corner like `front-left`; `edge` for a whole outline. On a pair, and on a piece that
 * changes side with a person, `inner` and `outer` stand for left and right, so that the name is true of both
 * sides: `inner` is towards the middle of the vehicle. If the name is taken, a number is put behind it.
 * `path`: in the frame of the block, along the outline, counter-clockwise.
 */
export function proposedName(piece: Piece, path: Path, taken: Iterable<string>): string {
  const frame = vehicleFrame(piece);
  const box = boxOfPath(transformPath(frame, piece.outline));
  const edge = transformPath(frame, path);
  const [first, last] = [edge.vertices[0]!, edge.vertices.at(-1)!];
  const isRing = edge.closed || lengthOf(minus(last, first)) < 1;
  if (isRing) return freeName('edge', taken);
  const [centre, middle] = [centreOf(box), middleOfPath(edge)];
  const place = {
    x: (2 * (middle.x - centre.x)) / widthOf(box),
    y: (2 * (middle.y - centre.y)) / heightOf(box),
  };
  const outward = rightOf(unit(minus(last, first)));
  const towards = lengthOf(place) < nearMiddle ? outward : place;
  return freeName(wordTowards(towards, sideWords(piece, centre)), taken);
}

/** What the left and the right of a piece are called. */
function sideWords({ entry }: Piece, centre: Point): { left: string; right: string } {
  if (!['pair', 'driver', 'passenger'].includes(entry.side))
    return { left: 'left', right: 'right' };
  const isRight = entry.side === 'pair' ? entry.drawnSide === 'right' : centre.x > 0;
  return isRight ? { left: 'inner', right: 'outer' } : { left: 'outer', right: 'inner' };
}

function wordTowards({ x, y }: Point, { left, right }: { left: string; right: string }): string {
  const [along, across] = [y > 0 ? 'front' : 'rear', x < 0 ? left : right];
  const [less, more] = [Math.min(Math.abs(x), Math.abs(y)), Math.max(Math.abs(x), Math.abs(y))];
  if (less > towardsCorner * more) return `${along}-${across}`;
  return Math.abs(y) >= Math.abs(x) ? along : across;
}

/** A name with the first number from 2 behind it that makes it free, if it is taken. */
export function freeName(name: string, taken: Iterable<string>): string {
  const known = new Set(taken);
  if (!known.has(name)) return name;
  const stem = name
    .replace(/-\d+$/, '')
    .slice(0, longestName - 4)
    .replace(/-$/, '');
  let number = 2;
  while (known.has(`${stem}-${number}`)) number++;
  return `${stem}-${number}`;
}
