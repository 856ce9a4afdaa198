import { decimal } from '../../../base/numbers.ts';

/** What a field takes. */
export interface Measure {
  /** Of a number with none behind it. Where it is mm, others may be typed. Left out: there is none. */
  readonly unit?: string;
  /** In the unit, like `max`. */
  readonly min: number;
  readonly max: number;
  /** What the number is, for words like `5 mm is no length of a roll`. */
  readonly what?: string;
  /** Why only whole numbers are taken, like `A set is cut whole`. Left out: others are, too. */
  readonly whole?: string;
}

/** A number in the unit of its field; or why there is none, and what may have been meant. */
export type NumberReading = { readonly value: number } | WrongNumber;

export interface WrongNumber {
  /** A sentence or a question. */
  readonly why: string;
  readonly offers: readonly Offer[];
}

/** What somebody may have meant. */
interface Offer {
  readonly words: string;
  /** What comes of it: that it is out of bounds may be all. */
  readonly reading: NumberReading;
}

/** A number as it was typed: its digits as a plain decimal, and the unit that holds. */
interface Figure {
  readonly digits: string;
  readonly unit: string | undefined;
}

/** How many of the first unit the others are. */
const lengths: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

const otherNames: Readonly<Record<string, string>> = {
  inch: 'in',
  inches: 'in',
  '"': 'in',
  '″': 'in',
  '”': 'in',
};

/** No more digits than this are kept exactly. */
const mostDigits = 15;

/**
 * Reads a number as people write it: with a comma or a point before its decimals, with spaces,
 * apostrophes, points or commas between its thousands, and with a unit behind it. What can be read in two
 * ways is not read but asked about.
 */
