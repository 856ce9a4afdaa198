/** The package carries no types: rings of points, the outline first; the answer bears its clearance. */
declare module 'polylabel' {
  export default function polylabel(
    polygon: readonly (readonly (readonly [number, number])[])[],
    precision?: number,
  ): [number, number] & { distance: number };
}
