import type { BenchFacts } from '../../handing/bench-facts.ts';
import type { Part } from '../../handing/part.ts';
import { partTitle } from '../../handing/part-title.ts';
import type { Work } from '../../pattern/shop/bench.ts';
import { wordCloth } from '../../pattern/shop/cloth.ts';
import { titleOf } from '../../pattern/choice.ts';
import { decimal } from '../../base/numbers.ts';
import { layOutBench } from '../pictures/bench-layout.ts';
import { drawBench, edgeLegend } from '../pictures/bench-picture.ts';
import type { Card, PaperBlock, Paper, PaperTable } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import { finishWords } from '../facts/finish-words.ts';
import {
  leftStep,
  nextSteps,
  seamStep,
  tapeStep,
  unsewnStep,
  wordStep,
  wordStepWhole,
  workedOn,
} from '../facts/next-steps.ts';
import { once } from '../facts/once.ts';
import { noteLines, orderRows, shapeWords, tellsMore, wordShape } from '../facts/order-words.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { clothIn, footOf, isOrdered } from '../facts/run-facts.ts';
import { colourWords, tapeTotals } from '../facts/tape-totals.ts';
import type { LengthWords } from '../../base/wording.ts';
import { counted } from '../../base/wording.ts';

/** Sizes of a part's picture beside its words: of most, and of those that would be crowded. mm on paper. */
const pictures = { usual: { width: 38, height: 42 }, wide: { width: 104, height: 60 } };

/**
 * What the bench does for an order: in which order it works, the tape to cut, which edge is sewn to which, and what
 * happens to each part, with a picture. If the order has several sets, they are all alike: what is of each part or set
 * and what is of all is said.
 */
export function sewingSheet(facts: OrderFacts, run: RunFacts): Paper {
  const { order, set, parts } = facts;
  const isWhole = facts.others.length === 0;
  const sets =
    order.quantity === 1
      ? isWhole
        ? '1 set'
        : 'part of 1 set'
      : `${isWhole ? '' : 'part of '}${order.quantity} sets, all alike`;
  const carpets = parts.filter(({ kind }) => kind === 'piece');
  const isSewn = isWhole && [...facts.bench.values()].every(({ unsewn }) => unsewn.length === 0);
  return {
    title: `Sewing and binding: order ${order.order}`,
    subtitle: `${titleOf(set)}, ${order.hand}, ${sets}. Left and right are those of the vehicle, seen sitting in it; parts are shown face up, front at the top.`,
    foot: `${footOf(run)}, order ${order.order}`,
    blocks: [
      ...orderBlocks(facts),
      ...workBlocks(facts, run),
      ...tapeBlocks(facts, run),
      ...seamBlocks(facts, run),
      ...(carpets.length === 0
        ? []
        : [
            heading(order.quantity === 1 ? 'Part by part' : 'Part by part: figures are for each'),
            { kind: 'picture', svg: edgeLegend(finishWords(set.binding).done, isSewn) } as const,
            { kind: 'cards', cards: carpets.map((part) => partCard(part, facts, run)) } as const,
          ]),
      ...companionBlocks(facts, run),
    ],
  };
}

