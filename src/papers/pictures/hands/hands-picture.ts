import type { Box } from '../../../geometry/paths/box.ts';
import { emptyBox, heightOf, unionBox } from '../../../geometry/paths/box.ts';
import { boxOfPath } from '../../../geometry/paths/path.ts';
import type { Transform } from '../../../geometry/paths/transform.ts';
import type { Change } from '../../../handing/redrawing/changes.ts';
import type { Hand } from '../../../pattern/words.ts';
import { driverSide } from '../../../pattern/words.ts';
import { centreline, drawDriver, drawHand } from './hand-panel.ts';
import { shownNames } from '../../../base/wording.ts';
import { usualEdge } from '../said-edges.ts';
import { changeEntries, edgeEntriesOf } from './hands-legend.ts';
import { lineWidth } from '../../svg/label.ts';
import type { Entry } from '../../svg/legend.ts';
import { drawLegend, legendHeight } from '../../svg/legend.ts';
import { drawNames } from './piece-names.ts';
import type { ShownHand } from './shown-hand.ts';
import { shownHand } from './shown-hand.ts';
import { arrow, escapeXml, mm, rect, svgPage } from '../../svg/svg.ts';

/**
 * The page, A3 across, mm; printed on A4 its smallest type has 6 points. It is only made higher if the
 * key to the numbers needs the space of the plans.
 */
const page = { width: 420, height: 297, margin: 10 };
const inner = page.width - 2 * page.margin;
const leastPlan = 120;
const type = 3.6;
/**
 * In mm: where the panels begin, the space above their plans, the space between plan and edge, and their
 * width.
 */
const panel = { top: 20, head: 27, gap: 4, width: page.width / 2 - page.margin };

/**
 * One SVG with both hands of a set side by side, seen from above with the front of the vehicle at the
 * top, at the same scale: on the left as drawn, on the right as derived. What has moved is hatched and
 * coloured, what stays is plain, edges have the strokes of their kinds, what exists for one hand only is dashed. A piece that is too small for
 * its name has a number. Sizes are mm on A3.
 */
export function handsPicture(
  changes: readonly Change[],
  from: Hand,
  to: Hand,
  title: string,
): string {
  const { entries, hands, names, bottom, height } = arrange(changes, 0);
  const notes = usualWords(changes);
  const headings = [`${from} as drawn`, `${to} as derived`];
  const legendTop = bottom + panel.gap;
  const notesTop = legendTop + legendHeight(entries, inner, type);
  const keyTop = notesTop + notes.length * 1.5 * type;
  return svgPage({ width: page.width, height, type }, `${title}: ${from} and ${to}`, [
    rect(0, 0, page.width, height, 'fill="#ffffff"'),
    drawTitle(title),
    ...hands.map((hand, i) =>
      drawPanel(hand, headings[i]!, i === 0 ? from : to, panelMiddle(i), bottom),
    ),
    names.labels,
    drawLegend(entries, page.margin, legendTop, inner, type),
    ...notes.map(
      (words, i) =>
        `<text x="${page.margin}" y="${mm(notesTop + (1.5 * i + 1) * type)}">${escapeXml(words)}</text>`,
    ),
    drawLegend(names.key, page.margin, keyTop, inner, type),
  ]);
}

/** What nobody said of a piece and is taken as it is usual, in sentences. */
function usualWords(changes: readonly Change[]): string[] {
  const pieces = new Set(changes.map(({ piece }) => piece));
  const usual = [...pieces].filter((piece) => usualEdge(piece) !== null).map(({ name }) => name);
  const hasPads = changes.some(({ feature }) => feature?.role === 'PAD');
  return [
    [
      ...(usual.length === 0
        ? []
        : [`Edges without a line are as "edge:" says: ${shownNames(usual)}.`]),
      ...(hasPads
        ? ['Heel pads are those of this choice; an order that says nothing gets the driver’s.']
        : []),
    ].join(' '),
  ].filter((words) => words !== '');
}

interface Arranged {
  /** The key to how things are drawn. */
  readonly entries: readonly Entry[];
  readonly hands: readonly ShownHand[];
  readonly names: ReturnType<typeof drawNames>;
  /** Where the panels end, mm from the top of the page. */
  readonly bottom: number;
  /** Height of the page, mm. */
  readonly height: number;
}

/** Arranges both hands on the page, as large as possible with what must stand below them. */
function arrange(changes: readonly Change[], below: number): Arranged {
  const foot = panel.gap + below + page.margin;
  const bottom = Math.max(page.height - foot, panel.top + panel.head + leastPlan);
  const hands = (['before', 'after'] as const).map((when, i) =>
    shownHand(changes, when, planOnPage(changes, panelMiddle(i), bottom), true),
  );
  const names = drawNames(hands);
  const entries = [...changeEntries(changes, type), ...edgeEntriesOf(hands)];
  const needed =
    legendHeight(entries, inner, type) +
    usualWords(changes).length * 1.5 * type +
    legendHeight(names.key, inner, type);
  return needed > below
    ? arrange(changes, needed)
    : { entries, hands, names, bottom, height: bottom + foot };
}

function panelMiddle(i: number): number {
  return page.margin + (i + 0.5) * panel.width;
}

/**
 * The transform from the vehicle's frame to a panel: the centreline is in the middle, and both hands fit.
 */
function planOnPage(changes: readonly Change[], middle: number, bottom: number): Transform {
  const box = boxOfChanges(changes);
  const halfWidth = Math.max(Math.abs(box.minX), Math.abs(box.maxX));
  const top = panel.top + panel.head;
  const scale = Math.min(
    (panel.width / 2 - panel.gap) / halfWidth,
    (bottom - panel.gap - top) / heightOf(box),
  );
  return { a: scale, b: 0, c: 0, d: -scale, e: middle, f: top + scale * box.maxY };
}

/** The box round everything that the changes show, for both hands, in the frame of the vehicle. */
export function boxOfChanges(changes: readonly Change[]): Box {
  return changes
    .flatMap(({ before, after }) => [...before, ...after])
    .map(boxOfPath)
    .reduce(unionBox, emptyBox);
}

/** Draws the title in the largest type in which it fits on the page. */
function drawTitle(title: string): string {
  const size = Math.min(6.5, inner / Math.max(1, lineWidth(title)));
  return `<text x="${page.margin}" y="${page.margin + 5}" font-size="${mm(size)}" font-weight="bold">${escapeXml(title)}</text>`;
}

/** Draws a frame with the heading, marks for the front and the driver, the centreline, and the plan. */
function drawPanel(
  hand: ShownHand,
  heading: string,
  drive: Hand,
  middle: number,
  bottom: number,
): string {
  const left = middle - panel.width / 2;
  const line = 'fill="none" stroke="#1b1b1b" stroke-width="0.3"';
  const head = panel.top + 17;
  return [
    rect(left, panel.top, panel.width, bottom - panel.top, line),
    `<text x="${mm(middle)}" y="${mm(panel.top + 8)}" font-size="6" font-weight="bold" text-anchor="middle">${heading}</text>`,
    `<path d="M${mm(middle)} ${mm(head + 8)}V${mm(bottom - 2)}" ${centreline}/>`,
    arrow({ x: middle, y: head }, -90, 12, 0.8),
    `<text x="${mm(middle + 3)}" y="${mm(head + 1.3)}" font-weight="bold">FRONT</text>`,
    drawDriver(middle + (driverSide(drive) === 'left' ? -1 : 1) * (panel.width / 4), head),
    drawHand(hand),
  ].join('\n');
}