export function readNumber(text: string, measure: Measure): NumberReading {
  const typed = text.trim();
  if (typed === '') return refused('A number is missing.');
  if (typed.length > 40) return refused('This is too long for a number.');
  const [, before = '', tail = ''] = /^(.*?)\s*([\p{L}°"″”]*)$/su.exec(typed) ?? [];
  const [, sign = '', body = ''] = /^([-−+]?)\s*(.*)$/s.exec(before) ?? [];
  const found = numbersIn(body);
  if (found.length === 0)
    return refused(`“${typed}” is no number: write digits, like 1900 or 12.5.`);
  if (body.replaceAll(/\D/g, '').length > mostDigits) return refused('It has too many digits.');
  const unit = tail === '' ? measure.unit : unitCalled(tail, measure);
  if (tail !== '' && unit === undefined) return refused(noUnit(tail, measure));
  const minus = sign === '' || sign === '+' ? '' : '-';
  return choose(
    found.map((digits) => ({ digits: minus + digits, unit })),
    measure,
  );
}

/** A number as a field shows it, with at most three decimals, so that it is read as the same again. */
export function shownNumber(value: number | null): string {
  if (value === null) return '';
  const text = decimal(value, 3);
  // Three digits behind a point are asked about; four are not.
  return numbersIn(text.replace('-', '')).length > 1 ? `${text}0` : text;
}

/** A number of a field in words that no end of a line parts: `1 000 000 mm`. */
export function numberWords(value: number, unit?: string): string {
  const [whole, part] = decimal(value, 6).split('.') as [string, string?];
  const grouped = Math.abs(value) >= 1e4 ? whole.replaceAll(/\B(?=(\d{3})+$)/g, '\u202f') : whole;
  const figure = part === undefined ? grouped : `${grouped}.${part}`;
  if (unit === undefined) return figure;
  return unit === '°' ? `${figure}°` : `${figure}\u00a0${unit}`;
}

/**
 * What digits and separators can mean, as plain decimals: two where three digits behind the only point or
 * comma may be thousands or decimals; none where they are no number.
 */
function numbersIn(body: string): string[] {
  if (/^\d+$/.test(body)) return [body];
  const grouped = /^([1-9]\d{0,2}([\s'’ʼ.,])\d{3}(?:\2\d{3})*)(?:(?!\2)[.,](\d+))?$/.exec(body);
  const decimals = /^(\d*)[.,](\d+)$/.exec(body);
  return [
    ...(grouped ? [plain(grouped[1]!.replaceAll(/\D/g, ''), grouped[3])] : []),
    ...(decimals ? [plain(decimals[1]!, decimals[2])] : []),
  ];
}

function plain(whole: string, part: string | undefined): string {
  return part === undefined ? whole : `${whole || '0'}.${part}`;
}

function unitCalled(name: string, measure: Measure): string | undefined {
  const small = name.toLowerCase();
  const unit = otherNames[small] ?? small;
  return unitsOf(measure).includes(unit) ? unit : undefined;
}

function unitsOf({ unit }: Measure): string[] {
  return unit === undefined ? [] : unit in lengths ? Object.keys(lengths) : [unit];
}

/** Whether a number may have one of several units behind it. */
export function takesUnits(measure: Measure): boolean {
  return unitsOf(measure).length > 1;
}

function noUnit(tail: string, measure: Measure): string {
  const units = unitsOf(measure);
  return units.length === 0
    ? `A number stands here alone, without “${tail}”.`
    : `“${tail}” is no unit here: write ${either(units)}.`;
}

/** The number if there is but one; otherwise the question which it is. */
function choose(figures: readonly Figure[], measure: Measure): NumberReading {
  const readings = figures.map((one) => judge(one, measure));
  if (readings.length === 1) return readings[0]!;
  const words = figures.map(figureWords);
  if (!readings.some((one) => 'value' in one)) {
    return refused(`${either(words)}: neither can be. ${bounds(measure)}`);
  }
  return {
    why: `${either(words)}?`,
    offers: readings.map((reading, i) => ({ words: words[i]!, reading })),
  };
}

/** The number of a figure if the field takes it, or why not. */
function judge(figure: Figure, measure: Measure): NumberReading {
  const value = valueOf(figure, measure);
  const { min, max, what, whole } = measure;
  if (whole !== undefined && !Number.isInteger(value)) return notWhole(value, whole, measure);
  if (value >= min && value <= max) return { value };
  const meant = inOtherUnits(figure, measure);
  const words = figureWords(figure);
  const wrong = what === undefined ? `is too ${value < min ? 'small' : 'large'}` : `is no ${what}`;
  return meant.length === 0
    ? refused(`${words} ${wrong}. ${bounds(measure)}`)
    : {
        why: `${words} ${wrong}: did you mean ${either(meant.map((one) => one.words))}?`,
        offers: meant,
      };
}

function notWhole(value: number, why: string, { min, max }: Measure): NumberReading {
  const near = [Math.floor(value), Math.ceil(value)].filter((one) => one >= min && one <= max);
  const offers = near.map((one) => ({ words: String(one), reading: { value: one } }));
  return { why: `${why}: ${either(near.map(String)) || `from ${min} to ${max}`}.`, offers };
}

/** The same figure in mm and in metres, as far as the field takes it: a unit is often left out. */
function inOtherUnits({ digits, unit }: Figure, measure: Measure): Offer[] {
  if (!takesUnits(measure)) return [];
  return ['mm', 'm'].flatMap((other) => {
    const value = valueOf({ digits, unit: other }, measure);
    const fits = other !== unit && value >= measure.min && value <= measure.max;
    return fits ? [{ words: figureWords({ digits, unit: other }), reading: { value } }] : [];
  });
}

/** The figure in the unit of the field. */
function valueOf({ digits, unit = '' }: Figure, measure: Measure): number {
  const factor = (lengths[unit] ?? 1) / (lengths[measure.unit ?? ''] ?? 1);
  // Without the noise of binary fractions, as in 76.19999999999999 for 3 in, and without minus zero.
  return Number((Number(digits) * factor).toPrecision(mostDigits)) + 0;
}

function figureWords({ digits, unit }: Figure): string {
  return numberWords(Number(digits), unit);
}

function bounds({ min, max, unit }: Measure): string {
  return `From ${numberWords(min)} to ${numberWords(max, unit)} is taken here.`;
}

function refused(why: string): NumberReading {
  return { why, offers: [] };
}

function either(words: readonly string[]): string {
  const first = words.slice(0, -1).join(', ');
  return first === '' ? (words[0] ?? '') : `${first} or ${words.at(-1)!}`;
}
