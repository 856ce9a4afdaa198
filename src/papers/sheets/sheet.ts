import type { Finding } from '../../base/findings.ts';
import { wordFinding, worstFirst } from '../../base/findings.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { edgeColourOf } from '../../handing/order-choices.ts';
import type { Part } from '../../handing/part.ts';
import { leftToBench } from '../../knife/cuttable.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { biteName } from '../../lay/bites.ts';
import type { Roll } from '../../lay/lay.ts';
import { layName } from '../../lay/lay.ts';
import { clothOf, clothSample } from '../../pattern/shop/cloth.ts';
import type { Paper, PaperBlock, PaperTable } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import { layPicture, rowsOf } from '../pictures/lay/lay-picture.ts';
import { clothWords, edgeWords, extentWords, tellsMore } from '../facts/order-words.ts';
import type { MaterialFacts, OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { footOf, restWords, rollTitle, sharedLays } from '../facts/run-facts.ts';
import { swatchPicture } from '../svg/swatch.ts';
import { clock, counted, duration, metresUp, percent } from '../../base/wording.ts';

/**
 * The run sheet for the operator, in the order of work: what is cut, what it takes, cautions and
 * findings; then, for each roll, how to load it, the lay bite by bite, and the order of cutting.
 */
export function runSheet(facts: RunFacts): Paper {
  return {
    title: `Run sheet: ${facts.title}`,
    subtitle: `Run ${facts.run} on ${facts.cutter.title}. Fingerprint ${facts.fingerprint}.`,
    foot: footOf(facts),
    blocks: [
      heading('What is cut'),
      ordersTable(facts.orders),
      ...orderBlocks(facts),
      heading('What it takes'),
      loadTable(facts),
      cautions,
      ...findingBlocks(facts.findings),
      ...facts.materials.map((one) => materialSection(one, facts)),
    ],
  };
}

/** What the pages about a roll need to know about the run. */
export type SheetFacts = Pick<RunFacts, 'cutter' | 'materials' | 'lengths'>;

function ordersTable(orders: readonly OrderFacts[]): PaperTable {
  const rows = orders.map((one) => {
    const { order, set } = one;
    return [
      order.order,
      set.content.title,
      order.hand,
      String(order.quantity),
      optionWords(
        one,
        'pad',
        { driver: 'driver’s side', both: 'both sides', none: 'none' }[order.heelPads],
      ),
      optionWords(one, 'board', order.boards ? 'yes' : 'no'),
      optionWords(one, 'underlay', order.underlay ? 'yes' : 'no'),
      set.binding === null ? 'set has none' : (edgeColourOf(order) ?? 'not said'),
    ];
  });
  const columns = [
    { head: 'Order' },
    { head: 'Set', share: 2.4 },
    { head: 'Hand', share: 0.7 },
    { head: 'Sets', figures: true, share: 0.6 },
    { head: 'Heel pads', share: 1.2 },
    { head: 'Boards' },
    { head: 'Underlay' },
    { head: 'Binding', share: 1.2 },
  ] as const;
  return { kind: 'table', columns, rows };
}

/** An option of an order in words: whether its set has such a thing, and the order a part of that kind. */
function optionWords(
  { set: { content }, parts, others }: OrderFacts,
  option: 'pad' | 'board' | 'underlay',
  words: string,
): string {
  const has = Object.values(content.pieces).some((piece) => piece[option] !== undefined);
  if (!has) return 'set has none';
  const isOf = ({ kind }: Part): boolean => kind === option;
  return others.some(isOf) && !parts.some(isOf) ? 'none ordered' : words;
}

/** What each order is of and for whom, and which orders share a roll. Empty if no order says it. */
function orderBlocks(facts: RunFacts): PaperBlock[] {
  const { orders } = facts;
  if (!orders.some(tellsMore)) return [];
  const what: PaperTable = {
    kind: 'table',
    columns: [
      { head: 'Order', share: 0.8 },
      { head: 'Carpet', share: 2 },
      { head: 'Edges', share: 1.7 },
      { head: 'Parts', share: 1.2 },
      { head: 'Customer', share: 1.1 },
      { head: 'Due', share: 0.9, figures: true },
    ],
    rows: orders.map((one) => [
      one.order.order,
      clothWords(one, 'piece') || 'none',
      edgeWords(one) || 'none',
      extentWords(one),
      one.order.customer ?? '',
      one.order.due ?? '',
    ]),
  };
  const shared: PaperTable = {
    kind: 'table',
    columns: [
      { head: 'Roll', share: 2.4 },
      { head: 'Orders', share: 2.4 },
      { head: 'Due first', figures: true },
    ],
    rows: sharedLays(facts).map(({ lay, orders: on, due }) => [
      rollTitle(lay),
      on.map(({ order }) => order.order).join(', '),
      due ?? '',
    ]),
  };
  return [
    heading('What each order is of', 3),
    what,
    heading('Which orders share a roll', 3),
    shared,
  ];
}

export function loadTable({ materials, lengths }: SheetFacts): PaperTable {
  const rows = materials.map((facts) => {
    const { lay, parts, knife } = facts;
    return [
      rollTitle(facts),
      lengths.metresUp(lay.length),
      Number.isFinite(lay.roll.length) ? lengths.metresDown(lay.roll.length) : 'not said',
      percent(lay.density),
      String(parts.length),
      String(knife.bites),
      duration(knife.minutes),
    ];
  });
  const columns = [
    { head: 'Material', share: 2.4 },
    { head: 'Length needed', figures: true },
    { head: 'On the roll', figures: true },
    { head: 'Density', figures: true },
    { head: 'Parts', figures: true, share: 0.6 },
    { head: 'Bites', figures: true, share: 0.6 },
    { head: 'Time (estimate)', figures: true },
  ] as const;
  return { kind: 'table', columns, rows };
}

export const cautions: PaperBlock = {
  kind: 'frame',
  title: 'Before you start',
  items: [
    'Run the dry program first, with the knife up, and watch that it stays on the roll.',
    'A cutting file is no safety function, and a programmed stop is no emergency stop.',
    'Keep hands, hair and loose clothing away from gantry and feed rollers; guards closed.',
    'Stop and isolate the machine before you touch the blade. Gloves on; old blades into a sharps box.',
    'Knife up before every feed. Clear lint and dust: they burn. Two people lift a heavy roll.',
    'The machine maker’s manual, local rules and a competent person come before this sheet.',
  ],
};

export function findingBlocks(findings: readonly Finding[]): PaperBlock[] {
  if (findings.length === 0) return [heading('Findings'), { kind: 'text', text: 'None.' }];
  return [heading('Findings'), { kind: 'list', items: worstFirst(findings).map(wordFinding) }];
}

/** How a roll is loaded and cut, on sheets of its own. */
export function materialSection(facts: MaterialFacts, run: SheetFacts): PaperBlock {
  const { lay, parts } = facts;
  const rows = rowsOf(lay, parts, facts.bites);
  const pictures = rows.map((row, i): PaperBlock => {
    const words =
      facts.bites[i] === undefined ? [] : [...biteNotes(facts, i), ...cuttingOrder(facts, i)];
    const picture = {
      kind: 'picture',
      svg: layPicture(lay, parts, [row], clothOf(lay.roll, facts.material)),
    } as const;
    return { kind: 'section', label: `Bite ${i + 1}`, together: true, blocks: [picture, ...words] };
  });
  return {
    kind: 'section',
    newSheet: true,
    blocks: [
      heading(rollTitle(facts)),
      ...swatchBlocks(facts),
      faceNote(run.cutter),
      { kind: 'facts', rows: loadFacts(facts, run) },
      ...pictures,
      ...benchBlocks(parts, run),
    ],
  };
}

/** The colour of the roll, to be held against what is loaded. */
function swatchBlocks({ lay, material }: MaterialFacts): PaperBlock[] {
  const cloth = clothOf(lay.roll, material);
  const sample = clothSample(cloth);
  if (sample === undefined) return [];
  return [{ kind: 'picture', svg: swatchPicture(sample, cloth.colour!), width: 90 }];
}

function loadFacts(facts: MaterialFacts, { lengths }: SheetFacts): [string, string][] {
  const { lay, parts, dyeLot } = facts;
  const rest = restWords(facts, lengths);
  const { roll, rules } = lay;
  const pile = {
    'one-way': 'from the start of the roll towards its end',
    'two-way': 'along the roll, either way',
    any: 'none',
  }[rules.turns];
  return [
    ['Files', `${layName(lay)}.dxf, ${layName(lay)}.nc; first ${layName(lay)}.dry.nc`],
    [
      'Roll',
      `${lengths.mm(roll.width)} wide, ${lengths.mm(roll.selvedge)} selvedge at each edge, first ${lengths.mm(roll.startMargin)} unused`,
    ],
    ['Dye lot', dyeLot ?? 'not said: note it here before you cut'],
    ['Pile leans', `${pile}${exceptions(parts)}`],
    ['Start', 'the roll’s end on X 0, its edge on Y 0, square to the bed'],
    ['Gap', `${lengths.mm(rules.gap)} between parts`],
    ...defectFacts(roll),
    [
      'Needed',
      `${lengths.metresUp(lay.length)}${Number.isFinite(roll.length) ? ` of ${lengths.metresDown(roll.length)}` : ''}`,
    ],
    ...(rest === null
      ? []
      : [['Left on it', `${rest}, from a square cut behind the last part on`] as [string, string]]),
  ];
}

/** The parts that may lie otherwise than their material says, because the set file says so. */
function exceptions(parts: readonly Part[]): string {
  const own = parts.filter(({ turns, tilt = 0 }) => turns !== undefined || tilt > 0);
  if (own.length === 0) return ', for every part';
  return `; as the set allows, otherwise for ${[...new Set(own.map(({ name }) => name))].join(', ')}`;
}

function defectFacts({ defects = [], outline }: Roll): [string, string][] {
  const facts: [string, string][] = [];
  if (outline !== undefined)
    facts.push(['Remnant', 'no oblong: held to the outline in the picture']);
  if (defects.length > 0) {
    const places = defects.map((defect) => {
      const [from, to] = [Math.min, Math.max].map((pick) => pick(...defect.map(({ x }) => x)));
      return `${metresUp(from!)} to ${metresUp(to!)}`;
    });
    facts.push(['Defects avoided', `${places.join(', ')} from the start of the roll`]);
  }
  return facts;
}

/** Which way up the material lies, in words that can be read from where the roll is loaded. */
function faceNote({ face }: Cutter): PaperBlock {
  return face === 'up'
    ? { kind: 'shout', words: 'FACE UP', text: 'Load the roll with its pile up.' }
    : {
        kind: 'shout',
        words: 'FACE DOWN',
        text: 'Load the roll with its pile on the bed and its back up. Pictures and files show it so: mirrored.',
      };
}

/** How the roll is fed to a bite, and how the bite is begun again. Empty if there is only one bite. */
function biteNotes({ bites, lay, single }: MaterialFacts, index: number): PaperBlock[] {
  if (bites.length < 2) return [];
  const { start, check, mark } = bites[index]!;
  const place = ({ x, y }: Point, from: number): string =>
    `X ${(x - from).toFixed(0)}, Y ${y.toFixed(0)}`;
  const before = bites[index - 1];
  const notes = [
    before === undefined ? '' : `Feed ${mmUp(start - before.start)} before this bite.`,
    check === undefined
      ? ''
      : `After the feed the cross of the bite before lies at ${place(check, start)} on the bed; the program stops over it.`,
    mark === undefined ? '' : `A cross in the waste at ${place(mark, start)} marks the next feed.`,
    `To begin here again: the roll ${start === 0 ? 'as it was loaded' : `fed ${mmUp(start)} from its start`}, then ${layName(lay)}.${biteName(index + 1, bites.length)}.nc, ${duration(single[index]!.minutes)}.`,
  ];
  return [{ kind: 'text', soft: true, text: notes.filter((note) => note !== '').join(' ') }];
}

function mmUp(length: number): string {
  return `${length.toFixed(0)} mm`;
}

/**
 * The parts of a bite in the order in which they come free, each with the time at which its outline is
 * begun. Parts that only come free in a later bite stand in brackets.
 */
function cuttingOrder({ bites, knife, single }: MaterialFacts, index: number): PaperBlock[] {
  const outlines = bites[index]!.cuts.filter(({ kind }) => kind === 'outline');
  const labels = [...new Set(outlines.map(({ label }) => label))];
  const begun = new Map(
    (single[index] ?? knife).begun.map(({ text, minutes }) => [text, clock(minutes)]),
  );
  const isLeft = (label: string): boolean =>
    bites.slice(index + 1).some(({ cuts }) => cuts.some((cut) => cut.label === label));
  const items = labels.map((label) => {
    const words = isLeft(label) ? `(${label}: to be cut on)` : label;
    return `${words} ${begun.get(`${label} outline`) ?? ''}`.trimEnd();
  });
  const free = labels.filter((label) => !isLeft(label)).length;
  return [
    {
      kind: 'text',
      soft: true,
      text: `Cut free in this order (${counted(free, 'part')}); the figure behind is when its outline is begun, min:s from the start of the bite:`,
    },
    { kind: 'list', items, numbered: true, columns: 3 },
  ];
}

function benchBlocks(parts: readonly Part[], { cutter }: SheetFacts): PaperBlock[] {
  const left = parts.flatMap((part) =>
    leftToBench(part, cutter).map(({ role, width, height }) => [
      part.label,
      role === 'HOLE' ? 'hole' : 'cutout',
      `${width.toFixed(1)} x ${height.toFixed(1)} mm`,
    ]),
  );
  if (left.length === 0) return [];
  return [
    heading('Left to the bench', 3),
    { kind: 'text', text: 'Marked, not cut: too tight for this knife.' },
    { kind: 'table', columns: [{ head: 'Part' }, { head: 'What' }, { head: 'Size' }], rows: left },
  ];
}
