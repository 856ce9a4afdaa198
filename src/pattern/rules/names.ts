import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import type { PieceEntry, SetContent } from '../set-file.ts';
import type { Hand } from '../words.ts';
import { hands } from '../words.ts';
import { entrySide } from './side-names.ts';

/**
 * Rule: pieces of a set differ by more than hyphens in their names, in what papers call them, and in the block or the side that
 * they are cut for.
 */
export function checkPieceNames({ value, placeOf }: YamlFile<SetContent>): Finding[] {
  const pieces = Object.entries(value.pieces);
  return pieces.flatMap(([name, entry], i) => {
    const before = pieces.slice(0, i);
    const where = { ...placeOf(['pieces', name]), piece: name };
    const sounding = before.find(
      ([other]) => nameWithoutHyphens(other) === nameWithoutHyphens(name),
    );
    const twin = before
      .map(([other, theirs]) => ({ other, hand: sameCut(other, theirs, name, entry, value) }))
      .find(({ hand }) => hand !== null);
    const titled = before.find(([other, { title }]) => {
      return calledOn(other, title) === calledOn(name, entry.title);
    });
    return [
      ...(titled === undefined || sounding !== undefined ? [] : [oneTitle(name, titled[0], where)]),
      ...(sounding === undefined ? [] : [likeNames(name, sounding[0], where)]),
      ...(twin === undefined ? [] : [sameBlock(name, twin.other, twin.hand!, entry, where)]),
    ];
  });
}

function nameWithoutHyphens(name: string): string {
  return name.toLowerCase().replaceAll('-', '');
}

/**
 * Whether two pieces are drawn by the same block and cut for the same side: in `both` hands, or in one of
 * them. null: they are not. Of sides, `pair` and `centre` meet every other.
 */
function sameCut(
  first: string,
  one: PieceEntry,
  second: string,
  other: PieceEntry,
  set: SetContent,
): Hand | 'both' | null {
  if (drawingOf(first, one, set) !== drawingOf(second, other, set)) return null;
  const meets = (hand: Hand): boolean =>
    [one, other].every(({ only }) => only === undefined || only === hand) &&
    ([one, other].some(({ side }) => side === 'pair' || side === 'centre') ||
      entrySide(one, hand) === entrySide(other, hand));
  const [found, ...more] = hands.filter(meets);
  return found === undefined ? null : more.length > 0 ? 'both' : found;
}

/** The file of a piece and the block in it, as one text. */
function drawingOf(name: string, { file, block }: PieceEntry, { drawing }: SetContent): string {
  const whole = file !== undefined && block === undefined;
  return [file ?? drawing, whole ? '' : (block ?? name).toUpperCase()].join('/');
}

/** What papers call a piece, as far as people tell such words apart. */
function calledOn(name: string, title: string | undefined): string {
  return (title ?? name.replaceAll('-', ' ')).trim().toLowerCase();
}

function oneTitle(name: string, other: string, where: Finding['where']): Finding {
  return {
    severity: 'warning',
    rule: 'one-title',
    message: `papers call the pieces "${other}" and "${name}" by one title.`,
    todo: 'Give one of them another "title:": bench, packer and customer go by it.',
    where,
  };
}

function likeNames(name: string, other: string, where: Finding['where']): Finding {
  return {
    severity: 'warning',
    rule: 'like-names',
    message: `the pieces "${other}" and "${name}" are told apart by hyphens alone.`,
    todo: 'Rename one: on a label they are one name.',
    where,
  };
}

function sameBlock(
  name: string,
  other: string,
  hand: Hand | 'both',
  { block }: PieceEntry,
  where: Finding['where'],
): Finding {
  const drawn = block === undefined ? 'one drawing' : `the block "${block}"`;
  return {
    severity: 'warning',
    rule: 'same-block',
    message: `the pieces "${other}" and "${name}" are both cut from ${drawn}, for the same side${hand === 'both' ? '' : ` in ${hand}`}.`,
    todo: 'Name another block, give them a side each, or make it one piece with "quantity:".',
    where,
  };
}
