import type { PadFacts } from '../../handing/bench-facts.ts';
import type { LeftWork } from '../../knife/left-work.ts';
import type { OrderFacts } from './run-facts.ts';
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
 * fixed to. `name`: the part's in its set. Empty if nothing happens.
 */
export function nextSteps(
  { order, bench, left }: OrderFacts,
  name: string,
  { mm }: LengthWords,
): BenchStep[] {
  const { edges, tape, seams, pads, under, carpet } = bench.get(name)!;
  const bound = order.binding === undefined ? '' : ` in ${order.binding}`;
  return [
    ...left.get(name)!.map(leftStep),
    ...(edges.turned > 0 ? [{ verb: 'Turn under', words: mm(edges.turned) }] : []),
    ...(edges.bound > 0
      ? [
          {
            verb: 'Bind',
            words: `${mm(edges.bound)}${bound}${tape === null ? '' : `, ${counted(tape.runs, 'run')}`}`,
          },
        ]
      : []),
    ...pads.map(({ pad }) => ({
      verb: 'Pad',
      words: pad === null ? 'stitch it on' : `stitch on ${pad}`,
    })),
    ...seams.map(({ letter, partner }) => ({ verb: 'Sew', words: `${letter} to ${partner}` })),
    ...under.map(({ kind, part }) => ({
      verb: kind === 'board' ? 'Board' : 'Underlay',
      words: kind === 'board' ? `fix to ${part}` : `lies on ${part}`,
    })),
    ...(carpet === null ? [] : [{ verb: 'Goes with', words: carpet }]),
  ];
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
