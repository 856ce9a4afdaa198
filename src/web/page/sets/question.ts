import type { SetFromDrawing } from '../../api/sets.ts';

type Question = SetFromDrawing['asked'][number];

const sideQuestions: Readonly<Record<string, string>> = {
  centre: 'Is it a centre piece?',
  pair: 'Is it a pair, one for each side?',
  left: 'Is it for the left alone?',
  right: 'Is it for the right alone?',
  driver: 'Does it go with the driver?',
  passenger: 'Does it go with the passenger?',
};

/** What is asked about a key of the set file, with the value that is proposed. */
const questions: Readonly<Record<string, (value: string) => string>> = {
  title: (value) => `Is the title "${value}"?`,
  drawn: (value) => `Is ${value} the hand that is drawn?`,
  pile: (value) => `Does the pile lean ${value}?`,
  'left-out': () => 'Does it belong to a piece?',
  side: (value) => sideQuestions[value] ?? `Is its side ${value}?`,
  drawnSide: (value) => `Is the ${value} half the one that is drawn?`,
  quantity: (value) => `Are ${value} of it wanted?`,
  material: (value) => `Is it cut from ${value}?`,
  texts: () => 'Do texts on it ask for something?',
};

/** A question about a value of a set file in words, and why it is asked. */
export function questionWords({ key, value, why }: Question): string {
  const words = questions[key]?.(value ?? '') ?? `Is ${key} right?`;
  return `${words} ${why.charAt(0).toUpperCase()}${why.slice(1)}.`;
}
