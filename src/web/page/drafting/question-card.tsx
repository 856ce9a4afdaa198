import type { JSX } from 'preact';
import type { Question } from '../../../drafting/questions.ts';

const signs = { error: 'Asked', warning: 'Look', note: 'Note' } as const;

/** Questions about what is shown: the one that is asked now stands out. */
export function QuestionCards({
  questions,
  asked,
  wordsOf,
  onYes,
  onGo,
}: {
  readonly questions: readonly Question[];
  readonly asked: Question | null;
  readonly wordsOf: (question: Question) => string;
  /** Answers a guess of the set file: what it says is right. */
  readonly onYes: (key: string) => void;
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
            <div class="actions">
              {one.key !== null && (
                <button class="button accent" onClick={() => onYes(one.key!)}>
                  {one.key === 'texts' || one.key === 'left-out'
                    ? 'I have looked: nothing to do'
                    : 'Yes, it is so'}
                </button>
              )}
              {one.at !== null && (
                <button class="button" onClick={() => onGo(one)}>
                  Show where
                </button>
              )}
            </div>
          </div>
        </li>
      ))}
    </ul>
  );
}
