import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Measure, NumberReading } from '../../../../src/web/page/controls/read-number.ts';
import { readNumber, shownNumber } from '../../../../src/web/page/controls/read-number.ts';
import { tries } from '../../../support/thorough.ts';

const rollLength: Measure = { unit: 'mm', min: 100, max: 1e6, what: 'length of a roll' };
const anyLength: Measure = { unit: 'mm', min: -1e6, max: 1e6 };
const sets: Measure = { min: 1, max: 500, whole: 'A set is cut whole' };
const turn: Measure = { unit: '°', min: -360, max: 360 };

/** Words with plain spaces in place of those that no end of a line parts. */
const plain = (words: string): string => words.replaceAll(/[\u00a0\u202f]/g, ' ');
const whyOf = (reading: NumberReading): string => ('why' in reading ? plain(reading.why) : '');
const offersOf = (reading: NumberReading): [words: string, value: number | string][] =>
  'why' in reading
    ? reading.offers.map((one) => [
        plain(one.words),
        'value' in one.reading ? one.reading.value : plain(one.reading.why),
      ])
    : [];

// How decimals and thousands are written: ISO 80000-1, 7.3.1 and 7.3.2, and what people write beside it.
// An inch is 25.4 mm: ISO 80000-3.
describe('readNumber', () => {
  it.each([
    ['12.5', 12.5],
    ['12,5', 12.5],
    [' 1900 ', 1900],
    ['1900mm', 1900],
    ['190 cm', 1900],
    ['12,5 m', 12_500],
    ['12.5 m', 12_500],
    ['12.5 M', 12_500],
    ['3 in', 76.2],
    ['3"', 76.2],
    ['3″', 76.2],
    ['0.5 inch', 12.7],
    ['1 900', 1900],
    ['1\u2009900', 1900],
    ['1\u202f900', 1900],
    ['1\u00a0900', 1900],
    ['1’900', 1900],
    ["1'900,5", 1900.5],
    ['1 000 000', 1e6],
    ['1.234,5', 1234.5],
    ['1,234.5', 1234.5],
    ['1,234.567', 1234.567],
    ['123.456.0', null],
    ['123.456', null],
    ['123,456.789', 123_456.789],
    ['123.456,0', 123_456],
    ['100,000,000', null],
    ['1.000.000', 1e6],
    ['1234.567', 1234.567],
    ['0.125', 0.125],
    ['0,125', 0.125],
    ['.125', 0.125],
    [',5', 0.5],
    ['-5', -5],
    ['−5', -5],
    ['+5', 5],
    ['- 5', -5],
    ['1,9000', 1.9],
    ['-0', 0],
    ['007', 7],
  ])('%j in mm is %j', (text, mm) => {
    const reading = readNumber(text, anyLength);
    expect('value' in reading ? reading.value : null).toBe(mm);
  });

  it.each([
    ['', 'A number is missing.'],
    ['   ', 'A number is missing.'],
    ['12 km', '“km” is no unit here: write mm, cm, m or in.'],
    ['5 °', '“°” is no unit here: write mm, cm, m or in.'],
    ['5 constructor', '“constructor” is no unit here: write mm, cm, m or in.'],
    ['1'.repeat(16), 'It has too many digits.'],
    ['1'.repeat(41), 'This is too long for a number.'],
  ])('%j is refused in words', (text, why) => {
    const reading = readNumber(text, anyLength);
    expect(whyOf(reading)).toBe(why);
    expect(offersOf(reading)).toEqual([]);
  });

  it.each([
    'twelve',
    '1e3',
    '0x10',
    '--5',
    '+-5',
    '5-',
    '5.',
    '.',
    'mm',
    '1,90,000',
    '1 90',
    '1 900’000',
    '0 900',
    '1.234.567.8',
    '3 1/2 in',
    '12 m 5',
    'NaN',
    'Infinity',
  ])('%j is refused with what to write', (text) => {
    const reading = readNumber(text, anyLength);
    expect(whyOf(reading)).toBe(`“${text}” is no number: write digits, like 1900 or 12.5.`);
    expect(offersOf(reading)).toEqual([]);
  });

  it('asks which of two numbers three digits behind the only separator are', () => {
    for (const text of ['1,900', '1.900', '1,900mm']) {
      const reading = readNumber(text, anyLength);
      expect(whyOf(reading)).toBe('1900 mm or 1.9 mm?');
      expect(offersOf(reading)).toEqual([
        ['1900 mm', 1900],
        ['1.9 mm', 1.9],
      ]);
    }
    expect(whyOf(readNumber('-1,900 cm', anyLength))).toBe('-1900 cm or -1.9 cm?');
  });

  it('asks even where only one of the two is in bounds, and says why the other is not', () => {
    const reading = readNumber('1.900', rollLength);
    expect(whyOf(reading)).toBe('1900 mm or 1.9 mm?');
    expect(offersOf(reading)).toEqual([
      ['1900 mm', 1900],
      ['1.9 mm', '1.9 mm is no length of a roll: did you mean 1.9 m?'],
    ]);
  });

  it('says so where neither of the two is in bounds', () => {
    const why = '9500 mm or 9.5 mm: neither can be. From 100 to 6000 mm is taken here.';
    const reading = readNumber('9.500', { unit: 'mm', min: 100, max: 6000 });
    expect(whyOf(reading)).toBe(why);
    expect(offersOf(reading)).toEqual([]);
  });

  it.each([
    ['12,5', '12.5 mm is no length of a roll: did you mean 12.5 m?', [['12.5 m', 12_500]]],
    ['12', '12 mm is no length of a roll: did you mean 12 m?', [['12 m', 12_000]]],
    ['12 cm', null, []],
    ['9 cm', '9 cm is no length of a roll: did you mean 9 m?', [['9 m', 9000]]],
    [
      '12500 m',
      '12 500 m is no length of a roll: did you mean 12 500 mm?',
      [['12 500 mm', 12_500]],
    ],
    ['-5', '-5 mm is no length of a roll. From 100 to 1 000 000 mm is taken here.', []],
  ])('%j as the length of a roll: %j', (text, why, offers) => {
    const reading = readNumber(text, rollLength);
    expect(whyOf(reading)).toBe(why ?? '');
    expect(offersOf(reading)).toEqual(offers);
  });

  it.each([
    ['1.5', 'A set is cut whole: 1 or 2.', ['1', '2']],
    ['0,5', 'A set is cut whole: 1.', ['1']],
    ['700.5', 'A set is cut whole: from 1 to 500.', []],
    ['0', '0 is too small. From 1 to 500 is taken here.', []],
    ['501', '501 is too large. From 1 to 500 is taken here.', []],
    ['2 m', 'A number stands here alone, without “m”.', []],
    ['2,000', '2000 or 2?', ['2000', '2']],
  ])('%j sets: %j', (text, why, offers) => {
    const reading = readNumber(text, sets);
    expect(whyOf(reading)).toBe(why);
    expect(offersOf(reading).map(([words]) => words)).toEqual(offers);
  });

  it('takes whole numbers as they are', () => {
    expect(readNumber('2', sets)).toEqual({ value: 2 });
    expect(readNumber('2.0', sets)).toEqual({ value: 2 });
  });

  it('reads degrees with their sign and with no other unit', () => {
    expect(readNumber('45°', turn)).toEqual({ value: 45 });
    expect(whyOf(readNumber('45 mm', turn))).toBe('“mm” is no unit here: write °.');
    expect(whyOf(readNumber('400', turn))).toBe(
      '400° is too large. From -360 to 360° is taken here.',
    );
  });
});

