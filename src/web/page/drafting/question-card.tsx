import type { ComponentChildren, JSX } from 'preact';
import type { Question } from '../../../drafting/questions.ts';

const signs = { error: 'Asked', warning: 'Look', note: 'Note' } as const;

/** Questions about what is shown: the one that is asked now stands out. */
export function QuestionCards({
  questions,
  asked,
  wordsOf,
  answerTo,
  onGo,
}: {
  readonly questions: readonly Question[];
  readonly asked: Question | null;
  readonly wordsOf: (question: Question) => string;
  /** What answers a question right here; null: nothing does. */
  readonly answerTo: (question: Question) => ComponentChildren;
  readonly onGo: (question: Question) => void;
}): JSX.Element | null {
  if (questions.length === 0) return null;
  return (
    <ul class="question-cards" role="list" aria-label="Asked here">
      {questions.map((one) => (
        <li class={`question ${one.severity}${one.id === asked?.id ? ' now' : ''}`}>
          <strong>{signs[one.severity]}</strong>
          <div>
            <p>{wordsOf(one)}</p>
            <p class="quiet">
              {one.key === null
                ? one.todo
                : `${one.message.charAt(0).toUpperCase()}${one.message.slice(1)}`}
              {one.near !== null && ` It is ${one.near}.`}
            </p>
            {answerTo(one)}
            {one.at !== null && (
              <button class="button" onClick={() => onGo(one)}>
                Show where
              </button>
            )}
          </div>
        </li>
      ))}
    </ul>
  );
}
