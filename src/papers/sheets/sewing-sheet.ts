import type { Part } from '../../handing/part.ts';
import { wordCloth } from '../../pattern/shop/cloth.ts';
import { titleOf } from '../../pattern/choice.ts';
import { decimal } from '../../base/numbers.ts';
import { benchPicture, edgeLegend } from '../pictures/bench-picture.ts';
import type { PaperBlock, Paper, PaperTable } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import { finishWords } from '../facts/finish-words.ts';
import {
  leftStep,
  nextSteps,
  padPlace,
  seamStep,
  unsewnStep,
  wordStep,
} from '../facts/next-steps.ts';
import { noteLines, orderRows, shapeWords, tellsMore, wordShape } from '../facts/order-words.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { clothIn, footOf, isOrdered } from '../facts/run-facts.ts';
import { colourWords, tapeTotals } from '../facts/tape-totals.ts';
import type { LengthWords } from '../../base/wording.ts';
import { counted } from '../../base/wording.ts';

/** Size of a part's picture beside its words, mm on paper. */
const picture = { width: 70, height: 50 };

/**
 * What the bench does for an order: the tape to cut, which edge is sewn to which, and what happens to
 * each part, with a picture. It is for one set; if the order has several, all are the same.
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
      ...tapeBlocks(facts, run),
      ...seamBlocks(facts, run),
      ...(carpets.length === 0
        ? []
        : [
            heading('Part by part'),
            { kind: 'picture', svg: edgeLegend(finishWords(set.binding).done, isSewn) } as const,
          ]),
      ...carpets.map((part) => partBlock(part, facts, run)),
      ...companionBlocks(facts, run),
    ],
  };
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

function tapeBlocks(facts: OrderFacts, { lengths }: RunFacts): PaperBlock[] {
  const words = finishWords(facts.set.binding);
  const rows = tapeTotals([facts]).map(({ tape, colour, length, runs, joining, extra, total }) => [
    `${tape}, ${colourWords(colour)}`,
    lengths.mm(length),
    String(runs),
    lengths.mm(joining),
    lengths.mm(extra),
    lengths.metresUp(total),
  ]);
  if (rows.length === 0) {
    return [heading(words.heading), { kind: 'text', text: `Nothing is ${words.done}.` }];
  }
  const columns = [
    { head: words.heading, share: 2 },
    { head: 'Edges', figures: true },
    { head: 'Runs', figures: true, share: 0.6 },
    { head: 'For beginnings and joints', figures: true },
    { head: 'For tight curves', figures: true },
    { head: words.inAll, figures: true },
  ] as const;
  return [heading(words.heading), { kind: 'table', columns, rows }];
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
    { head: 'Seam', share: 0.5 },
    { head: 'Part', share: 1.8 },
    { head: 'is sewn to', share: 1.8 },
    { head: 'Length', figures: true },
    { head: 'Ease in', share: 1.3 },
    { head: 'Notch on notch', share: 1.2 },
  ] as const;
  const table: PaperTable = { kind: 'table', columns, rows };
  return [
    heading('Seams'),
    {
      kind: 'text',
      text: 'Face to face, edges and notches of one letter on each other. Lengths are those of the finished edge, without its allowance.',
    },
    table,
    ...openBlocks,
  ];
}

function partBlock(part: Part, facts: OrderFacts, { lengths }: RunFacts): PaperBlock {
  const { order } = facts;
  const bench = facts.bench.get(part.name)!;
  const { tape, edges } = bench;
  const steps = nextSteps(facts, part.name, lengths).map(wordStep);
  const { forPart } = finishWords(facts.set.binding);
  const cut = tape === null ? [] : [`${forPart}: ${lengths.mm(tape.total)}`];
  const pads = bench.pads.map((pad) => `Pad ${padPlace(pad, lengths)}.`);
  const rest = [
    ...(bench.stitch > 0 ? [`Stitch lines: ${lengths.mm(bench.stitch)}`] : []),
    ...(edges.tuck > 0
      ? [`Leave as cut, tucked under when fitted: ${lengths.mm(edges.tuck)}`]
      : []),
    ...(edges.raw > 0 ? [`Leave raw, covered when fitted: ${lengths.mm(edges.raw)}`] : []),
    ...part.marks
      .filter(({ role }) => role === 'FOLD')
      .slice(0, 1)
      .map(() => 'Fold on the long dashes marked inside'),
  ];
  const shape = wordShape(shapeWords(facts, part));
  const several = order.quantity === 1 ? '' : `, ${counted(order.quantity, 'part')}`;
  return {
    kind: 'beside',
    svg: benchPicture(part, picture, { seams: bench.seams, left: facts.left.get(part.name)! }),
    width: picture.width,
    blocks: [
      heading(`${part.name}${several}`, 3),
      ...(shape === '' ? [] : [{ kind: 'text', text: `Cut for: ${shape}.` } as const]),
      { kind: 'list', items: [...steps, ...cut, ...pads, ...rest] },
    ],
  };
}

/** Pads, boards and underlays, the carpet that they go with, and where they lie on it. */
function companionBlocks(facts: OrderFacts, { lengths }: RunFacts): PaperBlock[] {
  const { parts, bench, order } = facts;
  const words = { pad: 'heel pad', board: 'board', underlay: 'underlay', piece: '' };
  const rows = parts
    .filter(({ kind }) => kind !== 'piece')
    .map((part) => [
      part.name,
      words[part.kind],
      bench.get(part.name)!.carpet ?? '',
      [
        placeWords(part, facts, lengths),
        ...facts.left.get(part.name)!.map((one) => wordStep(leftStep(one))),
      ].join('. '),
      wordCloth(clothIn(facts, part)),
      String(order.quantity),
    ]);
  if (rows.length === 0) return [];
  const columns = [
    { head: 'Part', share: 1.5 },
    { head: 'What', share: 0.7 },
    { head: 'Goes with', share: 1.3 },
    { head: 'Where', share: 1.6 },
    { head: 'Material', share: 1.5 },
    { head: 'Number', figures: true, share: 0.8 },
  ] as const;
  return [heading('Pads, boards and underlays'), { kind: 'table', columns, rows }];
}

/**
 * Where a companion lies: a board and an underlay follow the outline of the finished carpet, a pad lies
 * where the words for its carpet say.
 */
function placeWords(
  { kind, piece, name }: Part,
  { set, bench, parts }: OrderFacts,
  { mm }: LengthWords,
): string {
  const { carpet } = bench.get(name)!;
  const isThere = carpet === null || isOrdered({ parts }, carpet);
  if (kind === 'pad') {
    return isThere ? 'on its face, see there' : 'on its face; it is not in this order';
  }
  const { board, underlay } = set.content.pieces[piece]!;
  const inset = (kind === 'board' ? board : underlay)?.inset ?? 0;
  const place =
    inset === 0
      ? 'under it, edge to finished edge'
      : `under it, ${mm(inset)} inside the finished edge all round`;
  return isThere ? place : `${place}; it is not in this order`;
}
