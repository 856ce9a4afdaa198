/**
 * The package has no types of its own. It takes rings of points, the outline first and then the holes.
 * The answer is a point with its distance to the nearest edge.
 */
declare module 'polylabel' {
  export default function polylabel(
    polygon: readonly (readonly (readonly [number, number])[])[],
    precision?: number,
  ): [number, number] & { distance: number };
}
