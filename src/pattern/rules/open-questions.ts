import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import { counted } from '../../base/wording.ts';
import type { PieceEntry, SetContent } from '../set-file.ts';
import { leftOutKey, numberedKey, pieceKey, textsKey } from '../set-file.ts';

/** A value that somebody must still look at. */
interface Question {
  /** null: it is about the set. */
  readonly piece: string | null;
  readonly key: string;
  /** The value as the set file has it, in words. */
  readonly value: string;
  readonly why: string;
  /** Its line under `open:`. */
  readonly path: readonly string[];
}

/**
 * Rule: no value is left that somebody must still look at. The same question about several pieces is one
 * finding. A question about a value that does not stand in the file is an error of its own.
 */
export function checkOpenQuestions(yaml: YamlFile<SetContent>): Finding[] {
  const all = questionsOf(yaml.value);
  const about = (one: Question): boolean => isOfDrawing(one) || yaml.stands(valuePath(one));
  const alike = new Map<string, Question[]>();
  for (const one of all.filter(about)) {
    const { piece, value, why } = one;
    const key = JSON.stringify(
      isOfDrawing(one) ? [one.key] : [one.key, value, why, piece === null],
    );
    alike.set(key, [...(alike.get(key) ?? []), one]);
  }
  return [
    ...[...alike.values()].map((same) => asked(same, yaml)),
    ...all.filter((one) => !about(one)).map((one) => aboutNothing(one, yaml)),
  ];
}

/** Whether a question is about what is drawn, and not about a value of the set file. */
function isOfDrawing({ piece, key }: Pick<Question, 'piece' | 'key'>): boolean {
  return piece === null
    ? key === leftOutKey || key === numberedKey
    : key === textsKey || key === pieceKey;
}

function questionsOf({ open, pieces, ...set }: SetContent): Question[] {
  const ofSet = Object.entries(open ?? {}).map(([key, why]) => ({
    piece: null,
    key,
    value: wordValue((set as Record<string, unknown>)[key]),
    why,
    path: ['open', key],
  }));
  const ofPieces = Object.entries(pieces).flatMap(([piece, entry]) =>
    Object.entries(entry.open ?? {}).map(([key, why]) => ({
      piece,
      key,
      value: wordValue(entry[key as keyof PieceEntry]),
      why,
      path: ['pieces', piece, 'open', key],
    })),
  );
  return [...ofSet, ...ofPieces];
}

function wordValue(value: unknown): string {
  return typeof value === 'object' && value !== null ? JSON.stringify(value) : String(value);
}

/** The path of the value that a question is about. */
function valuePath({ piece, key }: Question): string[] {
  return piece === null ? [key] : ['pieces', piece, key];
}

/** The finding on one question, or on the same question about several pieces. */
function asked(same: readonly Question[], yaml: YamlFile<SetContent>): Finding {
  const [first, ...rest] = same as [Question, ...Question[]];
  const where = yaml.placeOf(first.path);
  const isAlone = rest.length === 0 && first.piece !== null;
  return {
    severity: 'error',
    rule: 'open-question',
    message: isOfDrawing(first) ? drawnWords(same, yaml) : valueWords(same, yaml),
    todo: todoFor(first, rest.length > 0),
    where: isAlone ? { ...where, piece: first.piece! } : where,
  };
}

function valueWords(same: readonly Question[], yaml: YamlFile<SetContent>): string {
  const { piece, key, value, why } = same[0]!;
  const guess = `"${key}: ${value}" is a guess`;
  if (piece === null) return `${guess}: ${why}.`;
  return `${guess} on ${same.length === 1 ? 'this piece' : counted(same.length, 'piece')}: ${why}.${piecesWords(same, yaml)}`;
}

function drawnWords(same: readonly Question[], yaml: YamlFile<SetContent>): string {
  const { piece, key, why } = same[0]!;
  if (key === numberedKey) return `the layers of the drawing are numbers: ${why}.`;
  if (piece === null) return `this lies in no outline of the drawing, and no piece has it: ${why}.`;
  if (key === pieceKey) {
    const whys = same.map((one) => `${same.length === 1 ? '' : `${placed(one, yaml)} `}${one.why}`);
    return `${same.length === 1 ? 'this may be no piece' : `${counted(same.length, 'piece')} may be none`}: ${whys.join('; ')}.`;
  }
  if (same.length === 1) return `these texts on the piece may ask for something: ${why}.`;
  const each = same.map((one) => `${placed(one, yaml)} ${one.why}`);
  return `texts on ${counted(same.length, 'piece')} may ask for something: ${each.join('; ')}.`;
}

function piecesWords(same: readonly Question[], yaml: YamlFile<SetContent>): string {
  if (same.length === 1) return '';
  return ` They are ${same.map((one) => placed(one, yaml)).join(', ')}.`;
}

/** The piece, and the line of its question in the set file: `floor (line 12)`. */
function placed({ piece, path }: Question, { placeOf }: YamlFile<SetContent>): string {
  const { line } = placeOf(path);
  return line === undefined ? piece! : `${piece!} (line ${line})`;
}

function todoFor({ piece, key }: Question, isSeveral: boolean): string {
  const lines = `take "${key}" ${isSeveral ? 'out of each "open:"' : 'out of "open:"'}`;
  if (!isOfDrawing({ piece, key })) return `Correct the value where it is wrong; then ${lines}.`;
  if (key === numberedKey) {
    return `Look whether each thing in the drawing of the set is what it is taken for, and draw on another layer what is not; then ${lines}. Or import the drawing anew, and say what its layers mean.`;
  }
  if (piece !== null && key === pieceKey) {
    return `If it is one, ${lines}. If it is none, take the piece out of the set file.`;
  }
  return piece === null
    ? `It is kept in a block of its own. Draw in the block of a piece what belongs to it; then ${lines}.`
    : `Write what a text asks for into the set file: "BOTH SIDES" is "side: pair", "PILE ACROSS" is "pile: left" or "pile: right", "ONLY RHD" is "only: RHD". A text that asks for nothing needs nothing. Then ${lines}.`;
}

function aboutNothing({ piece, key, path }: Question, { placeOf }: YamlFile<SetContent>): Finding {
  const owner = piece === null ? 'the set' : 'this piece';
  return {
    severity: 'error',
    rule: 'open-names-nothing',
    message: `"open:" asks about "${key}", and ${owner} has no such key in the set file.`,
    todo: `Write the key "${key}" with its value, or take "${key}" out of "open:".`,
    where: { ...placeOf(path), ...(piece === null ? {} : { piece }) },
  };
}
