import type { RollEntry } from '../../../run/run-file.ts';

/** A width that was measured: how far from the start of the roll, and what, mm. */
export interface MeasuredWidth {
  readonly along: number;
  readonly width: number;
}

/** The narrowest of some widths, rounded down to whole mm. */
export function narrowest(widths: readonly MeasuredWidth[]): number {
  return Math.floor(Math.min(...widths.map(({ width }) => width)));
}

/**
 * The cloth that may be used where one edge is straight and the other one runs from width to width, less the selvedge
 * there: corners [along, across], mm. Before the first and behind the last measurement it is as there: see openEnds.
 */
export function outlineThrough(
  widths: readonly MeasuredWidth[],
  length: number,
  selvedge: number,
): [number, number][] {
  const inOrder = widths.toSorted((a, b) => a.along - b.along);
  const [first] = inOrder;
  const last = inOrder.at(-1)!;
  const edge = (along: number, width: number): [number, number] => [
    along,
    Math.floor(width - selvedge),
  ];
  const far: [number, number][] = [
    ...(first!.along > 0 ? [edge(0, first!.width)] : []),
    ...inOrder.map(({ along, width }) => edge(along, width)),
    ...(last.along < length ? [edge(length, last.width)] : []),
  ];
  return [[0, 0], [length, 0], ...far.toReversed()];
}

/** The widths that an outline was made from by `outlineThrough`, along the roll; none: it is of another kind. */
export function widthsOf(
  outline: RollEntry['outline'],
  selvedge: number,
): readonly MeasuredWidth[] {
  if (outline === undefined || outline.length < 4) return [];
  const [[x0, y0] = [1, 1], [length, y1] = [0, 1], ...far] = outline;
  if (x0 !== 0 || y0 !== 0 || y1 !== 0) return [];
  const isEdge = far.every(([x, y], i) => y > 0 && (i === 0 ? x === length : x < far[i - 1]![0]));
  if (!isEdge || far.at(-1)![0] !== 0) return [];
  return far.map(([along, y]) => ({ along, width: y + selvedge })).toReversed();
}

/** How far from an end of the roll a width still counts for the end, mm. */
const nearEnd = 300;

/** Why a line through widths says nothing of an end of the roll; empty: it goes to both. */
export function openEnds(widths: readonly MeasuredWidth[], length: number): string {
  const places = widths.map(({ along }) => along);
  const isOpen = Math.min(...places) > nearEnd || Math.max(...places) < length - nearEnd;
  return isOpen ? 'For a line, measure at the start and at the end of the roll too.' : '';
}

/** What is wrong with widths, in words for whoever typed them; empty: nothing. */
export function wrongWidths(widths: readonly MeasuredWidth[], length: number | null): string {
  if (widths.length < 2) return 'Measure the width at two places at the least.';
  if (new Set(widths.map(({ along }) => along)).size < widths.length) {
    return 'Two widths are of the same place: keep the narrower one.';
  }
  const past = widths.find(({ along }) => length !== null && along > length);
  if (past !== undefined) return `${past.along} mm is past the end of the roll.`;
  return '';
}
