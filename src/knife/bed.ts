import type { Finding, Place } from '../base/findings.ts';
import type { Box } from '../geometry/paths/box.ts';
import { heightOf, widthOf } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import { rotation, transformPath } from '../geometry/paths/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Turns } from '../pattern/words.ts';
import { triedRotations } from '../lay/lay.ts';
import { decimal } from '../base/numbers.ts';
import type { Cutter } from './cutter.ts';

/**
 * Errors for a bed that is smaller than a part in every turn in which the part may lie: across the roll,
 * and, if the cutter does not cut long parts in passes, along it. `turnsOf` says how a material may be
 * turned, `placeOf` at which place of the profile a value stands.
 */
export function bedFindings(
  parts: readonly Part[],
  turnsOf: (material: string) => Turns,
  { name, bed }: Cutter,
  placeOf: (path: readonly string[]) => Place,
): Finding[] {
  const boxes = parts.map((part) => ({
    label: part.label,
    boxes: triedRotations(part, turnsOf(part.material)).map((deg) =>
      boxOfPath(transformPath(rotation(deg), part.cut)),
    ),
  }));
  const tooSmall = (key: 'width' | 'length', sizeOf: (box: Box) => number): Finding[] => {
    const sized = boxes.map(({ label, boxes: turned }) => ({
      label,
      size: Math.min(...turned.map(sizeOf)),
    }));
    const [largest] = sized.toSorted((a, b) => b.size - a.size);
    if (largest === undefined || largest.size <= bed[key] + samePoint) return [];
    const way = key === 'width' ? 'across' : 'along';
    return [
      {
        severity: 'error',
        rule: 'bed-too-small',
        message: `the bed of ${name} is ${decimal(bed[key], 2)} mm ${way} the roll; part ${largest.label} takes ${decimal(largest.size, 2)} mm of it, turned as it may be.`,
        todo: `For these parts bed.${key} must be at least ${decimal(largest.size, 2)}: choose a larger cutter${key === 'length' ? ', set bed.joinOverlap to have it cut in passes' : ''}, or make the piece of two.`,
        where: placeOf(['bed', key]),
      },
    ];
  };
  return [
    ...tooSmall('width', heightOf),
    ...(bed.joinOverlap === undefined ? tooSmall('length', widthOf) : []),
  ];
}
