/** Listens on this machine for this machine alone. */
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { getRequestListener, RequestError } from '@hono/node-server';
import type { Hono } from 'hono';
import { refuse } from '../base/findings.ts';
import { refusedResponse } from './access/guard.ts';

export interface Served {
  /** `http://127.0.0.1:PORT/` */
  readonly url: string;
  readonly port: number;
  /** Takes no new request, gives answers under way half a second, and then ends all connections. */
  readonly close: () => Promise<void>;
}

const host = '127.0.0.1';

/** How long answers under way have when the server closes, ms. */
const grace = 500;

/**
 * Serves an app on 127.0.0.1; port 0 takes any that is free. Throws a Refusal where it cannot have the port.
 */
export async function serveOnPort(app: Hono, port: number): Promise<Served> {
  const server = createServer(
    {
      headersTimeout: 10_000,
      requestTimeout: 60_000,
      connectionsCheckingInterval: 5_000,
      // Node's own refusal says nothing to a person; the guard's does.
      requireHostHeader: false,
    },
    getRequestListener(app.fetch, { hostname: host, errorHandler: answerFailure }),
  );
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, resolve);
  }).catch((error: NodeJS.ErrnoException) => refusePort(port, error));
  const bound = (server.address() as AddressInfo).port;
  let closing: Promise<void> | null = null;
  const end = (): Promise<void> =>
    new Promise((resolve) => {
      server.close(() => resolve());
      setTimeout(() => server.closeAllConnections(), grace).unref();
    });
  return {
    url: `http://${host}:${bound}/`,
    port: bound,
    close: () => (closing ??= end()),
  };
}

function refusePort(port: number, error: NodeJS.ErrnoException): never {
  if (error.code === 'EADDRINUSE') {
    refuse(
      'port',
      `port ${port} is taken: another page may be open already.`,
      'Name another with --port.',
    );
  }
  if (error.code === 'EACCES') {
    refuse('port', `port ${port} is kept for the system.`, 'Name one above 1023 with --port.');
  }
  throw error;
}

/** Answers a request that never reached the app, or that the app itself has no answer to. */
function answerFailure(error: unknown): Response {
  if (error instanceof RequestError) {
    return refusedResponse({
      status: 400,
      rule: 'request',
      message: 'this request makes no sense.',
      todo: 'Load the page again.',
    });
  }
  return refusedResponse({
    status: 500,
    rule: 'fault',
    message: 'the server failed to answer.',
    todo: 'This is a fault of the program; report what you did.',
  });
}