const units = fc.constantFrom(
  ['', 1],
  ['mm', 1],
  ['cm', 10],
  ['m', 1000],
  ['in', 25.4],
  ['"', 25.4],
);

/** A number and one of the ways to write it, with the separators that a person may choose. */
const written = fc
  .record({
    sign: fc.constantFrom('', '-', '−', '+'),
    whole: fc.nat({ max: 99_999_999 }),
    part: fc.stringMatching(/^\d{0,6}$/),
    thousands: fc.constantFrom('', ' ', '\u00a0', '\u2009', '\u202f', "'", '’', '.', ','),
    point: fc.constantFrom('.', ','),
    gap: fc.constantFrom('', ' ', '\u2009'),
    unit: units,
  })
  // Nobody writes one sign for both.
  .filter(({ thousands, point, part, whole }) => thousands !== point || part === '' || whole < 1000)
  .map(({ sign, whole, part, thousands, point, gap, unit: [name, factor] }) => {
    const grouped = String(whole).replaceAll(/\B(?=(\d{3})+$)/g, thousands);
    const digits = part === '' ? grouped : `${grouped}${point}${part}`;
    const size = Number(`${whole}.${part}`) * Number(factor);
    return {
      text: `${sign}${digits}${gap}${String(name)}`,
      meant: sign === '-' || sign === '−' ? -size : size,
    };
  });

describe('what is written in any of these ways', () => {
  const everything: Measure = { unit: 'mm', min: -1e12, max: 1e12 };
  const isNear = (value: number, meant: number): boolean =>
    Math.abs(value - meant) <= 1e-12 * Math.abs(meant);

  it('is read as what is meant or asked about, never as another number', () => {
    fc.assert(
      fc.property(written, ({ text, meant }) => {
        const reading = readNumber(text, everything);
        const values =
          'value' in reading ? [reading.value] : offersOf(reading).map(([, one]) => one);
        expect(values.some((one) => typeof one === 'number' && isNear(one, meant))).toBe(true);
        expect(values.length).toBeLessThanOrEqual(2);
      }),
      { numRuns: tries(2000, 100_000) },
    );
  });

  it('is one and the same where a field shows it again', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e9, max: 1e9 }), (thousandths) => {
        const value = thousandths / 1000;
        expect(readNumber(shownNumber(value), everything)).toEqual({ value: value + 0 });
      }),
      { numRuns: tries(2000, 100_000) },
    );
  });

  it('is a number in bounds, a sentence or a question, whatever is written', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.string({ unit: 'grapheme' }), fc.stringMatching(/^[-\d.,' e]*m?$/)),
        (text) => {
          const reading = readNumber(text, rollLength);
          if ('value' in reading) {
            expect(reading.value).toBeGreaterThanOrEqual(rollLength.min);
            expect(reading.value).toBeLessThanOrEqual(rollLength.max);
          } else expect(reading.why).toMatch(/[.?]$/);
        },
      ),
      { numRuns: tries(2000, 100_000) },
    );
  });
});
