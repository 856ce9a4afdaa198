import { existsSync, readFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { refuse } from '../../base/findings.ts';
import { firstAndMore } from '../../base/wording.ts';
import { publishFile } from '../../publishing/publish-file.ts';
import type { History, Step } from '../../publishing/history/history.ts';
import {
  backOfStep,
  broughtUp,
  didStep,
  outsideWords,
  readHistory,
  redidStep,
  stepOf,
  undidStep,
  withStep,
} from '../../publishing/history/history.ts';
import type { Order } from '../../handing/order.ts';
import type { RunContent } from '../../run/run-file.ts';
import type { Workshop } from './workshop.ts';
import { runFileIn } from './workshop.ts';

/** The name of a run file in its own history. */
const own = 'run';

/** Histories by their folders: whoever writes them is this process alone. */
const known = new Map<string, History>();

/** Where the steps of a run are kept: beside its file. */
export function runHistoryIn(shop: Workshop, run: string): string {
  return runFileIn(shop, run).replace(/\.yaml$/, '.history');
}

/** The words of the step that would be undone, and of the one that would be done again; null: none. */
export interface RunSteps {
  readonly undo: string | null;
  readonly redo: string | null;
}

/** What can be undone and done again of a run. What happened to its file elsewhere counts as a step. */
export function runSteps(shop: Workshop, run: string): RunSteps {
  const history = historyOf(shop, run);
  const isChanged = history.texts !== null && history.texts.get(own) !== textNow(shop, run);
  return {
    undo: isChanged ? outsideWords : (history.done.at(-1)?.words ?? null),
    redo: isChanged ? null : (history.undone.at(-1)?.words ?? null),
  };
}

/** Writes down what a run file says now, so that all that is done to it from here can be taken back. */
export function beginRunSteps(shop: Workshop, run: string): void {
  upToDate(shop, run);
}

/**
 * Keeps as one step that a run file is about to become another text. `isLong`: so is all that was written into
 * it since the last step. Gives what takes that back where the file could not be written. Throws a Refusal where
 * the step cannot be written down.
 */
export function keepRunStep(
  shop: Workshop,
  run: string,
  words: string,
  after: string,
  isLong = false,
): () => void {
  const history = isLong ? historyOf(shop, run) : upToDate(shop, run);
  const step = stepOf(words, history.texts ?? new Map(), textsOf(after));
  const folder = runHistoryIn(shop, run);
  if (step === null) return () => {};
  const next = didStep(folder, history, step);
  known.set(folder, next);
  return () => {
    known.set(folder, undidStep(folder, next));
  };
}

/** Takes the last step of a run back: its file is what it was. Throws a Refusal where there is none. */
export function undoRunStep(shop: Workshop, run: string): void {
  const history = upToDate(shop, run);
  const step = history.done.at(-1);
  if (step === undefined) return refuse('run', 'there is nothing to undo.', 'Go on.');
  go(shop, run, undidStep(runHistoryIn(shop, run), history), backOfStep(step));
}

/** Does the step of a run again that was undone last. Throws a Refusal where there is none. */
export function redoRunStep(shop: Workshop, run: string): void {
  const history = upToDate(shop, run);
  const step = history.undone.at(-1);
  if (step === undefined) return refuse('run', 'there is nothing to do again.', 'Go on.');
  go(shop, run, redidStep(runHistoryIn(shop, run), history), step);
}

function go(shop: Workshop, run: string, history: History, step: Step): void {
  const text = withStep(textsOf(textNow(shop, run)), step)?.get(own);
  known.set(runHistoryIn(shop, run), history);
  publishFile(runFileIn(shop, run), text!);
}

function historyOf(shop: Workshop, run: string): History {
  const folder = runHistoryIn(shop, run);
  // Whoever deletes the folder wants the story to begin anew.
  const history = existsSync(folder)
    ? (known.get(folder) ?? readHistory(folder))
    : readHistory(folder);
  known.set(folder, history);
  return history;
}

/** The history, with what was done to the file elsewhere, or by a search that was cut off, as a step of its own. */
function upToDate(shop: Workshop, run: string): History {
  const folder = runHistoryIn(shop, run);
  const history = broughtUp(folder, historyOf(shop, run), textsOf(textNow(shop, run)));
  known.set(folder, history);
  return history;
}

function textNow(shop: Workshop, run: string): string | null {
  const file = runFileIn(shop, run);
  return existsSync(file) ? readFileSync(file, 'utf8') : null;
}

function textsOf(text: string | null): ReadonlyMap<string, string> {
  return new Map(text === null ? [] : [[own, text]]);
}

/** What was done to a run, in a few words: `order 1052 changed`. */
export function wordRunChange(before: RunContent, after: RunContent): string {
  // What lies on the rolls changes with the orders: that need not be said.
  const orders = orderWords(before, after);
  const said = [
    ...orders,
    ...(orders.length === 0 ? rollWords(before, after) : []),
    ...Object.keys({ ...before, ...after })
      .filter((key) => !['orders', 'rolls'].includes(key))
      .filter((key) => !isSame(before[key as keyof RunContent], after[key as keyof RunContent]))
      .map((key) => `${key} changed`),
  ];
  return firstAndMore(said) || 'changed';
}

function orderWords({ orders: before }: RunContent, { orders: after }: RunContent): string[] {
  const find = (all: RunContent['orders'], name: string): Order | undefined =>
    all.find(({ order }) => order === name);
  const added = after.filter(({ order }) => find(before, order) === undefined);
  const gone = before.filter(({ order }) => find(after, order) === undefined);
  const [from, to] = [gone[0], added[0]];
  if (from !== undefined && to !== undefined && before.length === after.length) {
    return [`order ${from.order} called ${to.order}`];
  }
  const changed = after.filter((one) => {
    const was = find(before, one.order);
    return was !== undefined && !isSame(was, one);
  });
  const isMoved = added.length + gone.length + changed.length === 0 && !isSame(before, after);
  return [
    ...added.map(({ order }) => `order ${order} added`),
    ...gone.map(({ order }) => `order ${order} taken out`),
    ...changed.map(({ order, hand }) => {
      const isOtherHand = find(before, order)?.hand !== hand;
      return `order ${order} changed${isOtherHand ? ` to ${hand}` : ''}`;
    }),
    ...(isMoved ? ['orders in another order'] : []),
  ];
}

function rollWords({ rolls: before }: RunContent, { rolls: after }: RunContent): string[] {
  return Object.keys({ ...before, ...after })
    .filter((name) => !isSame(before[name], after[name]))
    .map((name) => `roll of ${name} changed`);
}

function isSame(one: unknown, other: unknown): boolean {
  return isDeepStrictEqual(one, other);
}
