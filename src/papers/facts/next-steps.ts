import type { PadFacts, SeamFacts } from '../../handing/bench-facts.ts';
import { edgeColourOf } from '../../handing/order-choices.ts';
import type { LeftWork } from '../../knife/left-work.ts';
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
}

/** A step in words: `Bind: 812 mm in black`. */
export function wordStep({ verb, words }: BenchStep): string {
  return `${verb}: ${words}`;
}

/**
 * What happens to a part of an order after cutting, in the order of the bench: what the knife has left is
 * cut by hand, edges are turned under and bound, pads stitched on, seams sewn, and what it is laid on or
 * fixed to. What it is to go with and the order does not have is said to be missing. `name`: the part's
 * in its set. Empty if nothing happens.
 */
export function nextSteps(facts: OrderFacts, name: string, lengths: LengthWords): BenchStep[] {
  const { mm } = lengths;
  const { order, set, bench, left } = facts;
  const { edges, tape, seams, unsewn, pads, under, carpet } = bench.get(name)!;
  const colour = edgeColourOf(order);
  const bound = colour === undefined ? '' : ` in ${colour}`;
  return [
    ...left.get(name)!.map(leftStep),
    ...(edges.turned > 0 ? [{ verb: 'Turn under', words: mm(edges.turned) }] : []),
    ...(edges.bound > 0
      ? [
          {
            verb: finishWords(set.binding).verb,
            words: `${mm(edges.bound)}${bound}${tape === null ? '' : `, ${counted(tape.runs, 'run')}`}`,
          },
        ]
      : []),
    ...pads.map(({ pad }) => ({
      verb: 'Pad',
      words: pad === null ? 'stitch it on' : orMissing(pad, facts, `stitch on ${pad}`),
    })),
    ...seams.map((seam) => seamStep(seam, facts)),
    ...unsewn.map((length) => unsewnStep(length, lengths)),
    ...under.map(({ kind, part }) => ({
      verb: kind === 'board' ? 'Board' : 'Underlay',
      words: orMissing(part, facts, kind === 'board' ? `fix to ${part}` : `lies on ${part}`),
    })),
    ...(carpet === null ? [] : [{ verb: 'Goes with', words: orMissing(carpet, facts, carpet) }]),
  ];
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

/** What the knife has left to be done by hand, as a step. */
export function leftStep({ kind, places, below }: LeftWork): BenchStep {
  const count = places.length;
  switch (kind) {
    case 'holes':
      return { verb: 'Punch', words: `${counted(count, 'hole')}, where ringed` };
    case 'cutouts':
      return { verb: 'Cut by hand', words: `${counted(count, 'cutout')}, where ringed` };
    case 'notches':
      return { verb: 'Notch', words: `${count} by hand, where ringed` };
    case 'corners':
      return { verb: 'Free', words: `${counted(count, 'corner')} from the ${below}, where ringed` };
  }
}

/** Where a pad goes on its part, as seen in the vehicle. */
export function padPlace(pad: PadFacts, { mm }: LengthWords): string {
  return `${mm(pad.width)} wide, ${mm(pad.length)} long; ${mm(pad.fromLeft)} from the left, ${mm(pad.fromRight)} from the right, ${mm(pad.fromFront)} from the front, ${mm(pad.fromRear)} from the rear of the part at its widest`;
}
