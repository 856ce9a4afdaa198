import { CsvError } from 'csv-parse';
import { parse } from 'csv-parse/sync';
import type { Finding, Place } from '../base/findings.ts';
import { errorFinding, Refusal, refuse } from '../base/findings.ts';
import { counted } from '../base/wording.ts';
import { readBytes } from '../base/yaml.ts';

/** A cell of a table: its text without blanks around it, and where it stands. */
export interface CsvCell {
  readonly text: string;
  readonly where: Place;
}

/** A line of a table that says something, with the cells in it that are not empty, by their headings. */
export interface CsvRow {
  readonly cells: ReadonlyMap<string, CsvCell>;
  readonly where: Place;
}

export interface CsvTable {
  /** What the columns are called, with the place of each. */
  readonly headings: ReadonlyMap<string, Place>;
  readonly rows: readonly CsvRow[];
  /** Lines that have too few or too many cells. They are not among the rows. */
  readonly findings: readonly Finding[];
}

/** A record as it is read: its cells, and the number of the line on which each one begins. */
interface Line {
  readonly cells: readonly { readonly text: string; readonly line: number }[];
  readonly line: number;
}

/**
 * Reads a table as RFC 4180 writes it, with its headings in the first line: separated by commas or by
 * semicolons, whichever stand in that line, in UTF-8. A cell in quotes may span lines. Lines without any
 * text are passed over. `what` says what kind of file it is. Throws a Refusal where the file cannot be
 * read, has no headings, or has two that are the same.
 */
export function readCsvTable(file: string, what: string): CsvTable {
  const text = textOf(readBytes(file, what), file);
  const [head, ...lines] = linesOf(text, separatorOf(text, file), file).filter(({ cells }) =>
    cells.some((cell) => cell.text !== ''),
  );
  if (head === undefined) {
    const todo =
      'Write the headings of its columns into the first line, and an order a line below.';
    return refuse('csv', 'this file is empty.', todo, { file });
  }
  const names = headingsOf(head, lines, file);
  const isWhole = ({ cells }: Line): boolean => cells.length === head.cells.length;
  return {
    headings: new Map(
      names.flatMap((name) =>
        name === '' ? [] : [[name, { file, line: head.line, heading: name }]],
      ),
    ),
    rows: lines.filter(isWhole).map((line) => rowOf(line, names, file)),
    findings: lines
      .filter((line) => !isWhole(line))
      .map((line) => wrongCount(line, head.cells.length, file)),
  };
}

/** The text of a file in UTF-8, without a byte order mark. */
function textOf(bytes: Buffer, file: string): string {
  const save = 'Save it as CSV in UTF-8.';
  if (/^(?:\xff\xfe|\xfe\xff)/.test(bytes.toString('latin1', 0, 2))) {
    return refuse('csv', 'this file is written in UTF-16.', save, { file });
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    const whole = bytes.toString('utf8');
    const before = whole.slice(0, whole.indexOf('\uFFFD'));
    return refuse('csv', 'a letter here is not written in UTF-8.', save, {
      file,
      line: 1 + lineEnds(before),
    });
  }
}

function lineEnds(text: string): number {
  return text.match(/\r\n|\r|\n/g)?.length ?? 0;
}

/** What separates the columns; it is taken from the first line that says something. */
function separatorOf(text: string, file: string): string {
  const head = /[^\r\n]*/.exec(text.trimStart())![0];
  if (head.includes('\t')) {
    const message = 'its columns are separated by tabs.';
    refuse('csv', message, 'Separate them by commas or semicolons.', { file, line: 1 });
  }
  return head.includes(';') ? ';' : ',';
}

function linesOf(text: string, delimiter: string, file: string): Line[] {
  const read = (to: number): string[][] =>
    parse(text, {
      delimiter,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      to,
    });
  try {
    return numbered(read(-1));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    if (error.code === 'CSV_QUOTE_NOT_CLOSED') {
      const whole = Number(error['records']);
      const line = 1 + (whole === 0 ? 0 : linesIn(read(whole)));
      const message = 'a quote is opened on this line and never closed.';
      return refuse('csv', message, 'Close it, or write a quote in a text twice.', { file, line });
    }
    const message = 'a quote stands in the middle of a text.';
    const todo = 'Put the whole text in quotes, and write a quote inside it twice.';
    return refuse('csv', message, todo, { file, line: Number(error['lines']) });
  }
}

/** Lines of the file that records take up: those in quotes may span several. */
function linesIn(records: readonly (readonly string[])[]): number {
  return records.reduce((sum, cells) => sum + 1 + lineEnds(cells.join('')), 0);
}

function numbered(records: readonly (readonly string[])[]): Line[] {
  let next = 1;
  return records.map((record) => {
    const line = next;
    let at = line;
    const cells = record.map((written) => {
      const cell = { text: written.trim(), line: at };
      at += lineEnds(written);
      return cell;
    });
    next = at + 1;
    return { cells, line };
  });
}

/** The headings. A column without one is passed over where nothing stands in it. */
function headingsOf({ cells, line }: Line, lines: readonly Line[], file: string): string[] {
  const names = cells.map(({ text }) => text);
  const findings = names.flatMap((name, i): Finding[] => {
    const finding = (message: string, todo: string): Finding[] => [
      errorFinding('csv', message, todo, { file, line }),
    ];
    if (name === '') {
      const isUsed = lines.some((one) => (one.cells[i]?.text ?? '') !== '');
      if (!isUsed) return [];
      return finding(`column ${i + 1} has no heading.`, 'Say what stands in it, or empty it.');
    }
    if (names.indexOf(name) === i) return [];
    return finding(`the column "${name}" is there twice.`, 'Keep one of them.');
  });
  if (findings.length > 0) throw new Refusal(findings);
  return names;
}

function rowOf({ cells, line }: Line, names: readonly string[], file: string): CsvRow {
  const said = names.flatMap((name, i): [string, CsvCell][] => {
    const cell = cells[i]!;
    if (name === '' || cell.text === '') return [];
    return [[name, { text: cell.text, where: { file, line: cell.line, heading: name } }]];
  });
  return { cells: new Map(said), where: { file, line } };
}

function wrongCount({ cells, line }: Line, wanted: number, file: string): Finding {
  const many = cells.length > wanted ? 'too many' : 'too few';
  const message = `this line has ${counted(cells.length, 'cell')}: ${many} for ${counted(wanted, 'column')}.`;
  const todo =
    'Give it a cell for each column; put a text in quotes that has a comma or semicolon in it.';
  return errorFinding('csv', message, todo, { file, line });
}
