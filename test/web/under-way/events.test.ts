import { request } from 'node:http';
import type { Socket } from 'node:net';
import { connect } from 'node:net';
import { Hono } from 'hono';
import { afterEach, describe, expect, it } from 'vitest';
import type { Channel } from '../../../src/web/under-way/events.ts';
import { channel } from '../../../src/web/under-way/events.ts';
import type { Serving } from '../serving.ts';
import { reading, serve } from '../serving.ts';
import { eventually } from '../../support/eventually.ts';

type Event =
  | { kind: 'lay'; material: string; roll: string | null; n: number }
  | { kind: 'step'; n: number };

let serving: Serving;

afterEach(() => serving.close());

/** Kinds and numbers of the events in a text. */
function told(text: string): string[] {
  return [...text.matchAll(/event: (\w+)\ndata: (.*)\n\n/g)].map(
    ([, kind, data]) => `${kind} ${(JSON.parse(data!) as Event).n}`,
  );
}

const step = (n: number): Event => ({ kind: 'step', n });

describe('events', () => {
  const app = (events: Channel<Event>): Hono =>
    new Hono().get('/events/:run', (c) => events.listen(c, c.req.param('run')));

  it('reach all who listen under the name', async () => {
    const events = channel<Event>();
    serving = await serve(app(events));
    const answer = await serving.open('/events/week');
    expect(answer.headers['content-type']).toBe('text/event-stream');
    const [one, two] = [reading(answer), reading(await serving.open('/events/week'))];
    const other = reading(await serving.open('/events/other'));
    expect(events.listeners('week')).toBe(2);
    events.tell('week', step(1));
    events.tell('nobody', step(9));
    events.tell('week', { kind: 'lay', material: 'a\nb', roll: null, n: 2 });
    await eventually(() => expect(told(two.text)).toEqual(['step 1', 'lay 2']));
    await eventually(() => expect(told(one.text)).toEqual(['step 1', 'lay 2']));
    expect(told(other.text)).toEqual([]);
    events.close();
    await Promise.all([one.over, two.over, other.over]);
    expect(events.listeners('week')).toBe(0);
  });

  it('go to nobody who has gone, or only asked for the head', async () => {
    const events = channel<Event>();
    serving = await serve(app(events));
    const answer = await serving.open('/events/week');
    reading(answer);
    answer.destroy();
    await eventually(() => expect(events.listeners('week')).toBe(0));
    const { port } = serving;
    await new Promise((resolve) =>
      request({ host: '127.0.0.1', port, path: '/events/week', method: 'HEAD' }, resolve).end(),
    );
    expect(events.listeners('week')).toBe(0);
  });

  it('cut off whoever reads nothing, and hold up nobody else', async () => {
    const events = channel<Event & { ballast?: string }>();
    serving = await serve(app(events as Channel<Event>));
    const stalled = await stalledReader('/events/week');
    const brisk = reading(await serving.open('/events/week'));
    await eventually(() => expect(events.listeners('week')).toBe(2));
    // More than the system takes for somebody who reads nothing, then what waits for him here.
    const ballast = 'x'.repeat(1_000_000);
    for (let n = 1; n <= 10; n++) events.tell('week', { ...step(n), ballast });
    for (let n = 11; n <= 1500; n++) {
      events.tell('week', step(n));
      if (n % 100 > 0) continue;
      await eventually(() => expect(brisk.text.includes(`"n":${n}}`)).toBe(true));
    }
    expect(events.listeners('week')).toBe(1);
    events.tell('week', step(9999));
    await eventually(() => expect(told(brisk.text.slice(-1000)).at(-1)).toBe('step 9999'));
    stalled.destroy();
  });
});

function stalledReader(path: string): Promise<Socket> {
  return new Promise((resolve) => {
    const socket = connect(serving.port, '127.0.0.1', () => {
      socket.write(`GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${serving.port}\r\n\r\n`);
      socket.pause();
      resolve(socket);
    });
    socket.on('error', () => {});
  });
}
