/**
 * What became of a text: from the character `at`, `out` was taken away and `put` put in its place. Where there
 * was no file before or after, all of it.
 */
export type TextChange =
  | { readonly at: number; readonly out: string; readonly put: string }
  | { readonly from: string | null; readonly to: string | null };

/** What turns one text into another. null: there is no such file. */
export function changeOfText(before: string | null, after: string | null): TextChange {
  if (before === null || after === null) return { from: before, to: after };
  const most = Math.min(before.length, after.length);
  let head = 0;
  while (head < most && before[head] === after[head]) head++;
  let tail = 0;
  while (tail < most - head && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  return {
    at: head,
    out: before.slice(head, before.length - tail),
    put: after.slice(head, after.length - tail),
  };
}

/** The text after a change, or null where it is not the one that the change was made for. */
export function withTextChange(text: string | null, change: TextChange): string | null | undefined {
  if ('from' in change) return text === change.from ? change.to : undefined;
  const { at, out, put } = change;
  if (text === null || text.slice(at, at + out.length) !== out) return undefined;
  return text.slice(0, at) + put + text.slice(at + out.length);
}

/** The change that takes another back. */
export function backOf(change: TextChange): TextChange {
  if ('from' in change) return { from: change.to, to: change.from };
  return { at: change.at, out: change.put, put: change.out };
}