/** In which order the bench works, with the parts that each work is done on. */
function workBlocks(facts: OrderFacts, { lengths }: RunFacts): PaperBlock[] {
  const { set, parts, works } = facts;
  const finish = finishWords(set.binding);
  const title = (name: string): string =>
    partTitle(
      parts.find((part) => part.name === name)!,
      set.content,
    );
  const verbs: Readonly<Record<Work, string>> = {
    bind: finish.verb,
    sew: 'Stitch',
    turn: 'Turn under',
    board: 'Fix to boards',
    pad: 'Fix heel pads',
  };
  const tape = tapeTotals([facts]).reduce((sum, { total }) => sum + total, 0);
  const letters = [...new Set([...facts.bench.values()].flatMap((one) => sewnLetters(one, facts)))];
  const items = [
    ...(tape === 0 || set.binding?.kind !== 'tape'
      ? []
      : [`Cut the tape: ${lengths.metresUp(tape)} in all.`]),
    ...(['by hand', ...works] as const).flatMap((work) => {
      const on = workedOn(facts, work).map(title);
      const names =
        on.length === 0
          ? []
          : [
              `${work === 'by hand' ? 'Finish by hand what the knife has left' : verbs[work]}: ${on.join('; ')}.`,
            ];
      const seams =
        work === 'sew' && letters.length > 0
          ? [`Sew: ${counted(letters.length, 'seam')}, ${letters.join(', ')}.`]
          : [];
      return [...seams, ...names];
    }),
  ];
  if (items.length < 2) return [];
  return [heading('In this order'), { kind: 'list', numbered: true, items }];
}

function sewnLetters({ seams }: BenchFacts, facts: OrderFacts): string[] {
  return seams.filter(({ partner }) => isOrdered(facts, partner)).map(({ letter }) => letter);
}

/** What the order is of, and what its note says to the bench. */
function orderBlocks(facts: OrderFacts): PaperBlock[] {
  if (!tellsMore(facts)) return [];
  const { benchNote } = facts.order;
  return [
    heading('What it is of'),
    { kind: 'facts', rows: orderRows(facts) },
    ...(benchNote === undefined
      ? []
      : [{ kind: 'frame', title: 'For the bench', items: noteLines(benchNote) } as const]),
  ];
}

/** The tape of one set, and of all where there are several. */
function tapeBlocks(facts: OrderFacts, { lengths }: RunFacts): PaperBlock[] {
  const { order, set } = facts;
  const words = finishWords(set.binding);
  const isOne = order.quantity === 1;
  const ofAll = tapeTotals([facts]);
  const rows = tapeTotals([{ ...facts, order: { ...order, quantity: 1 } }]).map(
    ({ tape, colour, length, runs, joining, extra, total }, i) => [
      `${tape}, ${colourWords(colour)}`,
      lengths.mm(length),
      String(runs),
      lengths.mm(joining),
      lengths.mm(extra),
      lengths.metresUp(total),
      ...(isOne ? [] : [lengths.metresUp(ofAll[i]!.total)]),
    ],
  );
  if (rows.length === 0) {
    return [heading(words.heading), { kind: 'text', text: `Nothing is ${words.done}.` }];
  }
  const columns = [
    { head: words.heading, share: 2 },
    { head: 'Edges', figures: true },
    { head: 'Pieces', figures: true, share: 0.7 },
    { head: 'For beginnings and joints', figures: true },
    { head: 'For tight curves', figures: true },
    { head: isOne ? words.inAll : 'Each set', figures: true },
    ...(isOne ? [] : [{ head: `All ${order.quantity} sets`, figures: true } as const]),
  ] as const;
  return [
    heading(words.heading),
    { kind: 'table', columns, rows },
    ...cutListBlocks(facts, lengths),
  ];
}

/** The pieces of tape to cut, those of one length together, the longest first. */
function cutListBlocks({ order, set, bench }: OrderFacts, { mm }: LengthWords): PaperBlock[] {
  if (set.binding?.kind !== 'tape') return [];
  const counts = new Map<string, number>();
  const pieces = [...bench.values()].flatMap(({ tape }) => tape?.pieces ?? []);
  for (const piece of pieces.toSorted((a, b) => b - a)) {
    counts.set(mm(piece), (counts.get(mm(piece)) ?? 0) + order.quantity);
  }
  const list = [...counts].map(([length, count]) => `${count} of ${length}`);
  const all = order.quantity === 1 ? '' : ` for all ${order.quantity} sets`;
  return [{ kind: 'text', text: `Cut${all}: ${list.join(', ')}.` }];
}

