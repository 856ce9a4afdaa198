import type { BenchFacts, PadFacts, SeamFacts, UnderFacts } from '../../handing/bench-facts.ts';
import { edgeColourOf } from '../../handing/order-choices.ts';
import { isFixedOn } from '../../handing/fixing.ts';
import type { LeftWork } from '../../knife/left-work.ts';
import type { Work } from '../../pattern/shop/bench.ts';
import { loose } from '../../pattern/shop/material.ts';
import { finishWords } from './finish-words.ts';
import type { OrderFacts } from './run-facts.ts';
import { isOrdered } from './run-facts.ts';
import type { LengthWords } from '../../base/wording.ts';
import { counted } from '../../base/wording.ts';

/** One thing that is done to a part once it is cut. */
export interface BenchStep {
  /** What is done, in one or two words that are read first. */
  readonly verb: string;
  readonly words: string;
  /** Figures for the sewing sheet, for which a label has no room. */
  readonly figures?: string;
}

/** A step in words: `Bind: 812 mm in black`. */
export function wordStep({ verb, words }: BenchStep): string {
  return `${verb}: ${words}`;
}

/** A step in words with its figures. */
export function wordStepWhole(step: BenchStep): string {
  return [wordStep(step), ...(step.figures === undefined ? [] : [step.figures])].join('; ');
}

/**
 * What happens to a part of an order after cutting, in the order in which the shop's bench works: what the knife has
 * left is cut by hand first; what it is laid on comes last. What it is to go with and the order does not have is said
 * to be missing. `name`: the part's in its set. Empty if nothing happens.
 */
export function nextSteps(facts: OrderFacts, name: string, lengths: LengthWords): BenchStep[] {
  const bench = facts.bench.get(name)!;
  const { seams, unsewn, under, carpet } = bench;
  const steps: Readonly<Record<Work, () => BenchStep[]>> = {
    bind: () => bindSteps(facts, bench, lengths),
    sew: () => [
      ...seams
        .filter(({ partner }) => isOrdered(facts, partner))
        .map((seam) => seamStep(seam, facts)),
      ...stitchSteps(facts, name, lengths),
    ],
    turn: () => turnSteps(bench, lengths),
    board: () => boardSteps(facts, bench, lengths),
    pad: () => bench.pads.filter(isFixedPad).map((pad) => padStep(pad, facts, lengths)),
  };
  return [
    ...facts.left.get(name)!.map((one) => leftStep(one)),
    ...facts.works.flatMap((work) => steps[work]()),
    ...seams
      .filter(({ partner }) => !isOrdered(facts, partner))
      .map((seam) => seamStep(seam, facts)),
    ...unsewn.map((length) => unsewnStep(length, lengths)),
    ...under
      .filter((one) => !isFixedBoard(one))
      .map((one) => ({
        verb: one.kind === 'board' ? 'Board' : 'Underlay',
        words: underWords(one, facts, 'lies on'),
      })),
    ...bench.pads.filter((one) => !isFixedPad(one)).map((one) => padStep(one, facts, lengths)),
    ...(carpet === null ? [] : [{ verb: 'Goes with', words: orMissing(carpet, facts, carpet) }]),
  ];
}

/** The parts of an order on which something of a work is done, by their names in the set. */
export function workedOn({ bench, left }: OrderFacts, work: Work | 'by hand'): string[] {
  const isDone: Readonly<Record<typeof work, (one: BenchFacts) => boolean>> = {
    'by hand': ({ part }) => left.get(part)!.length > 0,
    bind: ({ edges }) => edges.bound > 0,
    sew: ({ stitch, stitchOnPads }) => stitch > stitchOnPads,
    turn: ({ edges, wrap }) => edges.turned > 0 && wrap?.kind !== 'turned',
    board: ({ under }) => under.some(isFixedBoard),
    pad: ({ pads }) => pads.some(isFixedPad),
  };
  return [...bench.values()].filter(isDone[work]).map(({ part }) => part);
}

function bindSteps(
  { order, set }: OrderFacts,
  { edges, tape }: BenchFacts,
  { mm }: LengthWords,
): BenchStep[] {
  if (edges.bound === 0) return [];
  const colour = edgeColourOf(order);
  const words = `${mm(edges.bound)}${colour === undefined ? '' : ` in ${colour}`}`;
  return [
    {
      verb: finishWords(set.binding).verb,
      words: tape === null || tape.runs === 1 ? words : `${words}, ${tape.runs} runs`,
    },
  ];
}

/** The tape to cut for a part. null: none is bound, or its edges are finished without tape. */
export function tapeStep(
  { set, order }: OrderFacts,
  { tape }: BenchFacts,
  { mm }: LengthWords,
): BenchStep | null {
  if (tape === null || set.binding?.kind !== 'tape') return null;
  const colour = edgeColourOf(order);
  return {
    verb: 'Cut tape',
    words: `${tape.pieces.map((piece) => mm(piece)).join(' and ')}${colour === undefined ? '' : `, ${colour}`}`,
  };
}

