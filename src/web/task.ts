/** What a task is given beside its arguments. */
export interface TaskTools {
  /** Tells whoever asked how far it has come; anything that can be cloned. */
  readonly progress: (message: unknown) => void;
  /** Aborted where nobody wants the result any more, or only what there is so far. */
  readonly signal: AbortSignal;
}

/** Takes and gives what can be cloned; or gives `{ transfer, value }`, and the buffers are handed over, not copied. */
export type Task = (args: never, tools: TaskTools) => unknown;

export type Tasks = Readonly<Record<string, Task>>;
