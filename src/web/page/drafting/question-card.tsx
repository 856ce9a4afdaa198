import type { ComponentChildren, JSX } from 'preact';
import { todoWords } from './question-words.ts';
import type { Question } from '../../../drafting/questions.ts';
import { capital } from '../words.ts';

const signs = { error: 'Asked', warning: 'Look', note: 'Note' } as const;

/** The question that is asked now, with what answers it, and the others about what is shown in one line each. */
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
  const now = questions.find(({ id }) => id === asked?.id) ?? questions[0]!;
  const others = questions.filter((one) => one !== now);
  return (
    <>
      <section class={`question ${now.severity}`} aria-label="Asked now" tabindex={-1}>
        <p>
          <strong>{signs[now.severity]}: </strong>
          {wordsOf(now)}
        </p>
        <p class="quiet">
          {now.key === null ? todoWords(now) : capital(now.message)}
          {now.near !== null && ` It is ${now.near}.`}
        </p>
        {answerTo(now)}
        {now.at !== null && now.id !== asked?.id && (
          <button class="button" onClick={() => onGo(now)}>
            Show where
          </button>
        )}
      </section>
      {others.length > 0 && (
        <ul class="other-questions" role="list" aria-label="Also asked here">
          {others.map((one) => (
            <li>
              <button class={`question-line ${one.severity}`} onClick={() => onGo(one)}>
                {wordsOf(one)}
              </button>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
