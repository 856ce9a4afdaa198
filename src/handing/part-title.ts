import type { PatternSet } from '../pattern/set.ts';
import type { Part } from './part.ts';

/** What goes with a carpet, in words that follow its title. */
const companionWords = { piece: '', pad: ' heel pad', board: ' board', underlay: ' underlay' };

/**
 * What people call a part: the title of its piece, what of it is cut, its side, and which copy it is where there
 * are several: `Footrest, right`, `Footrest board, right`, `Mat, left, no. 2`.
 */
export function partTitle(
  { piece, kind, side, name }: Pick<Part, 'piece' | 'kind' | 'side' | 'name'>,
  { pieces }: PatternSet['content'],
): string {
  const copy = /-(\d+)$/.exec(name.slice(piece.length))?.[1];
  return [
    `${pieces[piece]?.title ?? inWords(piece)}${companionWords[kind]}`,
    ...(side === null ? [] : [side]),
    ...(copy === undefined ? [] : [`no. ${copy}`]),
  ].join(', ');
}

/** `wheel-box-side` as `Wheel box side`. */
function inWords(name: string): string {
  const words = name.replaceAll('-', ' ');
  return `${words[0]!.toUpperCase()}${words.slice(1)}`;
}
