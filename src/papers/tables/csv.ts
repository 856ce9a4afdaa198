/** A number is written as it is. A text is guarded, so that no spreadsheet takes it for a formula. */
export type CsvValue = string | number;

/**
 * A table as in RFC 4180: commas between fields, quotes round fields that need them, CR LF at line ends.
 * If a text goes beyond ASCII the file begins with a byte order mark, because spreadsheets need it to
 * recognise UTF-8.
 */
export function csvText(rows: readonly (readonly CsvValue[])[]): string {
  const text = rows.map((row) => `${row.map(csvField).join(',')}\r\n`).join('');
  // oxlint-disable-next-line no-control-regex
  return /^[\x00-\x7f]*$/.test(text) ? text : `\uFEFF${text}`;
}

function csvField(cell: CsvValue): string {
  const text = typeof cell === 'number' ? String(cell) : guarded(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Puts an apostrophe before a text that begins like a formula. A dash by itself is harmless. */
function guarded(text: string): string {
  return /^[=+@\t\r]|^-./.test(text) ? `'${text}` : text;
}
