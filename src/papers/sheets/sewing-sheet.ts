import type { Part } from '../../handing/part.ts';
import { titleOf } from '../../pattern/choice.ts';
import { decimal } from '../../base/numbers.ts';
import { benchPicture, edgeLegend } from '../pictures/bench-picture.ts';
import type { PaperBlock, Paper, PaperTable } from '../documents/document.ts';
import { heading } from '../documents/document.ts';
import { leftStep, nextSteps, padPlace, wordStep } from '../facts/next-steps.ts';
import type { OrderFacts, RunFacts } from '../facts/run-facts.ts';
import { footOf } from '../facts/run-facts.ts';
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
  const sets = order.quantity === 1 ? '1 set' : `${order.quantity} sets, all alike`;
  const carpets = parts.filter(({ kind }) => kind === 'piece');
  return {
    title: `Sewing and binding: order ${order.order}`,
    subtitle: `${titleOf(set)}, ${order.hand}, ${sets}. Left and right are those of the vehicle, seen sitting in it; parts are shown face up, front at the top.`,
    foot: `${footOf(run)}, order ${order.order}`,
    blocks: [
      ...tapeBlocks(facts, run),
      ...seamBlocks(facts, run),
      heading('Part by part'),
      { kind: 'picture', svg: edgeLegend() },
      ...carpets.map((part) => partBlock(part, facts, run)),
      ...companionBlocks(facts, run),
    ],
  };
}

function tapeBlocks(facts: OrderFacts, { lengths }: RunFacts): PaperBlock[] {
  const rows = tapeTotals([facts]).map(({ tape, colour, length, runs, joining, extra, total }) => [
    `${tape}, ${colourWords(colour)}`,
    lengths.mm(length),
    String(runs),
    lengths.mm(joining),
    lengths.mm(extra),
    lengths.metresUp(total),
  ]);
  if (rows.length === 0) return [heading('Tape'), { kind: 'text', text: 'Nothing is bound.' }];
  const columns = [
    { head: 'Tape', share: 2 },
    { head: 'Edges', figures: true },
    { head: 'Runs', figures: true, share: 0.6 },
    { head: 'For beginnings and joints', figures: true },
    { head: 'For tight curves', figures: true },
    { head: 'To cut in all', figures: true },
  ] as const;
  return [heading('Tape'), { kind: 'table', columns, rows }];
}

/** Every seam, once, with its letter. */
function seamBlocks({ parts, bench }: OrderFacts, { lengths }: RunFacts): PaperBlock[] {
  const seen = new Set<string>();
  const rows = parts.flatMap(({ name }) =>
    bench.get(name)!.seams.flatMap((seam) => {
      if (seen.has(seam.letter)) return [];
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
  if (rows.length === 0) return [];
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
  ];
}

function partBlock(part: Part, facts: OrderFacts, { lengths }: RunFacts): PaperBlock {
  const { order } = facts;
  const bench = facts.bench.get(part.name)!;
  const { tape, edges } = bench;
  const steps = nextSteps(facts, part.name, lengths).map(wordStep);
  const cut = tape === null ? [] : [`Tape to cut: ${lengths.mm(tape.total)}`];
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
  const several = order.quantity === 1 ? '' : `, ${counted(order.quantity, 'part')}`;
  return {
    kind: 'beside',
    svg: benchPicture(part, picture, { seams: bench.seams, left: facts.left.get(part.name)! }),
    width: picture.width,
    blocks: [
      heading(`${part.name}${several}`, 3),
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
      part.material,
      String(order.quantity),
    ]);
  if (rows.length === 0) return [];
  const columns = [
    { head: 'Part', share: 1.5 },
    { head: 'What', share: 0.7 },
    { head: 'Goes with', share: 1.3 },
    { head: 'Where', share: 1.6 },
    { head: 'Material' },
    { head: 'Number', figures: true, share: 0.6 },
  ] as const;
  return [heading('Pads, boards and underlays'), { kind: 'table', columns, rows }];
}

/**
 * Where a companion lies: a board and an underlay follow the outline of the finished carpet, a pad lies
 * where the words for its carpet say.
 */
function placeWords({ kind, piece }: Part, { set }: OrderFacts, { mm }: LengthWords): string {
  if (kind === 'pad') return 'on its face, see there';
  const { board, underlay } = set.content.pieces[piece]!;
  const inset = (kind === 'board' ? board : underlay)?.inset ?? 0;
  return inset === 0
    ? 'under it, edge to finished edge'
    : `under it, ${mm(inset)} inside the finished edge all round`;
}
