import type { Hand, Side } from '../words.ts';
import { hands } from '../words.ts';

/** What the name of a piece says about where it belongs, and the name without that. */
interface NamedSide {
  /** `pair`: it names both sides. null: it says nothing. */
  readonly says: Side | 'driver' | 'passenger' | 'pair' | null;
  /** The words that say it, as they stand in the name. */
  readonly words: string;
  readonly bare: string;
}

const sideWords: Readonly<Record<string, Side>> = {
  rh: 'right',
  rhs: 'right',
  right: 'right',
  lh: 'left',
  lhs: 'left',
  left: 'left',
};

/** Single letters count only at the ends of a name: `type R mat` is no right mat. */
const sideLetters: Readonly<Record<string, Side>> = { r: 'right', l: 'left' };

/**
 * Takes the words for left and right out of a name: a label says the side anyway, and the name would
 * contradict it on the other half of a pair. Words for a person stay: they tell what it is.
 */
export function namedSide(name: string): NamedSide {
  // R/H and FloorRH are words too, and L+R are two.
  const plain = name
    .replaceAll(/\b([RL])H?\s*(?:[&+/]|\band\b)\s*([RL])H?\b/gi, '$1H $2H')
    .replaceAll(/\b([RL])[/.]\s?([HS])\b\.?/gi, '$1$2')
    .replaceAll(/([a-z])([RL]H)\b/g, '$1 $2');
  const words = plain.split(/[^\p{L}\p{N}]+/u).filter((word) => word !== '');
  const sideOf = (word: string, i: number): Side | undefined => {
    const isEnd = i === 0 || i === words.length - 1;
    return sideWords[word.toLowerCase()] ?? (isEnd ? sideLetters[word.toLowerCase()] : undefined);
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

/**
 * Whether a text says that a piece is wanted for both sides. A half that is to be mirrored, or what is mirrored on its
 * centreline, is one piece.
 */
export function saysPair(text: string): boolean {
  if (/\bmirror/i.test(text) && !saysHalf(text)) return true;
  return /\bpairs?\b|\beach side\b|\bboth sides\b|\bhanded\b|\bopp(osite|\.)?[ -]hand|\b(1|one)( off)? each\b|\b(RH?|RIGHT)\s*([&+/]|AND)\s*(LH?|LEFT)\b|\b(LH?|LEFT)\s*([&+/]|AND)\s*(RH?|RIGHT)\b/i.test(
    text,
  );
}

/** Whether a text says that only half of a piece is drawn. */
export function saysHalf(text: string): boolean {
  return /\bhalf\b|\bon (the )?fold\b|\bmirror(ed)? (on|in|about|at) (the )?(cl|c\/l|cent(re|er)[ -]?line)\b/i.test(
    text,
  );
}

/** How many of a piece a text asks for. */
interface AskedNumber {
  readonly count: number;
  /** Whether so many are meant for each side, and not in all. */
  readonly isEach: boolean;
}

const numberWords = ['one', 'two', 'three', 'four', 'five', 'six'];
const oneNumber = String.raw`\b(\d{1,2}|${numberWords.join('|')})`;
const eachSide = String.raw`(?:each|per|both)[ -](?:sides?|hands?)`;
const opposite = String.raw`opp(?:osite|\.)?[ -]hand(?:ed)?`;

/** Each has the number as its first group. */
const askedForEach = new RegExp(
  String.raw`${oneNumber}(?:[ -]off)?[ -](?:pairs?|${eachSide}|a[ -]side|each)\b`,
  'i',
);
const askedInAll = [
  new RegExp(String.raw`${oneNumber}[ -]?off\b`, 'i'),
  /\b(?:qty|quantity)[ .:-]*(\d{1,2})\b/i,
  /\b(\d{1,2})[ ]?x\b(?![ ]?\d)/i,
  /(?<![\d][ ]?)\bx[ ]?(\d{1,2})\b/i,
];

/** How many of a piece a text asks for. null: it does not say. */
export function askedNumber(text: string): AskedNumber | null {
  const asNumber = (word: string): number =>
    numberWords.indexOf(word.toLowerCase()) + 1 || Number(word);
  const each = askedForEach.exec(text)?.[1];
  if (each !== undefined) return { count: asNumber(each), isEach: true };
  const all = askedInAll.map((one) => one.exec(text)?.[1]).find((found) => found !== undefined);
  return all === undefined ? null : { count: asNumber(all), isEach: false };
}

/** Words that say how many are wanted and for which side, which are no part of a name. */
const wishWords = [
  askedForEach,
  ...askedInAll,
  new RegExp(String.raw`\b(?:pairs?|handed|${eachSide}|${opposite})\b`, 'i'),
].map(({ source }) => new RegExp(source, 'gi'));

/**
 * The name of a piece without words for left and right, and without those that say how many are wanted:
 * `sill carpet` of `sill carpet - 1 each side`. As it is, if nothing else is in it.
 */
export function bareName(name: string): string {
  const { bare } = namedSide(name);
  const left = wishWords.reduce((rest, wish) => rest.replace(wish, ' '), bare);
  return /\p{L}/u.test(left) ? left.replaceAll(/\s+/g, ' ').trim() : bare;
}

const pileWays = { rear: 'rearward', back: 'rearward', aft: 'rearward', front: 'forward' } as const;
const directions = {
  forward: 'forward',
  rearward: 'rearward',
  left: 'left',
  right: 'right',
} as const;

/**
 * The way in which a text says that the pile leans: `nap to rear`. null: it says none, or more than one,
 * or that it is not so.
 */
export function pileIn(text: string): 'forward' | 'rearward' | 'left' | 'right' | null {
  if (!/\b(pile|nap)\b/i.test(text) || /\b(not?|never|opposite|against|either|any)\b/i.test(text))
    return null;
  const found = new Set(
    [...text.toLowerCase().matchAll(/\b(?:pile|nap)\b[^.;,]*/g)].flatMap(([said]) => [
      ...[
        ...said.matchAll(/\b(?:to|towards?)\s+(?:the\s+)?(rear|back|aft|front|left|right)\b/g),
      ].map(([, word]) => ({ ...pileWays, ...directions })[word as keyof typeof pileWays]),
      ...[...said.matchAll(/\b(forward|rearward)s?\b/g)].map(
        ([, word]) => directions[word as keyof typeof directions],
      ),
    ]),
  );
  const [one] = found;
  return found.size === 1 ? one! : null;
}

/** The words for a hand of drive in a text, each once. */
export function handsIn(text: string): Hand[] {
  const found = new Set(text.toUpperCase().match(/\b[RL]HD\b/g));
  return hands.filter((hand) => found.has(hand));
}
