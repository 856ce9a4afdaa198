import { readFileSync } from 'node:fs';
import { isMap, isScalar, LineCounter, parseDocument } from 'yaml';
import type { Document } from 'yaml';
import type { z } from 'zod';
import type { Finding, Place } from './findings.ts';
import { Refusal, refuse } from './findings.ts';
import { wayToProtoKey } from './proto-key.ts';
import { wrongness } from './schema-words.ts';
import { withArticle } from './wording.ts';

/** A YAML file that fits its schema. It knows the places of its values, for later findings. */
export interface YamlFile<T> {
  readonly file: string;
  readonly value: T;
  /**
   * Line and column of the value at a path of keys and indexes. If there is no such value, the place of
   * the nearest one above it.
   */
  placeOf(path: readonly PropertyKey[]): Place;
  /** Whether a value stands in the text at a path of keys and indexes. */
  stands(path: readonly PropertyKey[]): boolean;
}

/**
 * Reads a YAML file and checks it against a zod schema. `what` says what kind of file it is. Throws a
 * Refusal that names, for every value that does not fit, file, line and column, and says what is allowed
 * there.
 */
export function readYaml<T>(file: string, schema: z.ZodType<T>, what: string): YamlFile<T> {
  return readYamlText(readText(file, what), file, schema, what);
}

/** Reads a YAML text as readYaml does; `file` is its name in findings. */
export function readYamlText<T>(
  text: string,
  file: string,
  schema: z.ZodType<T>,
  what: string,
): YamlFile<T> {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines });
  const broken = document.errors[0];
  if (broken !== undefined) {
    const { line, col } = lines.linePos(broken.pos[0]);
    const kind = file.endsWith('.json') ? 'JSON' : 'YAML';
    const todo = `Mend the ${kind} there.`;
    refuse('yaml', firstLine(broken.message), todo, { file, line, column: col });
  }
  const placeOf = (path: readonly PropertyKey[]): Place => placeIn(document, lines, file, path);
  const plain = plainValue(document, file);
  const strange = wayToProtoKey(plain);
  if (strange !== null) {
    refuse('schema', `"${strange.join('.')}" is no name.`, 'Write another.', placeOf(strange));
  }
  const result = schema.safeParse(plain);
  if (!result.success) {
    throw new Refusal(
      result.error.issues.flatMap((issue) => findingsOf(issue, document, placeOf, what)),
    );
  }
  return { file, value: result.data, placeOf, stands: (path) => document.hasIn(path) };
}

/** The document as plain values. Refuses aliases that would unfold without end. */
function plainValue(document: Document, file: string): unknown {
  try {
    return document.toJS();
  } catch (error) {
    if (!(error instanceof ReferenceError)) throw error;
    return refuse('yaml', `${error.message}.`, 'Write it out without aliases.', { file });
  }
}

/**
 * The text of a file. `what` says what kind of file it is. Throws a Refusal if the file cannot be read.
 */
export function readText(file: string, what: string): string {
  return readBytes(file, what).toString('utf8');
}

/**
 * The bytes of a file. `what` says what kind of file it is. Throws a Refusal if the file cannot be read.
 */
export function readBytes(file: string, what: string): Buffer {
  try {
    return readFileSync(file);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    const reason =
      code === 'ENOENT'
        ? `there is no ${what} here.`
        : code === 'EISDIR'
          ? `this is a folder, not ${withArticle(what)}.`
          : code === 'ENOTDIR'
            ? `there is no ${what} here: what should be its folder is a file.`
            : `the ${what} cannot be read (${code}).`;
    return refuse('file', reason, 'Check the name and the rights of the file.', { file });
  }
}

function findingsOf(
  issue: z.core.$ZodIssue,
  document: Document,
  placeOf: (path: readonly PropertyKey[]) => Place,
  what: string,
): Finding[] {
  const error = (path: readonly PropertyKey[], message: string, todo: string): Finding => ({
    severity: 'error',
    rule: 'schema',
    message,
    todo,
    where: placeOf(path),
  });
  const inner = likeliestIssues(issue);
  if (inner.length > 0) return inner.flatMap((one) => findingsOf(one, document, placeOf, what));
  const name = issue.path.length === 0 ? `the ${what}` : `"${issue.path.map(String).join('.')}"`;
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) =>
      error(
        [...issue.path, key],
        `"${key}" is not a key of ${name}.`,
        'Check the spelling or remove it.',
      ),
    );
  }
  if (issue.path.length > 0 && document.getIn(issue.path) === undefined) {
    return [error(issue.path, `${name} is missing.`, `Add it to the ${what}.`)];
  }
  return [error(issue.path, `${name} ${wrongness(issue)}.`, 'Write an allowed value.')];
}

/**
 * The issues of a value that may be one of several kinds, as if it were meant to be the first kind whose
 * type it has. Otherwise the only finding would be that no kind fits. Empty for any other value.
 */
export function likeliestIssues(issue: z.core.$ZodIssue): z.core.$ZodIssue[] {
  if (issue.code !== 'invalid_union') return [];
  const asKind = issue.errors.find((errors) =>
    errors.every(({ code, path }) => code !== 'invalid_type' || path.length > 0),
  );
  return (asKind ?? []).map((one) => ({ ...one, path: [...issue.path, ...one.path] }));
}

function placeIn(
  document: Document,
  lines: LineCounter,
  file: string,
  path: readonly PropertyKey[],
): Place {
  for (let depth = path.length; depth >= 0; depth--) {
    const offset = offsetOf(document, path.slice(0, depth));
    if (offset !== undefined) {
      const { line, col } = lines.linePos(offset);
      return { file, line, column: col };
    }
  }
  return { file };
}

/**
 * Where a key stands in the text, counted in characters. If the path ends in no key, where its value
 * stands.
 */
function offsetOf(document: Document, path: readonly PropertyKey[]): number | undefined {
  const parent = path.length === 0 ? undefined : document.getIn(path.slice(0, -1), true);
  if (isMap(parent)) {
    const pair = parent.items.find((item) => isScalar(item.key) && item.key.value === path.at(-1));
    if (pair !== undefined && isScalar(pair.key)) return pair.key.range?.[0];
  }
  const node = document.getIn(path, true) as { range?: [number, number, number] } | undefined;
  return node?.range?.[0];
}

function firstLine(text: string): string {
  return text.split('\n')[0]!.replace(/ at line \d+, column \d+:?$/, '.');
}
