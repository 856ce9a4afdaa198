import type { Type } from '../documents/pdf.ts';
import { lineHeight, linesOfText, widthOfText } from '../documents/pdf.ts';
import type { BenchStep } from '../facts/next-steps.ts';
import { wordStep } from '../facts/next-steps.ts';

/** A line of text on a label. */
export interface LabelLine {
  readonly text: string;
  readonly type: Type;
  /** Its top, mm below the top of the column. */
  readonly top: number;
  /** How far it stands in, mm, behind a bullet if it begins a step. */
  readonly indent?: number;
  readonly bullet?: true;
}

/** Smallest type, in points. */
export const smallest = 8;
/** The space in front of a step, mm. */
const indent = 2.8;

export function labelSteps(steps: readonly BenchStep[]): string[] {
  return steps.length === 0 ? ['Nothing more: to the packer'] : steps.map(wordStep);
}

/**
 * Steps in the largest type in which all fit between two heights, mm. If they do not fit even in the smallest, a
 * last line says that the sewing sheet has more.
 */
export function stepLines(
  words: readonly string[],
  width: number,
  top: number,
  bottom: number,
): LabelLine[] {
  const settings = [10, 9, smallest].map((size) => ({
    size,
    lines: wrappedSteps(words, size, width),
    most: Math.max(0, Math.floor((bottom - top) / lineHeight(size) + 1e-6)),
  }));
  const { lines, size, most } =
    settings.find((one) => one.lines.length <= one.most) ?? settings[2]!;
  const isAll = lines.length <= most;
  const some = isAll ? lines : wholeSteps(lines, most - 1);
  // Where not even the first has room, it is said at least what they are.
  const shown =
    some.length > 0 ? some : wholeSteps(wrappedSteps([verbsOf(words)], size, width), most - 1);
  const at = (i: number): number => top + i * lineHeight(size);
  const own = shown.map(({ text, isFirst }, i): LabelLine => {
    const line = { text, type: { size }, top: at(i), indent };
    return isFirst ? { ...line, bullet: true } : line;
  });
  if (isAll || most === 0) return own;
  const type = { size, bold: true };
  const text = ['more: sewing sheet', 'sewing sheet'].find(
    (one) => widthOfText(one, type.size, type.bold) <= width,
  );
  return [...own, { text: text ?? 'more', type, top: at(shown.length) }];
}

/** What is done, without how: `Free, Bind`. */
function verbsOf(words: readonly string[]): string {
  return [...new Set(words.map((text) => text.split(':')[0]!))].join(', ');
}

/** As many whole steps as have room in so many lines. */
function wholeSteps<T extends { isFirst: boolean }>(lines: readonly T[], most: number): T[] {
  let end = Math.min(lines.length, Math.max(0, most));
  while (end > 0 && end < lines.length && !lines[end]!.isFirst) end--;
  return lines.slice(0, end);
}

/** Steps as lines no wider than a column, mm. */
export function wrappedSteps(
  words: readonly string[],
  size: number,
  width: number,
): { text: string; isFirst: boolean }[] {
  return words.flatMap((text) =>
    linesOfText(text, width - indent, { size }).map((line, i) => ({
      text: line,
      isFirst: i === 0,
    })),
  );
}
