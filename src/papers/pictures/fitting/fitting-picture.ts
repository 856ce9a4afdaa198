import { cutShort } from '../../../base/wording.ts';
import { driverSide } from '../../../pattern/words.ts';
import { beforeDriving, guideRows, howMany, siteRows, wordRows } from '../../facts/fitting-rows.ts';
import type { FittingGuide } from '../../facts/fitting-guide.ts';
import { noteLines } from '../../facts/order-words.ts';
import type { OrderFacts } from '../../facts/run-facts.ts';
import { escapeXml, mm, rect } from '../../svg/svg.ts';
import { wrapped } from '../../svg/wrap.ts';
import type { FittingPlan } from './fitting-plan.ts';
import { onWhite, planType as type, planWidth as width } from './fitting-plan.ts';

const line = 1.32 * type;
/** lineWidth gives widths of bold type; type that is not bold may be longer by this factor. */
const boldness = 1.1;

/** The plan, and below it the steps in words: a whole paper in one picture. Its unit is mm on paper. */
export function fittingPicture(facts: OrderFacts, guide: FittingGuide, plan: FittingPlan): string {
  const { order, set } = facts;
  const title = `Fitting: ${set.content.title}`;
  const words = `Order ${order.order}, ${order.hand}: driver on the ${driverSide(order.hand)}.${howMany(facts)} Left and right as seen sitting in the vehicle.`;
  const note = order.customerNote;
  const own = [
    ...wordRows(facts),
    ...(note === undefined ? [] : noteLines(note)),
    ...(guide.caution === null ? [] : [guide.caution]),
  ].flatMap((text) => lines(text, width));
  const top = 14 + own.length * line;
  const below = top + plan.height + 4;
  const frame = drawCaution(below);
  const steps = drawColumns(stepItems(guide), below + frame.height + 3);
  const height = below + frame.height + 3 + steps.height + 2;
  return onWhite(height, `${title}, order ${order.order}`, [
    `<text y="5.5" font-size="5.6" font-weight="bold">${escapeXml(cutShort(title, 58))}</text>`,
    `<text y="11" font-size="3.2">${escapeXml(words)}</text>`,
    ...own.map((text, i) => `<text y="${mm(11 + (i + 1) * line)}">${escapeXml(text)}</text>`),
    `<g transform="translate(0 ${mm(top)})">${plan.svg}</g>`,
    frame.svg,
    steps.svg,
  ]);
}

function lines(text: string, room: number): string[] {
  return wrapped(text, (boldness * room) / type);
}

interface Drawn {
  readonly svg: string;
  readonly height: number;
}

/** The frame with what must be right before anybody drives. */
function drawCaution(top: number): Drawn {
  const items = beforeDriving.items.flatMap((item) =>
    lines(item, width - 12).map((text, i) => ({ text, mark: i === 0 ? '•' : '' })),
  );
  const height = (items.length + 1) * line + 4;
  const svg = [
    rect(0.25, top, width - 0.5, height, 'fill="none" stroke="#1b1b1b" stroke-width="0.5"'),
    `<text x="4" y="${mm(top + line + 0.6)}" font-weight="bold">${escapeXml(beforeDriving.title)}</text>`,
    ...items.map(({ text, mark }, i) => {
      const y = mm(top + (i + 2) * line + 0.8);
      return `<text x="4" y="${y}">${mark}</text><text x="7" y="${y}">${escapeXml(text)}</text>`;
    }),
  ];
  return { svg: svg.join('\n'), height };
}

/** Words that stand together: what they are about in bold, behind their mark. */
interface Item {
  readonly mark: string;
  readonly head: string;
  readonly words: readonly string[];
}

function stepItems(guide: FittingGuide): Item[] {
  return [
    ...guideRows(guide).map(([number, title, labels, words]) => ({
      mark: number,
      head: title,
      words: [words, `Labels: ${labels}`],
    })),
    ...siteRows(guide).map(([letters, where, what, place]) => ({
      mark: '',
      head: `${letters} on ${where}`,
      words: [`Find it in the vehicle, then: ${what}.`, `From its edges: ${place}`],
    })),
  ];
}

/** Items in two columns that are read one after the other. */
function drawColumns(items: readonly Item[], top: number): Drawn {
  const column = width / 2 - 3;
  const indent = 7;
  const set = items.map(({ mark, head, words }) => ({
    mark,
    heads: wrapped(head, (column - indent) / type),
    body: words.filter((one) => one !== '').flatMap((one) => lines(one, column - indent)),
  }));
  const heights = set.map(({ heads, body }) => (heads.length + body.length) * line + 1.6);
  const half = heights.reduce((a, b) => a + b, 0) / 2;
  let [x, y, most] = [0, 0, 0];
  const drawn = set.map(({ mark, heads, body }, i) => {
    if (x === 0 && y > 0 && y + heights[i]! / 2 > half) [x, y] = [width / 2 + 3, 0];
    const at = top + y;
    y += heights[i]!;
    most = Math.max(most, y);
    const text = (words: string, left: number, row: number, bold: boolean): string =>
      words === ''
        ? ''
        : `<text x="${mm(left)}" y="${mm(at + row * line)}"${bold ? ' font-weight="bold"' : ''}>${escapeXml(words)}</text>`;
    return [
      text(mark, x, 1, true),
      ...heads.map((words, k) => text(words, x + indent, k + 1, true)),
      ...body.map((words, k) => text(words, x + indent, heads.length + k + 1, false)),
    ].join('\n');
  });
  return { svg: drawn.join('\n'), height: most };
}
