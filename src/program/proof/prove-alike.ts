import type { Finding } from '../../base/findings.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { reflection, transformPath } from '../../geometry/paths/transform.ts';
import { choiceOf } from '../../handing/order.ts';
import { recordedContour } from '../record/figures.ts';
import type { ContourRecord, OrderRecord, PartRecord, RunRecord } from '../record/run-record.ts';
import { fault } from './faults.ts';

/** How far contours of six decimals may be apart, mm. */
const sameOutline = 0.01;

/** The mirror in the vehicle's centreline: parts stand in the frame of the vehicle. */
const centreline = reflection({ x: 0, y: 0 }, 90);

/**
 * Faults if parts of one piece do not agree, in orders that choose the same of their set. All have the
 * same material, pile and turns. Of one set after another of an order, and of orders that ask for the same,
 * they are the same in everything but perhaps the colour. On the other side of the vehicle the net outline
 * is the mirror image.
 */
export function alikeFaults({ parts, orders }: RunRecord, file: string): Finding[] {
  const byOrder = new Map(orders.map((order) => [order.order, order]));
  const groups = new Map<string, PartRecord[]>();
  for (const part of parts) {
    const order = byOrder.get(part.order);
    if (order === undefined) continue;
    const { materials, options } = choiceOf(order);
    const key = JSON.stringify([order.set, materials, options, part.piece, part.kind]);
    groups.set(key, [...(groups.get(key) ?? []), part]);
  }
  return [...groups.values()].flatMap((group) => {
    const [first, ...others] = group;
    return others.flatMap((part) => {
      const twin = group.find((one) => one !== part && isTwin(one, part, byOrder)) ?? first!;
      const found =
        differs(first!, part, ['material', 'turns', 'tilt', 'pileDeg']) ??
        (isTwin(twin, part, byOrder) ? differs(twin, part, twinKeys(twin, part)) : undefined);
      if (found !== undefined) {
        const other = isTwin(twin, part, byOrder) ? twin.label : first!.label;
        const message = `its ${found} is not that of ${other}, a part of the same piece.`;
        return [fault('alike', message, { file, part: part.label })];
      }
      return isAlike(first!, part) ? [] : [mirrorFault(first!, part, file)];
    });
  });
}

/** Whether two parts must be the same in all but their label. */
function isTwin(a: PartRecord, b: PartRecord, orders: ReadonlyMap<string, OrderRecord>): boolean {
  if (a.side !== b.side || a.hand !== b.hand) return false;
  const [one, other] = [orders.get(a.order)!, orders.get(b.order)!];
  return (
    one.order === other.order ||
    (one.heelPads === other.heelPads &&
      one.boards === other.boards &&
      (one.underlay === false) === (other.underlay === false))
  );
}

type PartKey = keyof PartRecord;

/**
 * What two twins have in common. Names of copies differ, and so do the words about what they go with;
 * orders may be of different colours.
 */
function twinKeys(a: PartRecord, b: PartRecord): PartKey[] {
  const own: ReadonlySet<PartKey> = new Set<PartKey>(['label', 'name', 'order', 'set']);
  const keys = (Object.keys(a) as PartKey[]).filter((key) => !own.has(key));
  const mayDiffer = (key: PartKey): boolean =>
    (key === 'next' && (a.order !== b.order || a.name !== b.name)) ||
    (key === 'colour' && a.order !== b.order);
  return keys.filter((key) => !mayDiffer(key));
}

function differs(a: PartRecord, b: PartRecord, keys: readonly PartKey[]): PartKey | undefined {
  return keys.find((key) => JSON.stringify(a[key]) !== JSON.stringify(b[key]));
}

/** Whether the net outlines agree: the same on one side, mirror images on two. */
function isAlike(a: PartRecord, b: PartRecord): boolean {
  if (a.kind === 'pad') return true;
  const isTold = JSON.stringify(contourOf(a)) === JSON.stringify(contourOf(b));
  if (isTold && a.side === b.side) return true;
  const [one, other] = [recordedContour(contourOf(a)), recordedContour(contourOf(b))];
  const isSame = (path: Path): boolean => sameCurve(path, other, sameOutline);
  if (a.side !== null || b.side !== null) {
    return isSame(a.side === b.side ? one : transformPath(centreline, one));
  }
  // The outline of a centre piece may go with the driver.
  return isSame(one) || (a.hand !== b.hand && isSame(transformPath(centreline, one)));
}

function contourOf({ netContour, cutContour }: PartRecord): ContourRecord {
  return netContour ?? cutContour;
}

function mirrorFault(a: PartRecord, b: PartRecord, file: string): Finding {
  const how = a.side === b.side ? 'the same as' : 'the mirror image of';
  return fault('alike', `its net outline is not ${how} that of ${a.label}.`, {
    file,
    part: b.label,
  });
}
