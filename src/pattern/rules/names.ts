import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import type { PieceEntry, SetContent } from '../set-file.ts';

/**
 * Rule: pieces of a set differ by more than hyphens in their names, and in the block or the side that
 * they are cut for.
 */
export function checkPieceNames({ value, placeOf }: YamlFile<SetContent>): Finding[] {
  const pieces = Object.entries(value.pieces);
  return pieces.flatMap(([name, entry], i) => {
    const before = pieces.slice(0, i);
    const where = { ...placeOf(['pieces', name]), piece: name };
    const sounding = before.find(([other]) => bareName(other) === bareName(name));
    const twin = before.find(([other, theirs]) => sameCut(other, theirs, name, entry, value));
    return [
      ...(sounding === undefined ? [] : [likeNames(name, sounding[0], where)]),
      ...(twin === undefined ? [] : [sameBlock(name, twin[0], entry, where)]),
    ];
  });
}

function bareName(name: string): string {
  return name.toLowerCase().replaceAll('-', '');
}

/**
 * Whether two pieces are drawn by the same block and may be cut for the same side. Of sides, `pair` and
 * `centre` meet every other.
 */
function sameCut(
  first: string,
  one: PieceEntry,
  second: string,
  other: PieceEntry,
  set: SetContent,
): boolean {
  if (drawingOf(first, one, set) !== drawingOf(second, other, set)) return false;
  if (one.only !== undefined && other.only !== undefined && one.only !== other.only) return false;
  const bothSides = [one, other].some(({ side }) => side === 'pair' || side === 'centre');
  return bothSides || one.side === other.side;
}

/** The file of a piece and the block in it, as one text. */
function drawingOf(name: string, { file, block }: PieceEntry, { drawing }: SetContent): string {
  const whole = file !== undefined && block === undefined;
  return [file ?? drawing, whole ? '' : (block ?? name).toUpperCase()].join('/');
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
  { block }: PieceEntry,
  where: Finding['where'],
): Finding {
  const drawn = block === undefined ? 'one drawing' : `the block "${block}"`;
  return {
    severity: 'warning',
    rule: 'same-block',
    message: `the pieces "${other}" and "${name}" are both cut from ${drawn}, for the same side.`,
    todo: 'Name another block, give them a side each, or make it one piece with "quantity:".',
    where,
  };
}
