/**
 * Changes a YAML text so that it says something else, and leaves every line as it stands that says the
 * same as before: comments, blank lines, the order of keys and the way in which a person has written it.
 *
 * The text is parsed for where each value stands. The values before and after are held against each
 * other, and each difference becomes a change of that stretch of the text alone (`change.ts`).
 */
import { isDeepStrictEqual } from 'node:util';
import type { Document } from 'yaml';
import { parseDocument } from 'yaml';
import { editsOf } from './change.ts';
import type { Values } from './editing.ts';
import { NotInPlace, withEdits } from './source.ts';
import { onLines } from './write.ts';

/** What a file of one kind says, of plain values; null where they are none of that kind. */
type SaysOf = (plain: unknown) => Values | null;

/**
 * A text that says `after`. A key that `saysOf` leaves out before and after is left as it stands, since it
 * says its default; one that is left out only after is taken out. A part that goes from one list to
 * another takes its lines along, and the comment beside it.
 *
 * If a value cannot be changed in place, each key of the whole that says something else is written anew. So
 * it is if the change would reach further than it should: what an alias repeats changes with its anchor.
 * Throws a RangeError if the text is no such file.
 */
export function changedYaml(text: string, after: Values, saysOf: SaysOf): string {
  const whole = text.endsWith('\n') ? text : `${text}\n`;
  const document = parseDocument(whole);
  const before = saysOf(document.toJS());
  if (before === null) throw new RangeError('the text is not a file of this kind');
  const edited = editedInPlace(whole, document, before, after);
  // Looked at once more: what is written over a person's file says what it is to say.
  if (edited !== null && isDeepStrictEqual(saysOf(plainOf(edited)), after)) return edited;
  const changed = Object.keys(after).filter((key) => !isDeepStrictEqual(after[key], before[key]));
  const anew = rewritten(parseDocument(whole), before, after, changed);
  if (isDeepStrictEqual(saysOf(plainOf(anew)), after)) return anew;
  // An anchor was written over that an alias elsewhere still names: nothing is left to chance.
  return rewritten(parseDocument(whole), before, after, Object.keys(after));
}

function plainOf(text: string): unknown {
  const document = parseDocument(text);
  return document.errors.length > 0 ? null : document.toJS();
}

/** The text with these keys of the whole written anew, and without those that are gone. */
function rewritten(
  document: Document,
  before: Values,
  after: Values,
  keys: readonly string[],
): string {
  for (const key of Object.keys(before)) if (!(key in after)) document.delete(key);
  for (const key of keys) document.set(key, onLines(document.createNode(after[key])));
  return withoutStrayAliases(document);
}

/** The document as text. Empty if an alias in it names an anchor that is not there any more. */
function withoutStrayAliases(document: Document): string {
  try {
    return document.toString({ lineWidth: 0 });
  } catch (error) {
    if (error instanceof Error && error.message.startsWith('Unresolved alias')) return '';
    throw error;
  }
}

function editedInPlace(
  text: string,
  document: Document,
  before: Values,
  after: Values,
): string | null {
  if (document.errors.length > 0) return null;
  try {
    return withEdits(text, editsOf(text, document.contents, before, after));
  } catch (error) {
    if (error instanceof NotInPlace) return null;
    throw error;
  }
}
