/** Tells everybody who looks on what happens, by server-sent events. */
import type { Context } from 'hono';
import type { SSEStreamingApi } from 'hono/streaming';
import { streamSSE } from 'hono/streaming';

export interface ChannelEvent {
  readonly kind: string;
  readonly material?: string;
  readonly roll?: string | null;
}

export interface Channel<E extends ChannelEvent> {
  /** Tells an event to all who listen under this name; never waits for any of them. */
  readonly tell: (name: string, event: E) => void;
  /** Answers a request with what `first` gives and all that is told from now on, until either side ends it. */
  readonly listen: (
    c: Context,
    name: string,
    first?: () => readonly E[] | Promise<readonly E[]>,
  ) => Promise<Response>;
  /** How many listen. */
  readonly listeners: (name: string) => number;
  /** Ends all answers. */
  readonly close: () => void;
}

/** ms of silence after which a sign of life is sent. */
const heartbeatEvery = 15_000;

/** Opens a channel: one for all names, as of runs. */
export function channel<E extends ChannelEvent>(): Channel<E> {
  const listening = new Map<string, Set<Inbox<E>>>();
  const join = (name: string): Inbox<E> => {
    const boxes = listening.get(name) ?? new Set();
    const box = openInbox<E>(() => {
      boxes.delete(box);
      if (boxes.size === 0 && listening.get(name) === boxes) listening.delete(name);
    });
    listening.set(name, boxes.add(box));
    return box;
  };
  return {
    tell: (name, event) => {
      for (const box of listening.get(name) ?? []) box.put(event);
    },
    listen: async (c, name, first = () => []) => {
      // Whoever asks for the head alone takes no events.
      if (c.req.method === 'HEAD')
        return c.body(null, 200, { 'Content-Type': 'text/event-stream' });
      const box = join(name);
      try {
        const known = await first();
        return streamSSE(c, (stream) => send(stream, box, known));
      } catch (error) {
        box.end();
        throw error;
      }
    },
    listeners: (name) => listening.get(name)?.size ?? 0,
    close: () => {
      for (const boxes of listening.values()) for (const box of boxes) box.end();
    },
  };
}

async function send<E extends ChannelEvent>(
  stream: SSEStreamingApi,
  box: Inbox<E>,
  known: readonly E[],
): Promise<void> {
  const write = (event: E): Promise<void> =>
    stream.writeSSE({ event: event.kind, data: JSON.stringify(event) });
  stream.onAbort(() => box.end());
  // A write to somebody who reads no more ends only with the stream.
  void box.ended.then(() => stream.abort());
  for (const event of known) await write(event);
  while (!box.isOver()) {
    const event = box.take();
    if (event !== null) await write(event);
    else if (!(await box.filled(heartbeatEvery))) await stream.write(': still here\n\n');
  }
}

/** What somebody who listens has not taken yet. */
export interface Inbox<E> {
  readonly put: (event: E) => void;
  /** The oldest event; null: there is none. */
  readonly take: () => E | null;
  /** Waits until there is something to take or it is over: true; or for so many ms: false. */
  readonly filled: (ms: number) => Promise<boolean>;
  readonly end: () => void;
  readonly isOver: () => boolean;
  readonly ended: Promise<void>;
  readonly size: () => number;
}

/** Events that may wait. Whoever falls behind further is cut off, and begins anew when he comes back. */
const mostWaiting = 1000;

/** Opens an inbox that never grows beyond all bounds; `onEnd` is called once when it is over. */
export function openInbox<E extends ChannelEvent>(onEnd: () => void = () => {}): Inbox<E> {
  const waiting = new Map<string, E>();
  let count = 0;
  let over = false;
  let wake = (): void => {};
  let tellEnd = (): void => {};
  const ended = new Promise<void>((resolve) => (tellEnd = resolve));
  const end = (): void => {
    if (over) return;
    over = true;
    waiting.clear();
    onEnd();
    tellEnd();
    wake();
  };
  const put = (event: E): void => {
    if (over) return;
    const slot = fleetingSlot(event) ?? `${count++}`;
    // What takes an older one's place comes after all that was told in between.
    waiting.delete(slot);
    waiting.set(slot, event);
    if (waiting.size > mostWaiting) end();
    else wake();
  };
  const take = (): E | null => {
    for (const [slot, event] of waiting) {
      waiting.delete(slot);
      return event;
    }
    return null;
  };
  const filled = (ms: number): Promise<boolean> =>
    new Promise((resolve) => {
      if (over || waiting.size > 0) return resolve(true);
      const timer = setTimeout(resolve, ms, false);
      wake = () => {
        clearTimeout(timer);
        resolve(true);
      };
    });
  return { put, take, filled, end, isOver: () => over, ended, size: () => waiting.size };
}

const fleetingKinds = new Set(['trying', 'lay', 'search']);

/** Of these only the newest is worth anything, for each roll; null: every event counts. */
function fleetingSlot({ kind, material, roll }: ChannelEvent): string | null {
  return fleetingKinds.has(kind) ? JSON.stringify([kind, material, roll]) : null;
}
