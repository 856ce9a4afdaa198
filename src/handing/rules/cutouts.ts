import type { Finding } from '../../base/findings.ts';
import { rememberedForBoth } from '../../base/remembered.ts';
import { heightOf, widthOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { closeness } from '../../geometry/relations/closeness.ts';
import { crossingsWith } from '../../geometry/relations/crossings.ts';
import { placeInArea } from '../../geometry/relations/measured-area.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath } from '../../geometry/measuring/measured-path.ts';
import { meetingPlace } from '../../geometry/relations/meeting.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { Material, Materials } from '../../pattern/shop/material.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import { partError } from '../findings.ts';
import type { InnerContour, Part } from '../part.ts';

/**
 * Rule: cutouts and holes lie inside their part and apart from each other, because otherwise two cuts
 * would become one. They keep the material's bridge from every other cut. Holes are large enough to be
 * made. Remembered, because "check" looks at the same part under many choices, and this takes long.
 */
export const checkCutouts = rememberedForBoth(cutoutFindings);

function cutoutFindings(part: Part, materials: Materials): readonly Finding[] {
  if (part.inner.length === 0) return [];
  const material = materialOf(materials, part.material);
  const net = measurePath(part.net);
  const cut = part.cut === part.net ? net : measurePath(part.cut);
  const inner = part.inner.map(({ path }) => measurePath(path));
  return part.inner.flatMap((one, i) => {
    const outside = escape(net, one.path);
    if (outside !== null) return [escapes(part, one, outside)];
    const others = part.inner.slice(i + 1);
    return [
      ...checkOverlaps(part, one, others),
      ...checkBridge(part, one, cut, 'the edge', material),
      ...others.flatMap(({ role }, k) =>
        checkBridge(part, one, inner[i + 1 + k]!, `a ${role}`, material),
      ),
      ...checkPunch(part, one, material),
    ];
  });
}

/** A point of the inner path that is not inside the outer one; null if there is none. */
function escape(outer: MeasuredPath, inner: Path): Point | null {
  const crossing = crossingsWith(outer, inner)[0];
  if (crossing !== undefined) return crossing;
  return placeInArea(outer, inner.vertices[0]!) === 'inside' ? null : inner.vertices[0]!;
}

function escapes(part: Part, { role }: InnerContour, at: Point): Finding {
  const message = `a ${role} crosses, touches or lies outside the outline.`;
  const todo = 'Move it inside, or make it part of the outline.';
  return partError(part, { rule: 'cutout-outside', message, todo }, at);
}

function checkOverlaps(
  part: Part,
  { role, path }: InnerContour,
  others: readonly InnerContour[],
): Finding[] {
  return others.flatMap((other) => {
    const at = meetingPlace(path, other.path);
    if (at === null) return [];
    const message = `a ${role} and a ${other.role} overlap.`;
    const wording = { rule: 'cutouts-overlap', message, todo: 'Move one, or draw them as one.' };
    return [partError(part, wording, at)];
  });
}

function checkBridge(
  part: Part,
  { role, path }: InnerContour,
  other: MeasuredPath,
  what: string,
  { bridge, title }: Material,
): Finding[] {
  if (bridge === 0) return [];
  const left = closeness(path, other, bridge - samePoint);
  // Cuts that meet are reported by other findings.
  if (left === null || left.distance === 0) return [];
  const message = `${left.distance.toFixed(1)} mm are left between a ${role} and ${what}; ${title} needs ${bridge} mm.`;
  const todo = 'Move one of the two or make it smaller, or let both run into one cut.';
  return [partError(part, { rule: 'bridge', message, todo }, left.at)];
}

function checkPunch(
  part: Part,
  { role, path }: InnerContour,
  { punch, title }: Material,
): Finding[] {
  if (role !== 'HOLE') return [];
  const box = boxOfPath(path);
  const size = Math.min(widthOf(box), heightOf(box));
  if (size >= punch - samePoint) return [];
  const message = `this HOLE is ${size.toFixed(1)} mm across; the smallest that can be made in ${title} is ${punch} mm.`;
  const todo = 'Draw it larger, or as a point on layer HOLE to be drilled by hand.';
  return [partError(part, { rule: 'hole-small', message, todo }, path.vertices[0])];
}
