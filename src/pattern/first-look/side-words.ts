import { sideInWord } from '../side-vocabulary.ts';
import type { Side } from '../words.ts';

/** What the name of a piece says about where it belongs, and the name without that. */
interface NamedSide {
  /** `pair`: it names both sides. null: it says nothing. */
  readonly says: Side | 'driver' | 'passenger' | 'pair' | null;
  /** The words that say it, as they stand in the name. */
  readonly words: string;
  readonly bare: string;
}

/**
 * Takes the words for left and right out of a name: a label says the side anyway, and the name would
 * contradict it on the other half of a pair. Words for a person stay: they tell what it is.
 */
export function namedSide(name: string): NamedSide {
  // R/H and FloorRH are words too.
  const plain = name
    .replaceAll(/\b([RL])[/.]\s?([HS])\b\.?/gi, '$1$2')
    .replaceAll(/([a-z])([RL]H)\b/g, '$1 $2');
  const words = plain.split(/[^\p{L}\p{N}]+/u).filter((word) => word !== '');
  const sideOf = (word: string, i: number): Side | undefined => {
    const isEnd = i === 0 || i === words.length - 1;
    return sideInWord(word, isEnd && words.length > 1);
  };
  const found = words.filter((word, i) => sideOf(word, i) !== undefined);
  const sides = new Set(words.map(sideOf).filter((side) => side !== undefined));
  const bare = words.filter((word, i) => sideOf(word, i) === undefined).join(' ');
  const [one] = sides;
  if (one !== undefined) {
    return { says: sides.size > 1 ? 'pair' : one, words: found.join(' and '), bare };
  }
  const person = words.find((word) => /^(driver|passenger)s?$/i.test(word));
  if (person === undefined) return { says: null, words: '', bare: name };
  const says = person.toLowerCase().startsWith('d') ? 'driver' : 'passenger';
  return { says, words: person, bare: name };
}

/** The word for a hand of drive in a text. undefined: it has none, or both. */
export function handIn(text: string): 'RHD' | 'LHD' | undefined {
  const found = new Set(text.toUpperCase().match(/\b[RL]HD\b/g));
  const [one] = found;
  return found.size === 1 ? (one as 'RHD' | 'LHD') : undefined;
}
