import type { Context } from 'hono';
import type { SSEStreamingApi } from 'hono/streaming';
import { streamSSE } from 'hono/streaming';
import type { ChannelEvent, Inbox } from './inbox.ts';
import { openInbox } from './inbox.ts';

/** Tells everybody who looks on what happens, by server-sent events. */
export interface Channel<E extends ChannelEvent> {
  /** Tells an event to all who listen under this name, and waits for none of them. */
  readonly tell: (name: string, event: E) => void;
  /** Answers a request with all that is told under a name from now on, until either side ends it. */
  readonly listen: (c: Context, name: string) => Response;
  /** How many listen under a name. */
  readonly listeners: (name: string) => number;
  /** Ends all answers. */
  readonly close: () => void;
}

/** After so many ms of silence a sign of life is sent. */
const heartbeatEvery = 15_000;

/** Opens a channel, which serves all names (those of runs). */
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
    listen: (c, name) => {
      // A request for the head alone takes no events.
      if (c.req.method === 'HEAD') {
        return c.body(null, 200, { 'Content-Type': 'text/event-stream' });
      }
      const box = join(name);
      return streamSSE(c, (stream) => send(stream, box));
    },
    listeners: (name) => listening.get(name)?.size ?? 0,
    close: () => {
      for (const boxes of listening.values()) for (const box of boxes) box.end();
    },
  };
}

async function send<E extends ChannelEvent>(stream: SSEStreamingApi, box: Inbox<E>): Promise<void> {
  const write = (event: E): Promise<void> =>
    stream.writeSSE({ event: event.kind, data: JSON.stringify(event) });
  stream.onAbort(() => box.end());
  // Writing to somebody who no longer reads ends only when the stream does.
  void box.ended.then(() => stream.abort());
  while (!box.isOver()) {
    const event = box.take();
    if (event !== null) await write(event);
    else if (!(await box.filled(heartbeatEvery))) await stream.write(': still here\n\n');
  }
}
