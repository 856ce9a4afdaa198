import polygonClipping from 'polygon-clipping';
import type { Path } from '../../../geometry/paths/path.ts';
import { polyline } from '../../../geometry/paths/path.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import type { Lay, Roll } from '../../../lay/lay.ts';
import { layName } from '../../../lay/lay.ts';
import { barred, drawFill } from '../../svg/fills.ts';
import { lineWidth } from '../../svg/label.ts';
import { arrow, escapeXml, mm, pathData, rect } from '../../svg/svg.ts';
import { wrapped } from '../../svg/wrap.ts';

/** A length of the lay that is drawn as one row: mm from the start of the roll. */
export interface Row {
  readonly from: number;
  readonly to: number;
  /**
   * The number of the bite, from 1, what is cut in it, and the registration marks on its bed. Left out:
   * the roll has no bites.
   */
  readonly bite?: {
    readonly number: number;
    readonly labels: ReadonlySet<string>;
    readonly marks: readonly Point[];
  };
}

/** How a row is drawn, mm on the roll. */
interface RowLook {
  /** Height of the type. */
  readonly type: number;
  /** How wide the heading may be. */
  readonly width: number;
  /** Whether the material has a pile that leans. */
  readonly showsPile: boolean;
  /** Whether the number of the bite stands elsewhere. */
  readonly isBare: boolean;
}

/** Draws the empty roll of a row, with its ruler and its heading. */
export function drawEmptyRow(lay: Lay, row: Row, look: RowLook): string {
  const { type } = look;
  return [drawRoll(lay, row, type), drawRuler(lay, row, type), drawHeading(lay, row, look)].join(
    '\n',
  );
}

/** Draws waste and what is left of the roll, selvedges, start margin, and the outline of the roll. */
function drawRoll({ roll, length }: Lay, row: Row, type: number): string {
  const { from, to } = row;
  const line = `stroke="#1b1b1b" stroke-width="${mm(type / 16)}"`;
  const used = Math.max(0, Math.min(to, length) - from);
  const { width, selvedge, startMargin } = roll;
  const bars = [
    [from, 0, to, selvedge],
    [from, width - selvedge, to, width],
    [from, selvedge, Math.min(startMargin, to), width - selvedge],
  ].filter(([x0, y0, x1, y1]) => x1! > x0! && y1! > y0!);
  return [
    rect(from, 0, to - from, roll.width, 'fill="#ffffff"'),
    rect(from, 0, used, roll.width, 'fill="#cfccc6"'),
    ...lostIn(roll, row).map((paths) => drawLost(paths, type)),
    ...bars.map(([x0, y0, x1, y1]) => drawFill(barred, [oblong(x0!, y0!, x1!, y1!)], 0.55 * type)),
    rect(from, 0, to - from, roll.width, `fill="none" ${line}`),
    ...(length > from && length < to
      ? [
          `<path d="M${mm(length)} 0V${mm(roll.width)}" stroke="#1b1b1b" stroke-width="${mm(type / 10)}" stroke-dasharray="${mm(type)} ${mm(type / 2)}"/>`,
        ]
      : []),
  ].join('\n');
}

function drawLost(paths: readonly Path[], type: number): string {
  const edge = `<path d="${paths.map(pathData).join('')}" fill="none" stroke="#1b1b1b" stroke-width="${mm(type / 10)}"/>`;
  return drawFill(barred, paths, 0.4 * type) + edge;
}

/**
 * Defects, and what lies past the edge of a remnant, as far as they lie in a row: contours on the page.
 */
function lostIn({ width, defects = [], outline }: Roll, { from, to }: Row): Path[][] {
  const row: [number, number][] = [
    [from, 0],
    [to, 0],
    [to, width],
    [from, width],
  ];
  const onPage = (points: readonly Point[]): [number, number][] =>
    points.map(({ x, y }) => [x, width - y]);
  const defectsHere = defects.flatMap((defect) =>
    polygonClipping.intersection([row], [onPage(defect)]),
  );
  const outside = outline === undefined ? [] : polygonClipping.difference([row], [onPage(outline)]);
  return [...defectsHere, ...outside].map((rings) =>
    rings.map((ring) =>
      polyline(
        ring.slice(0, -1).map(([x, y]) => ({ x, y })),
        true,
      ),
    ),
  );
}

/** A rectangle from one corner to the opposite one, on the page. */
export function oblong(x0: number, y0: number, x1: number, y1: number): Path {
  const corners = [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
  return polyline(corners, true);
}

/** Draws a ruler: marks every 100 mm, figures every half metre. */
function drawRuler({ roll }: Lay, { from, to }: Row, type: number): string {
  const ticks: string[] = [];
  const figures: string[] = [];
  for (let x = Math.ceil(from / 100) * 100; x <= to + 1e-6; x += 100) {
    const isMetre = x % 1000 === 0;
    const isHalf = x % 500 === 0;
    ticks.push(`M${mm(x)} ${mm(roll.width)}v${mm(type * (isMetre ? 0.8 : isHalf ? 0.6 : 0.3))}`);
    if (isHalf)
      figures.push(
        `<text x="${mm(x)}" y="${mm(roll.width + 1.75 * type)}" text-anchor="middle">${x / 1000} m</text>`,
      );
  }
  return `<path d="${ticks.join('')}" stroke="#1b1b1b" stroke-width="${mm(type / 16)}" fill="none"/>${figures.join('')}`;
}

const pileWords = 'pile leans this way';
/** Size of the pile's arrow and the space round it, in heights of the type. */
const pileArrow = 8;

/**
 * Draws the name and the bite at the start of a row and the pile at its end, or past it if the row is too
 * short for both. A name that leaves no room for the pile is cut off.
 */
function drawHeading(
  lay: Lay,
  { from, to, bite }: Row,
  { type, width, showsPile, isBare }: RowLook,
): string {
  const pile = showsPile ? lineWidth(pileWords) + pileArrow + 1 : 0;
  const ending = bite === undefined || isBare ? '' : `, bite ${bite.number}`;
  const words = `${cutToFit(layName(lay), width / type - pile - lineWidth(ending))}${ending}`;
  const heading = `<text x="${mm(from)}" y="${mm(-0.6 * type)}" font-weight="bold">${escapeXml(words)}</text>`;
  if (!showsPile) return heading;
  const end = Math.max(to, from + (lineWidth(words) + pile) * type);
  const leaning = arrow({ x: end - 4 * type, y: -0.9 * type }, 0, 6 * type, type / 7);
  const leans = `<text x="${mm(end - 7.6 * type)}" y="${mm(-0.6 * type)}" text-anchor="end">${pileWords}</text>`;
  return heading + leans + leaning;
}

/** A name no wider than so many heights of the type; one that is too long ends behind a hyphen and in `…`. */
function cutToFit(name: string, width: number): string {
  if (lineWidth(name) <= width) return name;
  return `${wrapped(name, width - lineWidth('…'))[0] ?? ''}…`;
}
