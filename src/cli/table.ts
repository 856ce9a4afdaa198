/** A header and rows as lines of text with aligned columns. */
export function tableLines({
  header,
  rows,
}: {
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
}): string[] {
  const all = [header, ...rows];
  const widths = header.map((_, column) => Math.max(...all.map((row) => row[column]!.length)));
  return all.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column]!))
      .join('  ')
      .trimEnd(),
  );
}
