import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { openHost, threadFile } from '../../../src/base/threads/host.ts';
import type { Threads } from '../../../src/base/threads/pool.ts';
import { openThreads } from '../../../src/base/threads/pool.ts';
import type { Built } from '../../cli/pileway.ts';
import { build } from '../../cli/pileway.ts';

/** Tasks for a test, beside the files that are built. */
const source = `
import { setTimeout as after } from 'node:timers/promises';
import { threadId } from 'node:worker_threads';
import { refuse } from '../findings.js';

const untilStopped = (signal) =>
  new Promise((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', resolve);
  });

let handedOver;
let counted = 0;

export const tasks = {
  add: ({ a, b }) => a + b,
  thread: () => threadId,
  wait: async ({ ms }) => (await after(ms), threadId),
  count: ({ to }, { progress }) => {
    for (let i = 0; i < to; i++) progress({ i });
    return 'counted';
  },
  refuse: () => refuse('too-wide', 'this is too wide.', 'Make it narrower.', { piece: 'mat' }),
  fail: function whereItFails() { throw new Error('a fault'); },
  throwWords: () => { throw 'only words'; },
  untilStopped: async (args, { progress, signal }) => {
    progress('begun');
    await untilStopped(signal);
    return 'the best so far';
  },
  large: () => {
    const x = new Float32Array([1, 2, 3]);
    handedOver = x;
    return { transfer: [x.buffer], value: { x } };
  },
  howOften: () => ++counted,
  leftOfLarge: () => handedOver.length,
  giveFunction: () => () => {},
  exit: () => { process.exit(7); },
  throwLater: async () => { setTimeout(() => { throw new Error('later'); }); await after(5000); },
  runOut: async () => {
    setTimeout(() => { throw Object.assign(new Error('x'), { code: 'ERR_WORKER_OUT_OF_MEMORY' }); });
    await after(5000);
  },
  dieIdle: () => { setTimeout(() => process.exit(3)); },
  forEver: (args, { progress }) => { progress('begun'); for (;;); },
};
`;

let built: Built;
let thread: URL;
let tasksFile: URL;
let threads: Threads<TestTasks>;

/** As loose as the source above: it has no types of its own. */
type TestTasks = Readonly<
  Record<string, (args: unknown, tools: { readonly progress: (message: never) => void }) => unknown>
>;

beforeAll(() => {
  built = build();
  const folder = join(dirname(built.main), '../base/threads');
  const file = (name: string, text: string): URL => {
    writeFileSync(join(folder, name), text);
    return pathToFileURL(join(folder, name));
  };
  tasksFile = file('tasks-for-a-test.js', source);
  thread = file(
    'thread-for-a-test.js',
    `import { serveTasks } from './serve-tasks.js';
    serveTasks(async () => (await import('./tasks-for-a-test.js')).tasks);`,
  );
});

afterEach(() => threads.close());
afterAll(() => built.remove());

const load = async (): Promise<TestTasks> =>
  ((await import(tasksFile.href)) as { tasks: TestTasks }).tasks;

const inThreads = (most: number, entry = thread): Threads<TestTasks> =>
  openThreads({ entry, load }, most);
const openings = {
  'in threads': inThreads,
  'in this process': (most: number) => openThreads({ entry: null, load }, most),
};

/** What a promise is rejected with. */
async function failureOf(work: Promise<unknown>): Promise<Error> {
  try {
    await work;
  } catch (error) {
    return error as Error;
  }
  throw new Error('it did not fail');
}

const rulesOf = (error: Error): string[] => (error as Refusal).findings.map(({ rule }) => rule);

