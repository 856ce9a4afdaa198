/** A number stands as it is; a text is guarded, so that no spreadsheet takes it for a formula. */
export type CsvValue = string | number;

/**
 * A table as RFC 4180 has it: a comma between, a field in quotes where it needs them, CR LF at line
 * ends. Texts beyond ASCII begin the file with a byte order mark, without which spreadsheets take
 * UTF-8 for something else.
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

/** What begins like a formula gets an apostrophe before it; a dash alone says nothing and means nothing. */
function guarded(text: string): string {
  return /^[=+@\t\r]|^-./.test(text) ? `'${text}` : text;
}
