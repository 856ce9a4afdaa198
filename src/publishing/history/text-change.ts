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
  const head = longest(
    most,
    (n, length) => before.slice(n, n + length) === after.slice(n, n + length),
  );
  const tail = longest(most - head, (n, length) => {
    const [a, b] = [before.length - n, after.length - n];
    return before.slice(a - length, a) === after.slice(b - length, b);
  });
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

/**
 * How many characters are the same one after the other: at most so many. Drawings are long, so they are
 * compared by stretches, which are halved where they differ.
 */
function longest(most: number, isSame: (from: number, length: number) => boolean): number {
  let n = 0;
  for (let length = 65_536; length >= 1; length /= 2) {
    while (n + length <= most && isSame(n, length)) n += length;
  }
  return n;
}
