import type { FinishKind } from '../../pattern/shop/binding.ts';

/** How papers speak of what is done to edges that are finished. */
interface FinishWords {
  /** The verb of the bench's step. */
  readonly verb: string;
  /** What is done, for the office: `binding`. */
  readonly work: string;
  /** Over the table of what it takes. */
  readonly heading: string;
  /** What edges in pictures are. */
  readonly done: string;
  /** The head of the column of what it takes in all. */
  readonly inAll: string;
  /** What it takes for one part. */
  readonly forPart: string;
}

const words: Readonly<Record<FinishKind, FinishWords>> = {
  tape: {
    verb: 'Bind',
    work: 'binding',
    heading: 'Tape',
    done: 'bound',
    inAll: 'To cut in all',
    forPart: 'Tape to cut',
  },
  overlock: {
    verb: 'Overlock',
    work: 'overlocking',
    heading: 'Overlocking',
    done: 'overlocked',
    inAll: 'To overlock in all',
    forPart: 'To overlock, with overlaps',
  },
};

/** The words for a finish. Those for tape where a set names no finish. */
export function finishWords(finish: { readonly kind: FinishKind } | null): FinishWords {
  return words[finish?.kind ?? 'tape'];
}
