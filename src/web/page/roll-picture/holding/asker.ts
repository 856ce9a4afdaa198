/** Asks questions that change faster than they can be answered; only the newest matters. */
interface Asker<Question, Answer> {
  /** Asks as soon as that is allowed; the answer goes to whoever listens. */
  readonly ask: (question: Question) => void;
  /** Waits for the answer to the question that is out, then asks this one and gives its answer. */
  readonly settle: (question: Question) => Promise<Answer>;
  /** From now on nothing is asked or told. */
  readonly stop: () => void;
}

/**
 * Makes an asker that asks no question sooner than `pause` ms after the one before, and never has two
 * out. Where `put` fails, `failed` gives the answer.
 */
export function createAsker<Question, Answer>(
  put: (question: Question) => Promise<Answer>,
  failed: (reason: unknown) => Answer,
  told: (question: Question, answer: Answer) => void,
  pause: number,
): Asker<Question, Answer> {
  let waiting: { readonly question: Question } | null = null;
  let out: Promise<unknown> | null = null;
  let timer: ReturnType<typeof setTimeout> | null = null;
  let stopped = false;
  let last = -Infinity;

  const answerTo = async (question: Question): Promise<Answer> => {
    last = performance.now();
    const answer = put(question).catch(failed);
    out = answer;
    const given = await answer;
    out = null;
    return given;
  };
  const begin = async (): Promise<void> => {
    timer = null;
    if (waiting === null || out !== null) return;
    const { question } = waiting;
    waiting = null;
    const answer = await answerTo(question);
    if (stopped) return;
    told(question, answer);
    plan();
  };
  const plan = (): void => {
    if (stopped || waiting === null || out !== null || timer !== null) return;
    timer = setTimeout(() => void begin(), Math.max(0, last + pause - performance.now()));
  };
  const forget = (): void => {
    waiting = null;
    if (timer !== null) clearTimeout(timer);
    timer = null;
  };
  const settle = async (question: Question): Promise<Answer> => {
    forget();
    if (out === null) return answerTo(question);
    await out;
    return settle(question);
  };
  return {
    ask: (question) => {
      waiting = { question };
      plan();
    },
    settle,
    stop: () => {
      stopped = true;
      forget();
    },
  };
}
