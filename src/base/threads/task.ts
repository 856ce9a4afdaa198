/** What a task is given beside its arguments. */
interface TaskTools {
  /** Tells whoever asked for the task how far it has come. A message is anything that can be cloned. */
  readonly progress: (message: unknown) => void;
  /** Aborted where nobody wants the result any more, or where what there is so far is enough. */
  readonly signal: AbortSignal;
}

/**
 * A piece of work that can be done in a thread. Its arguments and its result are cloned on their way; a
 * task that gives a `HandedOver` instead has the buffers named there handed over without a copy.
 */
type Task = (args: never, tools: TaskTools) => unknown;

/** All that one kind of thread can do, by name. */
export type Tasks = Readonly<Record<string, Task>>;

/** A result and the buffers in it that are handed over: they are empty afterwards where they were made. */
export interface HandedOver<T> {
  readonly value: T;
  readonly transfer: ArrayBuffer[];
}

/** What a task of the table is asked with. */
export type TaskArgs<F extends Task> = Parameters<F>[0];

/** What whoever asked for a task gets. */
export type TaskResult<F extends Task> =
  Awaited<ReturnType<F>> extends HandedOver<infer T> ? T : Awaited<ReturnType<F>>;

/** What a task tells while it is at work. */
export type TaskMessage<F extends Task> = Parameters<F>[1] extends {
  readonly progress: (message: infer M) => void;
}
  ? M
  : never;

/** Does a task by its name: what it gives, and the buffers that are handed over with it. */
export async function doTask(
  tasks: Tasks,
  name: string,
  args: unknown,
  tools: TaskTools,
): Promise<HandedOver<unknown>> {
  if (!Object.hasOwn(tasks, name)) throw new Error(`there is no task ${name}`);
  const result = await tasks[name]!(args as never, tools);
  return isHandedOver(result) ? result : { value: result, transfer: [] };
}

function isHandedOver(result: unknown): result is HandedOver<unknown> {
  return typeof result === 'object' && result !== null && 'transfer' in result && 'value' in result;
}
