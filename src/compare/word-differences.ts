import { cutShort } from '../base/wording.ts';
import type { Difference, Fact, Subject } from './difference.ts';
import { difference, theWhole } from './difference.ts';
import { factOwner, factWords, valueWords } from './fact-words.ts';

type Words = Readonly<Record<string, string>>;

/** The facts that differ, one by one. */
export function wordDifferences(
  before: Words,
  after: Words,
  subject: Subject,
  skipped: (key: string) => boolean = () => false,
): Difference[] {
  const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  // Of an order, a material or a roll that is new or gone, that is told, and not each of its facts.
  const alone = keys.filter((key) => isThing(key) && key in before !== key in after);
  const isOfAlone = (key: string): boolean => alone.some((thing) => key.startsWith(`${thing}.`));
  return keys
    .filter((key) => !skipped(key) && before[key] !== after[key] && !isOfAlone(key))
    .map((name) => {
      const [was, is] = [before[name], after[name]];
      const fact = {
        name,
        ...(was === undefined ? {} : { was }),
        ...(is === undefined ? {} : { is }),
      };
      return factDifference(name === 'next' ? otherSteps(fact) : fact, subject);
    });
}

/** Of the steps at the bench those that differ: the others need not be told. */
function otherSteps({ name, was, is }: Fact): Fact {
  if (was === undefined) return { name, ...(is === undefined ? {} : { is }) };
  if (is === undefined) return { name, was };
  const [old, young] = [was, is].map((steps) => steps.split('; '));
  const only = (steps: readonly string[], others: readonly string[]): string =>
    steps.filter((step) => !others.includes(step)).join('; ');
  const [gone, come] = [only(old!, young!), only(young!, old!)];
  // The same steps in another order differ as a whole.
  if (gone === '' && come === '') return { name, was, is };
  return { name, ...(gone === '' ? {} : { was: gone }), ...(come === '' ? {} : { is: come }) };
}

/** Whether a fact is a whole order, material or roll. */
function isThing(name: string): boolean {
  return /^(?:order|material|roll) \S+$/.test(name) && !name.includes('.');
}

/** A fact that differs, in words: `the cutting feed was 18000 mm/min and is 9000 mm/min.` */
export function factDifference(
  fact: Fact,
  subject: Subject,
  more: Partial<Pick<Difference, 'times' | 'at'>> = {},
): Difference {
  const own = subject.label === null ? { ...subject, label: factOwner(fact.name) } : subject;
  return difference('words', own, `${factWords(fact.name)} ${factChange(fact)}.`, {
    fact,
    ...more,
  });
}

/** What has become of a fact, without its name: `was 8 mm and is 9 mm`. */
export function factChange({ name, was, is }: Fact): string {
  if (was === undefined) return is === '' ? 'is new' : `is new: ${valueWords(name, is!)}`;
  if (is === undefined) {
    return was === '' ? 'is gone' : `is gone; it was ${valueWords(name, was)}`;
  }
  return `was ${valueWords(name, was)} and is ${valueWords(name, is)}`;
}

/** So many texts that differ are told one by one; of more, how many there are. */
const mostTexts = 6;

/** The loose texts that only one of two inputs has. Their order does not count. */
export function textDifferences(before: readonly string[], after: readonly string[]): Difference[] {
  const count = new Map<string, number>();
  for (const text of before) count.set(text, (count.get(text) ?? 0) + 1);
  for (const text of after) count.set(text, (count.get(text) ?? 0) - 1);
  const only = (sign: number): string[] =>
    [...count].flatMap(([text, left]) =>
      Array.from({ length: Math.max(0, sign * left) }, () => text),
    );
  const [gone, come] = [only(1), only(-1)];
  const most = Math.max(gone.length, come.length);
  if (most > mostTexts) {
    const first = (texts: readonly string[]): string =>
      texts.length === 0 ? '' : `, the first ${quoted(texts[0]!)}`;
    const message = `${gone.length} texts are gone${first(gone)}, and ${come.length} are new${first(come)}.`;
    return [difference('words', theWhole, message, { times: most })];
  }
  return Array.from({ length: most }, (_, i) => {
    const [was, is] = [gone[i], come[i]];
    const message =
      was === undefined
        ? `text is new: ${quoted(is!)}.`
        : is === undefined
          ? `text is gone: ${quoted(was)}.`
          : `text ${quoted(was)} is now ${quoted(is)}.`;
    return difference('words', theWhole, message);
  });
}

/** A text in quotes. A long one is shortened: the files have the rest. */
function quoted(text: string): string {
  return `"${cutShort(text.replaceAll(/\s+/g, ' '), 90)}"`;
}

/**
 * Flattens a record of any depth to facts: a path of keys like `a.b.c`, and its value. Plain values in a list
 * become one fact; records in a list go by what they are called, never by their place. Keys in `left` are left
 * out at every depth.
 */
export function flatWords(
  value: unknown,
  left: ReadonlySet<string> = new Set(),
  prefix = '',
): Record<string, string> {
  if (typeof value !== 'object' || value === null) {
    return prefix === '' ? {} : { [prefix]: value === null ? 'not said' : String(value) };
  }
  if (Array.isArray(value) && value.every((one) => typeof one !== 'object')) {
    return prefix === '' ? {} : { [prefix]: value.join(', ') || 'none' };
  }
  const entries = Array.isArray(value)
    ? value.map((one: unknown, i): [string, unknown] => [calledIn(one) ?? String(i + 1), one])
    : Object.entries(value).filter(([key]) => !left.has(key));
  return Object.assign(
    {},
    ...entries.map(([key, one]) => flatWords(one, left, prefix === '' ? key : `${prefix}.${key}`)),
  ) as Record<string, string>;
}

/** What a record in a list is called, if it says it. */
function calledIn(one: unknown): string | undefined {
  if (typeof one !== 'object' || one === null) return undefined;
  const record = one as Record<string, unknown>;
  const name = ['name', 'order', 'colour', 'with', 'piece'].map((key) => record[key]);
  return name.find((word): word is string => typeof word === 'string');
}
