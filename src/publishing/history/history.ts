import { appendFileSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { onDisk } from '../disk.ts';
import type { TextChange } from './text-change.ts';
import { backOf, changeOfText, withTextChange } from './text-change.ts';

/** Texts by the names of their files. */
type Texts = ReadonlyMap<string, string>;

/** One step: what was done, in words, and what became of each file. */
export interface Step {
  readonly words: string;
  readonly files: Readonly<Record<string, TextChange>>;
}

/** A line of the file: the texts at the beginning, a step, or that the last one was undone or done again. */
type Line =
  | { readonly begun: Readonly<Record<string, string>> }
  | { readonly did: Step }
  | { readonly undid: true }
  | { readonly redid: true };

/** The steps that were taken, and the texts of the files as they were after the last. */
export interface History {
  /** null: nothing was kept yet. */
  readonly texts: Texts | null;
  /** The steps that can be undone, the last one last. */
  readonly done: readonly Step[];
  /** The steps that were undone, the one to be done again last. */
  readonly undone: readonly Step[];
  /** What was done to the files last: a step, or one taken back. */
  readonly last: Step | null;
}

const noHistory: History = { texts: null, done: [], undone: [], last: null };

/** The file in a folder in which steps are kept. */
export function historyFile(folder: string): string {
  return join(folder, 'steps.jsonl');
}

/** Reads the steps that were kept in a folder. */
export function readHistory(folder: string): History {
  const file = historyFile(folder);
  if (!existsSync(file)) return noHistory;
  return readFileSync(file, 'utf8').split('\n').flatMap(lineOf).reduce(afterLine, noHistory);
}

/** A line as data; one that was cut off while it was written is none. */
function lineOf(text: string): Line[] {
  try {
    return text === '' ? [] : [JSON.parse(text) as Line];
  } catch {
    return [];
  }
}

/** The history after a line. One that does not fit the texts is where the story begins anew. */
function afterLine(history: History, line: Line): History {
  if ('begun' in line) return { ...noHistory, texts: new Map(Object.entries(line.begun)) };
  const { texts, done, undone } = history;
  if ('did' in line) {
    const after = withStep(texts, line.did);
    if (after === null) return noHistory;
    return { texts: after, done: [...done, line.did], undone: [], last: line.did };
  }
  const [from, to] = 'undid' in line ? [done, undone] : [undone, done];
  const step = from.at(-1);
  if (step === undefined) return noHistory;
  const last = 'undid' in line ? backOfStep(step) : step;
  const after = withStep(texts, last);
  if (after === null) return noHistory;
  const [left, more] = [from.slice(0, -1), [...to, step]];
  const lists = 'undid' in line ? { done: left, undone: more } : { done: more, undone: left };
  return { texts: after, last, ...lists };
}

/** The texts after a step; null where it was made for others. */
export function withStep(texts: Texts | null, { files }: Step): Texts | null {
  const after = new Map(texts);
  for (const [name, change] of Object.entries(files)) {
    const text = withTextChange(after.get(name) ?? null, change);
    if (text === undefined) return null;
    if (text === null) after.delete(name);
    else after.set(name, text);
  }
  return after;
}

/** The step that takes another back. */
export function backOfStep({ words, files }: Step): Step {
  const back = Object.entries(files).map(([name, change]) => [name, backOf(change)] as const);
  return { words, files: Object.fromEntries(back) };
}

/** The step that turns some texts into others; null where nothing differs. */
export function stepOf(words: string, before: Texts, after: Texts): Step | null {
  const names = [...new Set([...before.keys(), ...after.keys()])];
  const files = names
    .filter((name) => before.get(name) !== after.get(name))
    .map((name) => [name, changeOfText(before.get(name) ?? null, after.get(name) ?? null)]);
  return files.length === 0 ? null : { words, files: Object.fromEntries(files) };
}

/** The words for what another program did to the files. */
export const outsideWords = 'changed outside of this page';

/**
 * The history with what was done to the files elsewhere since the last step as a step of its own. `now`: the texts as
 * they stand. Where nothing was kept yet, the story begins with `first`. Throws a Refusal where that cannot be
 * written down.
 */
export function broughtUp(folder: string, history: History, now: Texts, first = now): History {
  const known =
    history.texts === null
      ? kept(folder, noHistory, { begun: Object.fromEntries(first) })
      : history;
  const step = stepOf(outsideWords, known.texts!, now);
  return step === null ? known : didStep(folder, known, step);
}

/** Writes a step down. Throws a Refusal where that fails. */
export function didStep(folder: string, history: History, step: Step): History {
  return kept(folder, history, { did: step });
}

/** Writes down that the last step was undone. Throws a Refusal where that fails. */
export function undidStep(folder: string, history: History): History {
  return kept(folder, history, { undid: true });
}

/** Writes down that the step undone last was done again. Throws a Refusal where that fails. */
export function redidStep(folder: string, history: History): History {
  return kept(folder, history, { redid: true });
}

function kept(folder: string, history: History, line: Line): History {
  const file = historyFile(folder);
  onDisk(file, 'Mend that: no step is taken that cannot be kept.', () => {
    mkdirSync(dirname(file), { recursive: true });
    // A line that was cut off before is ended first.
    appendFileSync(file, `\n${JSON.stringify(line)}\n`);
  });
  return afterLine(history, line);
}
