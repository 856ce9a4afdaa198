/** The arithmetic mean. */
export function meanOf(figures: readonly number[]): number {
  return figures.reduce((sum, one) => sum + one, 0) / figures.length;
}

/** The mean with its standard error. */
export function withError(figures: readonly number[]): string {
  const mean = meanOf(figures);
  const squares = figures.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  const error = Math.sqrt(squares / Math.max(1, figures.length - 1) / figures.length);
  const sign = mean < 0 ? '-' : '+';
  return `${sign}${Math.abs(mean).toFixed(2)} +- ${error.toFixed(2)}`;
}