/** Every seam, once, with its letter; by themselves those to parts that are not in the order, or not there. */
function seamBlocks(facts: OrderFacts, { lengths }: RunFacts): PaperBlock[] {
  const { parts, bench } = facts;
  const open = parts.flatMap(({ name }) => {
    const { seams, unsewn } = bench.get(name)!;
    const missing = seams.filter(({ partner }) => !isOrdered(facts, partner));
    const steps = [
      ...missing.map((seam) => seamStep(seam, facts)),
      ...unsewn.map((length) => unsewnStep(length, lengths)),
    ];
    return steps.map((step) => `${name}: ${wordStep(step)}.`);
  });
  const openBlocks: PaperBlock[] =
    open.length === 0
      ? []
      : [heading('Seams that are not sewn here', 3), { kind: 'list', items: open }];
  const seen = new Set<string>();
  const rows = parts.flatMap(({ name }) =>
    bench.get(name)!.seams.flatMap((seam) => {
      if (seen.has(seam.letter) || !isOrdered(facts, seam.partner)) return [];
      seen.add(seam.letter);
      const edge = (part: string, own: string | null): string =>
        own === null ? part : `${part}, edge ${own}`;
      return [
        [
          seam.letter,
          edge(name, seam.edge),
          edge(seam.partner, seam.partnerEdge),
          lengths.mm(seam.length),
          allowanceWords(bench.get(name)!, bench.get(seam.partner)!, lengths),
          Math.abs(seam.ease) < 0.05
            ? 'none'
            : `${decimal(Math.abs(seam.ease), 1)} mm of ${seam.ease > 0 ? seam.partner : name}`,
          seam.notches.length === 0 ? 'none' : seam.notches.map((notch) => notch.name).join(', '),
        ],
      ];
    }),
  );
  if (rows.length === 0) return openBlocks;
  const columns = [
    { head: 'Seam', share: 0.7 },
    { head: 'Part', share: 1.8 },
    { head: 'is sewn to', share: 1.8 },
    { head: 'Length', figures: true },
    { head: 'Allowance', figures: true },
    { head: 'Ease in', share: 1.3 },
    { head: 'Notch on notch', share: 1.2 },
  ] as const;
  const table: PaperTable = { kind: 'table', columns, rows };
  return [
    heading('Seams'),
    {
      kind: 'text',
      text: `Face to face, edges and notches of one letter on each other${facts.order.quantity === 1 ? '' : '; each seam once in every set'}. Lengths are those of the finished edge. The allowance is how far in from the cut edge it is sewn.`,
    },
    table,
    ...openBlocks,
  ];
}

/** How far in from the cut edge two parts are sewn. */
function allowanceWords(one: BenchFacts, other: BenchFacts, { mm }: LengthWords): string {
  const both = new Set([one, other].map(({ added }) => added?.seam ?? 0));
  return [...both].map((allowance) => mm(allowance)).join(' and ');
}

/** A part: its picture, its steps in the order of work, and what is left as it is cut. */
function partCard(part: Part, facts: OrderFacts, { lengths }: RunFacts): Card {
  const { order, set } = facts;
  const bench = facts.bench.get(part.name)!;
  const { isWide, width, svg } = once(bench, 'sewing picture', () => partPicture(part, facts));
  const tape = tapeStep(facts, bench, lengths);
  const steps = [...(tape === null ? [] : [tape]), ...nextSteps(facts, part.name, lengths)];
  const shape = wordShape(shapeWords(facts, part));
  return {
    isWide,
    width,
    svg,
    blocks: [
      heading(partTitle(part, set.content), 3),
      {
        kind: 'text',
        soft: true,
        text: `${part.name}${order.quantity === 1 ? '' : `, ${order.quantity} alike`}`,
      },
      ...(shape === '' ? [] : [{ kind: 'text', soft: true, text: `Cut for: ${shape}.` } as const]),
      ...(steps.length === 0
        ? [{ kind: 'text', soft: true, text: 'Nothing to do: it is done as it is cut.' } as const]
        : [{ kind: 'list', numbered: true, items: steps.map(wordStepWhole) } as const]),
      ...leaveBlocks(part, bench, lengths),
    ],
  };
}

