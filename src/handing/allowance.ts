import type { Place } from '../findings.ts';
import { refuse } from '../findings.ts';
import { placeInPath } from '../geometry/contains.ts';
import { selfCrossings } from '../geometry/crossings.ts';
import { isCounterClockwise } from '../geometry/area.ts';
import { offsetPath } from '../geometry/offset.ts';
import type { Path } from '../geometry/path.ts';
import { pathOf, segmentsOf } from '../geometry/path.ts';
import type { Material } from '../pattern/material.ts';
import type { Stretch } from '../pattern/edges.ts';

/**
 * The contour to cut: each stretch of the net outline moved out by what its kind is allowed in this
 * material. Refuses where an allowance is too large for the shape of the outline.
 */
export function cutContour(
  net: Path,
  stretches: readonly Stretch[],
  { allowances, mitreLimit }: Material,
  where: Place,
): Path {
  if (stretches.every(({ kind }) => allowances[kind] === 0)) return net;
  const segments = stretches.flatMap(({ path }) => segmentsOf(path));
  const amounts = stretches.flatMap(({ kind, path }) =>
    segmentsOf(path).map(() => allowances[kind]),
  );
  const todo = 'Ease the outline there, or lower the allowance in the material file.';
  return soundOffset(
    pathOf(segments, true),
    amounts,
    mitreLimit,
    'the allowance does not fit the outline',
    todo,
    where,
  );
}

/** The net outline drawn in by `inset` mm all round, for a board or an underlay. Refuses where it does not fit. */
export function insetContour(
  net: Path,
  inset: number,
  { mitreLimit }: Material,
  where: Place,
): Path {
  if (inset === 0) return net;
  const amounts = net.vertices.map(() => -inset);
  const todo = 'Choose a smaller inset in the set file.';
  return soundOffset(
    net,
    amounts,
    mitreLimit,
    `an inset of ${inset} mm does not fit the outline`,
    todo,
    where,
  );
}

function soundOffset(
  path: Path,
  amounts: readonly number[],
  mitreLimit: number,
  message: string,
  todo: string,
  where: Place,
): Path {
  let result: Path;
  try {
    result = offsetPath(path, amounts, mitreLimit);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return refuse('allowance', `${message}: ${error.message}.`, todo, where);
  }
  const crossing = selfCrossings(result)[0];
  if (crossing !== undefined) {
    refuse('allowance', `${message}: the new contour crosses itself.`, todo, {
      ...where,
      at: crossing,
    });
  }
  const outer = amounts.some((amount) => amount > 0) ? result : path;
  const inner = outer === result ? path : result;
  const lost = inner.vertices.find((vertex) => placeInPath(outer, vertex) === 'outside');
  if (lost !== undefined || !isCounterClockwise(result)) {
    refuse('allowance', `${message}: the contours cross.`, todo, {
      ...where,
      at: lost ?? path.vertices[0]!,
    });
  }
  return result;
}
