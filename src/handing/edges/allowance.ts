import type { Place } from '../../base/findings.ts';
import { refuse } from '../../base/findings.ts';
import { selfCrossings } from '../../geometry/relations/crossings.ts';
import { isCounterClockwise } from '../../geometry/paths/area.ts';
import { vertexOutside } from '../../geometry/relations/inside.ts';
import { measurePath } from '../../geometry/measuring/measured-path.ts';
import { NoOffset } from '../../geometry/offsets/no-offset.ts';
import { offsetPath } from '../../geometry/offsets/offset.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { pathOf, segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import type { Material } from '../../pattern/shop/material.ts';
import type { EdgeStretch } from '../../pattern/edges.ts';

/** A stretch of a net outline. null: nothing says yet what happens to it, and nothing is added to it. */
interface StretchToCut extends Pick<EdgeStretch, 'path'> {
  readonly kind: EdgeStretch['kind'] | null;
}

/**
 * The contour to cut: each stretch of the net outline is moved out by the material's allowance for that
 * kind of edge. The allowance of a turned edge is shaped so that it lies on the back of the part when it
 * is folded. Throws a Refusal if an allowance is too large for the shape of the outline.
 */
export function cutContour(
  net: Path,
  stretches: readonly StretchToCut[],
  { allowances, mitreLimit }: Material,
  where: Place,
): Path {
  const added = (kind: StretchToCut['kind']): number => (kind === null ? 0 : allowances[kind]);
  if (stretches.every(({ kind }) => added(kind) === 0)) return net;
  const cut = stretches.flatMap(({ kind, path }) =>
    segmentsOf(path).map((segment) => ({ segment, kind })),
  );
  const todo = 'Ease the outline there, or lower the allowance in the material file.';
  return soundOffset(
    pathOf(
      cut.map(({ segment }) => segment),
      true,
    ),
    cut.map(({ kind }) => added(kind)),
    cut.map(({ kind }) => kind === 'turned'),
    mitreLimit,
    'the allowance does not fit the outline',
    todo,
    where,
  );
}

/**
 * The net outline made smaller by `inset` mm all round, for a board or an underlay. Throws a Refusal if
 * that does not fit.
 */
export function insetContour(
  net: Path,
  inset: number,
  { mitreLimit }: Material,
  where: Place,
): Path {
  if (inset === 0) return net;
  const todo = 'Choose a smaller inset in the set file.';
  return soundOffset(
    net,
    net.vertices.map(() => -inset),
    [],
    mitreLimit,
    `an inset of ${inset} mm does not fit the outline`,
    todo,
    where,
  );
}

/**
 * Moves each segment of a path outwards by its amount. Throws a Refusal if the result crosses itself or
 * the path, or is turned inside out.
 */
function soundOffset(
  path: Path,
  amounts: readonly number[],
  folded: readonly boolean[],
  mitreLimit: number,
  message: string,
  todo: string,
  where: Place,
): Path {
  const misfit = (words: string, at: Point | null): never =>
    refuse('allowance', `${message}: ${words}.`, todo, {
      ...where,
      ...(at === null ? {} : { at: { x: at.x, y: at.y } }),
    });
  let result: Path;
  try {
    result = offsetPath(path, amounts, mitreLimit, folded);
  } catch (error) {
    if (!(error instanceof NoOffset)) throw error;
    return misfit(error.message, error.at);
  }
  const measured = measurePath(result);
  const crossing = selfCrossings(result, measured)[0];
  if (crossing !== undefined) misfit('the new contour crosses itself', crossing);
  const isLarger = amounts.some((amount) => amount > 0);
  const lost = isLarger ? vertexOutside(measured, path) : vertexOutside(measurePath(path), result);
  if (lost !== null || !isCounterClockwise(result)) {
    misfit('the contours cross', lost ?? path.vertices[0]!);
  }
  return result;
}
