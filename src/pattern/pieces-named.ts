import { wordsJoined } from './edge-names.ts';
import type { SetContent } from './set-file.ts';

/**
 * The pieces that a free text of the set file means: those whose name or title is a thing that the text lists, or
 * whose name begins with it if no piece is called just that. `the wheel boxes` are `wheel-box-side` and
 * `wheel-box-top`. `names`: the pieces that come in question.
 */
export function piecesNamedIn(
  text: string,
  { pieces }: Pick<SetContent, 'pieces'>,
  names: readonly string[] = Object.keys(pieces),
): string[] {
  const titles = new Map(
    names.map((name) => [name, wordsJoined(pieces[name]!.title ?? '')] as const),
  );
  return phrasesOf(text).flatMap((phrase) => piecesMeant(phrase, names, titles));
}

/** The things that a text lists, each without its article. */
function phrasesOf(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[,;.()]|\band\b|&/)
    .map((part) => part.trim().replace(/^(?:the|an?|its|both) /, ''));
}

function piecesMeant(
  phrase: string,
  names: readonly string[],
  titles: ReadonlyMap<string, string>,
): string[] {
  const slug = phrase.replaceAll(/\s+/g, '-');
  const called = [slug, slug.replace(/s$/, ''), slug.replace(/es$/, '')].filter(
    (one) => one !== '',
  );
  const exact = names.filter((name) => called.includes(name) || called.includes(titles.get(name)!));
  if (exact.length > 0) return exact;
  return names.filter((name) => called.some((one) => name.startsWith(`${one}-`)));
}
