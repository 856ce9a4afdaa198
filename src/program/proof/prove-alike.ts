import type { Finding } from '../../base/findings.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { reflection, transformPath } from '../../geometry/paths/transform.ts';
import { recordedContour } from '../record/figures.ts';
import type { ContourRecord, OrderRecord, PartRecord, RunRecord } from '../record/run-record.ts';
import { uses } from '../../pattern/words.ts';
import { fault } from './faults.ts';
import { chosenFor } from '../../handing/order-choices.ts';

/** How far contours of six decimals may be apart, mm. */
const sameOutline = 0.01;

/** The mirror in the vehicle's centreline: parts stand in the frame of the vehicle. */
const centreline = reflection({ x: 0, y: 0 }, 90);

/**
 * Faults if parts of one piece do not agree. All have the same turns, and where orders choose the same
 * materials, the same material and pile. Of one set after another of an order, and of orders that ask for
 * the same, they are the same in everything. On the other side of the vehicle the net outline is the
 * mirror image. Orders with other options may have another piece under the name.
 */
export function alikeFaults({ parts, orders }: RunRecord, file: string): Finding[] {
  const byOrder = new Map(orders.map((order) => [order.order, order]));
  const groups = new Map<string, PartRecord[]>();
  for (const part of parts) {
    const order = byOrder.get(part.order);
    if (order === undefined) continue;
    const key = [order.set, part.piece, part.kind, optionsIn(order)].join('\n');
    groups.set(key, [...(groups.get(key) ?? []), part]);
  }
  return [...groups.values()].flatMap((group) => {
    const [first, ...others] = group;
    return others.flatMap((part) => {
      const twin = group.find((one) => one !== part && isTwin(one, part, byOrder)) ?? first!;
      const isChosenSo = (one: PartRecord): boolean =>
        materialsIn(byOrder.get(one.order)!) === materialsIn(byOrder.get(part.order)!);
      const like = group.find((one) => one !== part && isChosenSo(one));
      const found =
        differs(first!, part, ['turns', 'tilt']) ??
        (like === undefined ? undefined : differs(like, part, ['material', 'pileDeg'])) ??
        (isTwin(twin, part, byOrder) ? differs(twin, part, twinKeys(twin, part)) : undefined);
      if (found !== undefined) {
        const other = isTwin(twin, part, byOrder) ? twin.label : (like ?? first!).label;
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
      Boolean(one.underlay) === Boolean(other.underlay) &&
      clothsIn(one) === clothsIn(other))
  );
}

/** What an order chooses of options, in one text whatever their order. */
function optionsIn({ options = {} }: OrderRecord): string {
  return JSON.stringify(Object.entries(options).toSorted(([a], [b]) => (a < b ? -1 : 1)));
}

/** What an order chooses of materials for uses, and of materials and colours. */
function materialsIn(order: OrderRecord): string {
  return JSON.stringify(uses.map((use) => chosenFor(order, use).material ?? null));
}

function clothsIn(order: OrderRecord): string {
  return JSON.stringify(
    uses.map((use) => {
      const { material, colour } = chosenFor(order, use);
      return [material ?? null, colour ?? null];
    }),
  );
}

type PartKey = keyof PartRecord;

/** What two twins have in common. Names of copies differ, and so do the words about what they go with. */
function twinKeys(a: PartRecord, b: PartRecord): PartKey[] {
  const own: ReadonlySet<PartKey> = new Set<PartKey>(['label', 'name', 'order', 'set']);
  const keys = (Object.keys(a) as PartKey[]).filter((key) => !own.has(key));
  return a.order === b.order && a.name === b.name ? keys : keys.filter((key) => key !== 'next');
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
