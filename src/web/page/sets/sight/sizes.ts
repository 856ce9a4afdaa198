/** Two lengths in mm, and in inches: `1,780 by 640 mm (70.1 by 25.2 in)`. */
export function sizeWords([width, height]: readonly [number, number]): string {
  return `${figure(width, 0)} by ${figure(height, 0)} mm (${figure(width / 25.4, 1)} by ${figure(height / 25.4, 1)} in)`;
}

/** A number with its thousands set apart. */
export function figure(value: number, decimals: number): string {
  return value.toLocaleString('en-GB', {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
  });
}
