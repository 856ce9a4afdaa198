import type { IncomingMessage } from 'node:http';
import { get } from 'node:http';
import type { Hono } from 'hono';
import { serveOnPort } from '../../src/web/serve.ts';

/** An app that is served on this machine for a test. */
export interface Serving {
  readonly port: number;
  readonly url: string;
  readonly open: (path: string) => Promise<IncomingMessage>;
  readonly close: () => Promise<void>;
}

export async function serve(app: Hono): Promise<Serving> {
  const { port, url, close } = await serveOnPort(app, 0);
  return {
    port,
    url,
    open: (path) =>
      new Promise((resolve, reject) => {
        get({ host: '127.0.0.1', port, path }, resolve).on('error', reject);
      }),
    close,
  };
}

/** Gathers what an answer says, until it ends or is cut off. */
export function reading(answer: IncomingMessage): {
  text: string;
  isOver: boolean;
  over: Promise<void>;
} {
  const read = { text: '', isOver: false, over: Promise.resolve() };
  answer.setEncoding('utf8');
  answer.on('data', (data: string) => (read.text += data));
  answer.on('error', () => {});
  read.over = new Promise((resolve) =>
    answer.on('close', () => {
      read.isOver = true;
      resolve();
    }),
  );
  return read;
}
