import type { Box } from '../../geometry/paths/box.ts';
import type { Instance } from './instance.ts';
import type { Nest } from './nest.ts';

/** Places lie on a lattice of a millionth: strips of such widths are laid in the unit that they are given in. */
const usual = { least: 1, most: 1e6 };

/** The factor to another unit in which a strip has a usual width: a power of two, so that no digit is lost. 1 for most strips. */
export function toUsualUnit(width: number): number {
  return width >= usual.least && width <= usual.most ? 1 : 2 ** (10 - Math.round(Math.log2(width)));
}

/** An instance in another unit. */
export function scaledInstance(instance: Instance, factor: number): Instance {
  const all = (values: readonly number[]): number[] => values.map((value) => value * factor);
  const contours = <
    S extends { outline: readonly number[]; holes?: readonly (readonly number[])[] },
  >(
    shape: S,
  ): S => ({
    ...shape,
    outline: all(shape.outline),
    ...(shape.holes && { holes: shape.holes.map(all) }),
  });
  const box = ({ minX, minY, maxX, maxY }: Box): Box => ({
    minX: minX * factor,
    minY: minY * factor,
    maxX: maxX * factor,
    maxY: maxY * factor,
  });
  const place = scaledPlace(factor);
  const { width, kinds, fixed, pinned, taken, start, slack } = instance;
  return {
    width: width * factor,
    kinds: kinds.map((kind) => ({
      ...contours(kind),
      ...(kind.kept && { kept: kind.kept.map(box) }),
    })),
    ...(fixed && { fixed: fixed.map(contours) }),
    ...(pinned && {
      pinned: pinned.map((one) => ({ ...contours(one), places: one.places.map(place) })),
    }),
    ...(taken !== undefined && { taken: taken * factor }),
    ...(start && { start: start.map(place) }),
    ...(slack !== undefined && { slack: slack * factor }),
  };
}

/** A layout in another unit. */
export function scaledNest({ length, placements }: Nest, factor: number): Nest {
  return {
    length: length * factor,
    placements: placements.map(scaledPlace(factor)),
  };
}

function scaledPlace(factor: number) {
  return <P extends { x: number; y: number }>(at: P): P => ({
    ...at,
    x: at.x * factor,
    y: at.y * factor,
  });
}
