import * as fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import type { CsvValue } from '../../../src/papers/tables/csv.ts';
import { csvText } from '../../../src/papers/tables/csv.ts';
import { csvReader, csvTables } from '../python-readers.ts';

const texts = fc.oneof(
  fc
    .string({ unit: 'grapheme', minLength: 1 })
    .map((text) => text.replaceAll(/[\p{Cc}\p{Surrogate}\uFEFF]/gu, '')),
  fc.constantFrom(
    'a,b',
    'a "b" c',
    '"',
    ',',
    'a\nb',
    'a\r\nb',
    '=1+1',
    '+1',
    '@x',
    '-x',
    '-',
    '<b>',
  ),
);
const tables = fc.array(fc.tuple(texts, texts, fc.integer()), { minLength: 1, maxLength: 6 });

/** What a cell means to a person: an apostrophe before a formula says that it is text. */
function meant(cell: CsvValue): string {
  const text = String(cell);
  return typeof cell === 'string' && /^([=+@]|-.)/s.test(text) ? `'${text}` : text;
}

describe('a table as CSV', () => {
  it('has the commas, quotes and line ends of RFC 4180', () => {
    // RFC 4180, section 2, rules 1, 5, 6 and 7.
    expect(
      csvText([
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ]),
    ).toBe('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n');
    expect(csvText([['aaa', 'b\r\nbb', 'ccc']])).toBe('aaa,"b\r\nbb",ccc\r\n');
    expect(csvText([['aaa', 'b"bb', 'ccc']])).toBe('aaa,"b""bb",ccc\r\n');
  });

  it('begins no text with what a spreadsheet takes for a formula, and leaves numbers alone', () => {
    expect(csvText([['=1+1', '+a', '@a', '-a', '-', -3.5, 7]])).toBe(
      "'=1+1,'+a,'@a,'-a,-,-3.5,7\r\n",
    );
    expect(csvText([['\tx']])).toBe("'\tx\r\n");
  });

  it('begins with a byte order mark where it goes beyond ASCII, and only there', () => {
    expect(csvText([['Größe']])).toBe('\uFEFFGröße\r\n');
    expect(csvText([['size']])).toBe('size\r\n');
  });

  it('is the same table to another reader', () => {
    fc.assert(
      fc.property(tables, (rows) => {
        const text = csvText(rows).replace(/^\uFEFF/, '');
        const read = Papa.parse<string[]>(text, { delimiter: ',', newline: '\r\n' }).data;
        expect(read.slice(0, -1)).toEqual(rows.map((row) => row.map(meant)));
      }),
      { numRuns: 300 },
    );
  });

  it.skipIf(csvReader.missing)(`is the same table to Python${csvReader.note}`, () => {
    const some = fc.sample(tables, { numRuns: 60, seed: 5 });
    expect(csvTables(some.map(csvText))).toEqual(
      some.map((rows) => rows.map((row) => row.map(meant))),
    );
  });
});
