import type { Hand, Side } from '../../pattern/words.ts';
import type { BenchStep } from '../facts/next-steps.ts';
import type { LabelWords, ShapeWords } from '../facts/order-words.ts';
import type { CountInOrder } from '../facts/count-in-order.ts';

/** What stands on the label of a part. */
export interface PartLabel {
  /** The part's label, which is also what the code holds. */
  readonly label: string;
  readonly name: string;
  readonly side: Side | null;
  readonly hand: Hand;
  readonly order: string;
  readonly set: number;
  /** Which of the parts of its order it is. Left out: nobody counts. */
  readonly place?: CountInOrder;
  /** The title of the set. */
  readonly title: string;
  /** The options that shape it. Left out: none does. */
  readonly shape?: readonly ShapeWords[];
  /** What its order says of it. What has no room is left out. */
  readonly words?: LabelWords;
  readonly steps: readonly BenchStep[];
  /** A picture of the part in the size pictureSize. */
  readonly svg: string;
  /** A word to be read before all others, for example on a part that is cut again. */
  readonly mark?: string;
}