describe.each(Object.entries(openings))('tasks %s', (_, open) => {
  it('give a result', async () => {
    threads = open(2);
    expect(await threads.run('add', { a: 1, b: 2 })).toBe(3);
    expect(await Promise.all([1, 2, 3].map((a) => threads.run('add', { a, b: 1 })))).toEqual([
      2, 3, 4,
    ]);
  });

  it('say how they go before they are done', async () => {
    threads = open(1);
    const said: unknown[] = [];
    const progress = (message: { i: number }): unknown => said.push(message);
    expect(await threads.run('count', { to: 3 }, { progress })).toBe('counted');
    expect(said).toEqual([{ i: 0 }, { i: 1 }, { i: 2 }]);
  });

  it('refuse as they would here', async () => {
    threads = open(1);
    const error = await failureOf(threads.run('refuse', null));
    expect(error).toMatchObject({
      name: 'Refusal',
      message: 'piece mat: this is too wide. Make it narrower.',
      findings: [{ severity: 'error', rule: 'too-wide', where: { piece: 'mat' } }],
    });
    expect(await threads.run('add', { a: 1, b: 1 })).toBe(2);
  });

  it('fail with their stack', async () => {
    threads = open(1);
    const error = await failureOf(threads.run('fail', null));
    expect(error).toBeInstanceOf(Error);
    expect(error.message).toBe('a fault');
    expect(error.stack).toContain('whereItFails');
    expect((await failureOf(threads.run('none', null))).message).toBe('there is no task none');
    expect((await failureOf(threads.run('toString', null))).message).toContain('no task');
    expect(await threads.run('add', { a: 1, b: 1 })).toBe(2);
  });

  it('stop when asked, and give what they have', async () => {
    threads = open(1);
    const stop = new AbortController();
    const progress = (): void => stop.abort();
    const result = threads.run('untilStopped', null, { progress, signal: stop.signal });
    expect(await result).toBe('the best so far');
  });

  it('wait in line, and may leave it', async () => {
    threads = open(1);
    const order: string[] = [];
    const note = async (name: string, work: Promise<unknown>): Promise<void> => {
      await work.catch(() => order.push('stopped'));
      order.push(name);
    };
    const stop = new AbortController();
    const first = note('first', threads.run('wait', { ms: 100 }));
    const second = note('second', threads.run('wait', { ms: 1 }, { signal: stop.signal }));
    const third = note('third', threads.run('wait', { ms: 1 }));
    stop.abort();
    await Promise.all([first, second, third]);
    expect(order).toEqual(['stopped', 'second', 'first', 'third']);
    const error = await failureOf(threads.run('add', { a: 1, b: 1 }, { signal: stop.signal }));
    expect(rulesOf(error)).toEqual(['stopped']);
    expect(await threads.run('add', { a: 1, b: 1 })).toBe(2);
  });

  it('hand over buffers', async () => {
    threads = open(1);
    expect(await threads.run('large', null)).toEqual({ x: new Float32Array([1, 2, 3]) });
    expect(await threads.run('leftOfLarge', null)).toBe(0);
  });

  it('cannot take or give what cannot be cloned', async () => {
    threads = open(1);
    await expect(threads.run('add', { a: () => {} })).rejects.toThrow('could not be cloned');
    await expect(threads.run('giveFunction', null)).rejects.toThrow('could not be cloned');
    expect(await threads.run('add', { a: 1, b: 1 })).toBe(2);
  });

  it('are ended by close, those in line too, and begun no more', async () => {
    threads = open(1);
    const under = failureOf(threads.run('untilStopped', null));
    const inLine = failureOf(threads.run('add', { a: 1, b: 1 }));
    await after(20);
    await threads.close();
    const later = failureOf(threads.run('add', { a: 1, b: 1 }));
    for (const error of await Promise.all([under, inLine, later])) {
      expect(error).toBeInstanceOf(Refusal);
      expect(rulesOf(error)).toEqual(['stopped']);
    }
    await threads.close();
  });
});