/** The stitch lines that hold no heel pad, and what they hold. */
function stitchSteps(facts: OrderFacts, name: string, { mm }: LengthWords): BenchStep[] {
  const { stitch, stitchOnPads } = facts.bench.get(name)!;
  const length = stitch - stitchOnPads;
  if (length < 0.5) return [];
  const piece = [...facts.parts, ...facts.others].find((part) => part.name === name)?.piece;
  const holds = piece === undefined ? undefined : facts.set.content.pieces[piece]?.stitched;
  return [
    {
      verb: 'Stitch',
      words: `${mm(length)}, ${holds === undefined ? 'the set does not say what it holds' : `to hold ${holds}`}`,
    },
  ];
}

function turnSteps(bench: BenchFacts, { mm }: LengthWords): BenchStep[] {
  const { edges, wrap, added } = bench;
  if (edges.turned === 0 || wrap?.kind === 'turned') return [];
  const words = `${mm(edges.turned)}, ${mm(added?.turned ?? 0)} deep${held(bench)}`;
  return [{ verb: 'Turn under', words }];
}

function isFixedBoard({ kind, fixed }: UnderFacts): boolean {
  return kind === 'board' && isFixedOn(kind, fixed);
}

function isFixedPad({ fixed }: PadFacts): boolean {
  return isFixedOn('pad', fixed);
}

function held({ edgesFixed }: BenchFacts): string {
  return edgesFixed === null ? '' : `, ${edgesFixed}`;
}

function boardSteps(facts: OrderFacts, bench: BenchFacts, { mm }: LengthWords): BenchStep[] {
  const { wrap, under } = bench;
  if (wrap !== null && !wrap.isBoardThere) {
    const words = `${mm(wrap.length)} round the board, which is not in this order: leave it as cut`;
    return [{ verb: 'Wrap', words }];
  }
  return under.filter(isFixedBoard).flatMap((board): BenchStep[] => {
    const figures =
      board.inset === 0 ? 'edge to edge' : `${mm(board.inset)} inside the finished edge`;
    const step = { verb: 'Board', words: underWords(board, facts, 'fix to'), figures };
    if (wrap === null || !isOrdered(facts, board.part)) return [step];
    const words = `${mm(wrap.length)} round the board, ${mm(wrap.over)} beyond its edge${held(bench)}`;
    return [step, { verb: 'Wrap', words }];
  });
}

/** What a part is fixed to or lies on, and how, or that it is missing. */
function underWords({ part, fixed }: UnderFacts, facts: OrderFacts, verb: string): string {
  if (fixed === loose) return orMissing(part, facts, `${part}, loose`);
  return orMissing(part, facts, fixed === null ? `${verb} ${part}` : `${part}, ${fixed}`);
}

function padStep(pad: PadFacts, facts: OrderFacts, lengths: LengthWords): BenchStep {
  const how = isFixedPad(pad) ? `${pad.fixed ?? 'stitched'} on` : loose;
  const words = pad.pad === null ? how : orMissing(pad.pad, facts, `${pad.pad}, ${how}`);
  return { verb: 'Pad', words, figures: padPlace(pad, lengths) };
}

/** The words for a part that is there, or that it is not in the order. */
function orMissing(part: string, facts: OrderFacts, words: string): string {
  return isOrdered(facts, part) ? words : `${part}, which is not in this order`;
}

/** A seam as a step: to sew it, or that what it joins is not in the order. */
export function seamStep({ letter, partner }: SeamFacts, facts: OrderFacts): BenchStep {
  if (isOrdered(facts, partner)) return { verb: 'Sew', words: `${letter} to ${partner}` };
  const words = `to ${partner}, which is not in this order; its allowance is left`;
  return { verb: `Seam ${letter}`, words };
}

/** A seam edge that is sewn to nothing, as a step. `length`: mm. */
export function unsewnStep(length: number, { mm }: LengthWords): BenchStep {
  const words = 'sewn to nothing here; its allowance is left';
  return { verb: `Seam edge, ${mm(length)}`, words };
}

/** What the knife has left to be done by hand, as a step. `where`: where it is seen. */
export function leftStep({ kind, places, below }: LeftWork, where = 'where ringed'): BenchStep {
  const count = places.length;
  switch (kind) {
    case 'holes':
      return { verb: 'Punch', words: `${counted(count, 'hole')}, ${where}` };
    case 'cutouts':
      return { verb: 'Cut by hand', words: `${counted(count, 'cutout')}, ${where}` };
    case 'notches':
      return { verb: 'Notch', words: `${count} by hand, ${where}` };
    case 'corners':
      return { verb: 'Free', words: `${counted(count, 'corner')} from the ${below}, ${where}` };
  }
}

/** Where a pad goes on its part, as seen in the vehicle. */
function padPlace(pad: PadFacts, { mm }: LengthWords): string {
  return `${mm(pad.width)} wide, ${mm(pad.length)} long; ${mm(pad.fromLeft)} from the left, ${mm(pad.fromRight)} from the right, ${mm(pad.fromFront)} from the front, ${mm(pad.fromRear)} from the rear, measured through its middle`;
}
