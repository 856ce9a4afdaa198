/** Rows under a header as lines, columns aligned. */
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
