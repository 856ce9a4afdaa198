/**
 * Changes a YAML text so that it says something else, and leaves every line as it stands that says the
 * same as before: comments, blank lines, the order of keys and the way in which a person has written it.
 *
 * The text is parsed for where each value stands. The values before and after are held against each
 * other, and each difference becomes a change of that stretch of the text alone (`change.ts`).
 */
import { isDeepStrictEqual } from 'node:util';
import type { Document } from 'yaml';
import { isAlias, parseDocument, visit } from 'yaml';
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
 * Where a value stands in a way that cannot be changed in place, as behind an anchor, each key of the
 * whole that says something else is written anew. Throws a RangeError where the text is no such file.
 */
export function changedYaml(text: string, after: Values, saysOf: SaysOf): string {
  const whole = text.endsWith('\n') ? text : `${text}\n`;
  const document = parseDocument(whole);
  const before = saysOf(document.toJS());
  if (before === null) throw new RangeError('the text is not a file of this kind');
  const edited = editedInPlace(whole, document, before, after);
  // Looked at once more: what is written over a person's file says what it is to say.
  if (edited !== null && isDeepStrictEqual(saysOf(plainOf(edited)), after)) return edited;
  return rewritten(document, before, after);
}

function plainOf(text: string): unknown {
  const document = parseDocument(text);
  return document.errors.length > 0 ? null : document.toJS();
}

function rewritten(document: Document, before: Values, after: Values): string {
  for (const key of Object.keys(before)) if (!(key in after)) document.delete(key);
  for (const [key, value] of Object.entries(after)) {
    if (!isDeepStrictEqual(value, before[key])) {
      document.set(key, onLines(document.createNode(value)));
    }
  }
  return document.toString({ lineWidth: 0 });
}

function editedInPlace(
  text: string,
  document: Document,
  before: Values,
  after: Values,
): string | null {
  if (document.errors.length > 0 || isUnusual(document)) return null;
  try {
    return withEdits(text, editsOf(text, document.contents, before, after));
  } catch (error) {
    if (error instanceof NotInPlace) return null;
    throw error;
  }
}

/** Whether it has anchors, aliases or tags: a value of it is then not alone in saying what it says. */
function isUnusual(document: Document): boolean {
  let found = false;
  visit(document, {
    Node: (_, node) => {
      if (!isAlias(node) && node.anchor === undefined && node.tag === undefined) return undefined;
      found = true;
      return visit.BREAK;
    },
  });
  return found;
}
