import type { Question } from '../../../drafting/questions.ts';
import type { DraftHead, PieceView } from '../../../drafting/view.ts';
import { capital } from '../words.ts';

const sideQuestions: Readonly<Record<string, string>> = {
  centre: 'Is it a centre piece?',
  pair: 'Is it a pair, one for each side?',
  left: 'Is it for the left alone?',
  right: 'Is it for the right alone?',
  driver: 'Does it go with the driver?',
  passenger: 'Does it go with the passenger?',
};

/** What is asked about a key of the set file, with the value that is proposed. */
const keyQuestions: Readonly<Record<string, (value: string) => string>> = {
  title: (value) => `Is the set called “${value}”?`,
  drawn: (value) => `Is ${value} the hand that is drawn?`,
  pile: (value) => `Does the pile lean ${value}?`,
  'numbered-layers': () => 'Is each thing what its layer’s number says?',
  layers: () => 'Which lines are the outlines?',
  options: () => 'Are these the options of the vehicle?',
  drawing: () => 'The desk has written the drawing anew: was what was doubtful in it right?',
  decided: (value) => `Is it still right: “${value}”?`,
  'left-out': () => 'What lies in no outline: does it belong to a piece?',
  side: (value) => sideQuestions[value] ?? `Is its side ${value}?`,
  drawnSide: (value) => `Is the ${value} half the one that is drawn?`,
  quantity: (value) => (value === '' ? 'Is one of it wanted?' : `Are ${value} of it wanted?`),
  half: () => 'Is only one half of it drawn?',
  material: (value) => `Is it cut from ${value}?`,
  piece: () => 'Is it a piece of its own?',
  texts: () => 'Do texts on it ask for something?',
};

/** A question in one sentence. What is found by a rule says itself. */
function questionWords(
  { key, message, when }: Question,
  piece: PieceView | null,
  head: DraftHead,
): string {
  if (key === null) return capital(when === null ? message : `${when}: ${message}`);
  const said: Readonly<Record<string, unknown>> = piece === null ? head.said : piece.said;
  const value = said[key];
  return (
    keyQuestions[key]?.(typeof value === 'object' ? '' : String(value ?? '')) ?? `Is ${key} right?`
  );
}

/** Gives questions about a draft in one sentence each. */
export function wordsIn(
  head: DraftHead,
  pieces: ReadonlyMap<string, PieceView>,
): (question: Question) => string {
  return (one) =>
    questionWords(one, one.piece === null ? null : (pieces.get(one.piece) ?? null), head);
}

/** What to do about a question of a rule at the desk, where that is not to write into a file. */
const deskTodos: Readonly<Record<string, string>> = {
  'no-pile': 'It is known as soon as it is said where the front of the vehicle is.',
  'pad-material': 'Say what it is cut from.',
  'no-binding': 'Say which tape goes round them.',
  'one-sided': 'Choose below whom it goes with, or say why it is right so.',
  'pad-one-sided': 'Choose below whom it goes with, or say why it is right so.',
  'suffix-elsewhere': 'Choose below whom it goes with, or say why it is right so.',
  'no-axis':
    'Draw the vehicle’s centreline: in the middle here, or by two points under “Centreline”.',
  'axis-off-middle': 'Move it here, or draw it by two points under “Centreline”.',
  'besides-pair': 'Make the two one pair below, take this piece out, or say why there are three.',
  'pile-direction':
    'Say below how it leans on this piece, or how it leans on all of them under “The whole set”.',
  'raw-on-show': 'Say below what covers it, or finish the edge otherwise.',
  'cutouts-overlap':
    'Move one, or draw them as one. If the inner one is a small piece of its own that was drawn there to save carpet, choose it and say so.',
  'seam-place':
    'Take the seam off and sew the edge that lies there; or drag the pieces to their places on the plan of the whole set.',
  unplaced: 'Drag each to its place on the plan of the whole set.',
  stacked: 'Drag each to its place on the plan of the whole set.',
};

/** What to do about a question that a rule asks. */
export function todoWords({ rule, todo, gap }: Question): string {
  if (rule === 'open-contour' && gap !== null) {
    return 'Close it with a straight line, if it runs straight there. Otherwise close it in the drawing.';
  }
  return deskTodos[rule] ?? todo;
}
