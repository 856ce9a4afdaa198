import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Question } from '../../../drafting/questions.ts';
import { counted } from '../words.ts';

/** One line: how much is left, the question that is asked now, and the way to the next. */
export function QuestionBar({
  questions,
  asked,
  words,
  isChecking,
  onGo,
}: {
  /** null: not known yet. */
  readonly questions: readonly Question[] | null;
  readonly asked: Question | null;
  /** What is asked now, in words. */
  readonly words: string;
  readonly isChecking: boolean;
  readonly onGo: (question: Question) => void;
}): JSX.Element {
  const open = (questions ?? []).filter(({ severity }) => severity === 'error');
  const looks = (questions ?? []).filter(({ severity }) => severity === 'warning');
  const all = [...open, ...looks];
  const step = (by: number): void => {
    const at = all.findIndex(({ id }) => id === asked?.id);
    const next = at === -1 ? 0 : (at + by + all.length) % all.length;
    if (all[next] !== undefined) onGo(all[next]);
  };
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (event.key !== 'Enter' || !(event.ctrlKey || event.metaKey)) return;
      event.preventDefault();
      step(event.shiftKey ? -1 : 1);
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  });
  const count =
    questions === null
      ? 'Looking for what is open …'
      : open.length > 0
        ? `${counted(open.length, 'question')} left${looks.length === 0 ? '' : `, ${looks.length} to look at`}`
        : looks.length > 0
          ? `No question left, ${looks.length} to look at`
          : 'No question left: this set can be cut';
  return (
    <section class="question-bar" aria-label="What is open">
      <p class="question-count" role="status">
        {count}
        {isChecking && questions !== null && <span class="quiet"> · looking again …</span>}
      </p>
      <p class="question-now">{asked === null ? '' : `${asked.piece ?? 'The set'}: ${words}`}</p>
      <div class="actions">
        {all.length > 1 && (
          <button
            class="button"
            title="Ctrl+Shift+Enter"
            aria-keyshortcuts="Control+Shift+Enter"
            onClick={() => step(-1)}
          >
            Back
          </button>
        )}
        {all.length > 0 && (
          <button
            class="button accent"
            title="Ctrl+Enter"
            aria-keyshortcuts="Control+Enter"
            onClick={() => step(1)}
          >
            Next
          </button>
        )}
      </div>
    </section>
  );
}