/** The picture of a part: wide where it would be crowded otherwise. */
function partPicture(part: Part, facts: OrderFacts): Pick<Card, 'isWide' | 'width' | 'svg'> {
  const bench = facts.bench.get(part.name)!;
  const left = facts.left.get(part.name)!;
  const usual = layOutBench(part, pictures.usual, bench, left);
  const isWide = usual.isCrowded;
  const layout = isWide ? layOutBench(part, pictures.wide, bench, left) : usual;
  return { isWide, width: layout.width, svg: drawBench(part, layout, left) };
}

/** Edges at which the bench does nothing, and folds. */
function leaveBlocks(part: Part, { edges, wrap }: BenchFacts, { mm }: LengthWords): PaperBlock[] {
  const left = [
    ...(edges.tuck > 0 && wrap?.kind !== 'tuck' ? [`${mm(edges.tuck)} to be tucked`] : []),
    ...(edges.raw > 0 ? [`${mm(edges.raw)} raw`] : []),
  ];
  const sentences = [
    ...(left.length === 0 ? [] : [`Leave as cut: ${left.join(', ')}.`]),
    ...(part.marks.some(({ role }) => role === 'FOLD') ? ['Folds along the long dashes.'] : []),
  ];
  return sentences.length === 0 ? [] : [{ kind: 'text', soft: true, text: sentences.join(' ') }];
}

/** Pads, boards and underlays, the carpet that they go with, where they lie on it, and how they are fixed. */
function companionBlocks(facts: OrderFacts, { lengths }: RunFacts): PaperBlock[] {
  const { parts, bench, order, set } = facts;
  const rows = parts
    .filter(({ kind }) => kind !== 'piece')
    .map((part) => [
      partTitle(part, set.content),
      part.name,
      bench.get(part.name)!.carpet ?? '',
      [
        placeWords(part, facts, lengths),
        ...facts.left
          .get(part.name)!
          .map((one) => wordStep(leftStep(one, 'where its label rings it'))),
      ].join('. '),
      wordCloth(clothIn(facts, part)),
      String(order.quantity),
    ]);
  if (rows.length === 0) return [];
  const columns = [
    { head: 'What', share: 1.4 },
    { head: 'Label', share: 1.4 },
    { head: 'Goes with', share: 1.2 },
    { head: 'Where, and how', share: 1.7 },
    { head: 'Material', share: 1.2 },
    {
      head: order.quantity === 1 ? 'Number' : `All ${order.quantity} sets`,
      figures: true,
      share: 0.7,
    },
  ] as const;
  return [heading('Pads, boards and underlays'), { kind: 'table', columns, rows }];
}

/**
 * Where a companion lies and how it is fixed: a board and an underlay follow the outline of the finished carpet, a pad
 * lies where the words for its carpet say.
 */
function placeWords(
  { kind, name }: Part,
  { bench, parts }: OrderFacts,
  { mm }: LengthWords,
): string {
  const { carpet } = bench.get(name)!;
  const owner = carpet === null ? undefined : bench.get(carpet);
  if (carpet !== null && !isOrdered({ parts }, carpet)) {
    return `${kind === 'pad' ? 'on its face' : 'under it'}; it is not in this order`;
  }
  if (kind === 'pad') {
    const how = owner?.pads.find(({ pad }) => pad === name)?.fixed ?? null;
    return `on its face${how === null ? '' : `, ${how}`}; see there`;
  }
  const { inset = 0, fixed = null } = owner?.under.find(({ part }) => part === name) ?? {};
  const place = inset === 0 ? 'edge to edge' : `${mm(inset)} inside the finished edge`;
  return `under it, ${place}${fixed === null ? '' : `, ${fixed}`}`;
}
