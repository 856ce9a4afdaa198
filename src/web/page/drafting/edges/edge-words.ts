import type { StretchView } from '../../../../drafting/edge-view.ts';
import type { EdgeKind } from '../../../../pattern/words.ts';

/** What happens to an edge, in the words of the bench. */
export const benchWords: Readonly<Record<EdgeKind, string>> = {
  bound: 'bound',
  seam: 'sewn',
  tuck: 'tucked',
  turned: 'turned under',
  raw: 'left raw',
};

export const undecidedWords = 'not said';

/** What hides edges of a kind, as a field asks for it. */
export const underLabels = { raw: 'Covered by', tuck: 'It goes under' } as const;

/** What a stretch is called: its name, or its number round the piece from 1. */
export function stretchName({ name }: Pick<StretchView, 'name'>, index: number): string {
  return name ?? `edge ${index + 1}`;
}

/** What happens to a stretch: `left raw, covered by the sill`. */
export function stretchWords({
  kind,
  saidBy,
  hiddenBy,
}: Pick<StretchView, 'kind' | 'saidBy' | 'hiddenBy'>): string {
  if (kind === null) return undecidedWords;
  const under = kind === 'raw' ? 'covered by' : 'under';
  const words = [
    benchWords[kind],
    ...(hiddenBy === null ? [] : [`${under} ${hiddenBy}`]),
    ...(saidBy === 'rest' ? ['as all the rest'] : []),
  ];
  return words.join(', ');
}