describe('threads', () => {
  it('are used again, and no more than may be', async () => {
    threads = inThreads(2);
    const alone = await threads.run('thread', null);
    expect(await threads.run('thread', null)).toBe(alone);
    const all = await Promise.all(Array.from({ length: 6 }, () => threads.run('wait', { ms: 20 })));
    expect(new Set(all).size).toBe(2);
    expect(all).toContain(alone);
  });

  it('say for a person that they crashed, and are replaced', async () => {
    threads = inThreads(1);
    const crashes = {
      exit: 'its thread ended with code 7',
      throwLater: 'its thread failed (later)',
      runOut: 'it ran out of memory',
    };
    for (const [task, words] of Object.entries(crashes)) {
      const error = failureOf(threads.run(task, null));
      const next = threads.run('add', { a: 1, b: 1 });
      expect((await error).message).toBe(
        `the work was not finished: ${words}. Nothing else is lost; try it again`,
      );
      expect(await next).toBe(2);
    }
  });

  it('are replaced where they end while idle', async () => {
    threads = inThreads(1);
    await threads.run('dieIdle', null);
    await after(200);
    expect(await threads.run('add', { a: 1, b: 1 })).toBe(2);
  });

  it('that cannot be loaded fail their task', async () => {
    threads = inThreads(1, new URL('none.js', thread));
    const error = await failureOf(threads.run('add', null));
    expect(error.message).toContain('the work was not finished');
  });

  it('are ended in the middle of work that heeds nothing', async () => {
    threads = inThreads(1);
    let begun = (): void => {};
    const begins = new Promise<void>((resolve) => (begun = resolve));
    const error = failureOf(threads.run('forEver', null, { progress: begun }));
    await begins;
    await threads.close();
    expect(rulesOf(await error)).toEqual(['stopped']);
  });
});

describe('a thread', () => {
  it('is ended with its task where that hears nothing of a stop, and another does the next', async () => {
    threads = inThreads(1);
    const stop = new AbortController();
    const progress = (): void => stop.abort();
    const work = threads.run('forEver', null, { progress, signal: stop.signal, grace: 50 });
    expect(rulesOf(await failureOf(work))).toEqual(['stopped']);
    expect(await threads.run('add', { a: 1, b: 1 })).toBe(2);
  });

  it('that heeds a stop gives what it has, and stays', async () => {
    threads = inThreads(1);
    const stop = new AbortController();
    const first = await threads.run('thread', null);
    const progress = (): void => stop.abort();
    const options = { progress, signal: stop.signal, grace: 60_000 };
    expect(await threads.run('untilStopped', null, options)).toBe('the best so far');
    expect(await threads.run('thread', null)).toBe(first);
  });

  it('that waits too long for work is ended: sooner where the process holds much memory', async () => {
    const long = 60_000;
    for (const [patience, isAnother] of [
      [{ usual: 1, crowded: long, most: Infinity }, true],
      [{ usual: long, crowded: 1, most: 0 }, true],
      [{ usual: Infinity, crowded: 1, most: 0 }, true],
      [{ usual: Infinity, crowded: 1, most: Infinity }, false],
    ] as const) {
      const pool = openThreads({ entry: thread, load }, 1, patience);
      try {
        const first = await pool.run('thread', null);
        await after(100);
        expect((await pool.run('thread', null)) !== first).toBe(isAnother);
      } finally {
        await pool.close();
      }
    }
  });
});

describe('a host', () => {
  it.each(['in a thread', 'in this process'])('%s keeps what its tasks keep', async (where) => {
    const host = openHost({ entry: where === 'in a thread' ? thread : null, load });
    try {
      const first = (await host.run('howOften', null)) as number;
      expect(await host.run('howOften', null)).toBe(first + 1);
    } finally {
      await host.close();
    }
    expect(host.isAlive()).toBe(false);
  });

  it('has a file for its thread only where the product is built', () => {
    expect(threadFile('thread.js', 'file:///dist/base/x.js')?.href).toBe(
      'file:///dist/base/thread.js',
    );
    expect(threadFile('thread.js', 'file:///src/base/x.ts')).toBeNull();
  });
});
