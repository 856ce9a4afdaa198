import { hc } from 'hono/client';
import type { Finding } from '../../../base/findings.ts';
import type { draftRoutes } from '../../routes/drafts.ts';
import type { drawingRoutes } from '../../routes/drawings.ts';
import type { folderRoutes } from '../../routes/folders.ts';
import type { runRoutes } from '../../routes/runs.ts';
import type { shopRoutes } from '../../routes/shop.ts';
import { onLinkNews, serverKey, takeNewKey } from './link.ts';

/** What the server refuses, in findings for a person. */
export class ServerRefusal extends Error {
  readonly findings: readonly Finding[];

  constructor(findings: readonly Finding[]) {
    super(findings.map(({ message }) => message).join(' '));
    this.findings = findings;
  }
}

const options = {
  // A request that carries no body says its type all the same: the server takes none without.
  headers: () => ({ 'x-pileway-key': serverKey(), 'content-type': 'application/json' }),
  fetch: fetchOrRefuse,
};

// The routes of the server themselves give the types of addresses, bodies and answers. Each file of
// routes has a client of its own.
export const shopClient = hc<ReturnType<typeof shopRoutes>>(location.origin, options);
export const draftClient = hc<ReturnType<typeof draftRoutes>>(location.origin, options);
export const drawingClient = hc<ReturnType<typeof drawingRoutes>>(location.origin, options);
export const runClient = hc<ReturnType<typeof runRoutes>>(location.origin, options);
export const folderClient = hc<ReturnType<typeof folderRoutes>>(location.origin, options);

/** Fetches. Throws a ServerRefusal where the server refuses, and where there is no server any more. */
async function fetchOrRefuse(input: RequestInfo | URL, init?: RequestInit): Promise<Response> {
  let answer: Response;
  try {
    answer = await fetch(input, init);
    // A server that was started anew has another key: what is asked of it is asked again.
    if (answer.status === 403 && (await takeNewKey())) {
      const headers = new Headers(init?.headers);
      headers.set('x-pileway-key', serverKey());
      answer = await fetch(input, { ...init, headers });
    }
  } catch {
    const told = finding(
      'the server does not answer.',
      'Start "pileway serve" again, then do this once more.',
    );
    toldWithoutServer.add(told);
    throw new ServerRefusal([told]);
  }
  if (answer.ok) return answer;
  const refused: { findings?: readonly Finding[] } | null = await answer.json().catch(() => null);
  throw new ServerRefusal(
    refused?.findings ?? [finding('the server failed.', 'Load this page again.')],
  );
}

/** What was told while there was no server. It is told no more once there is one. */
const toldWithoutServer = new Set<Finding>();
onLinkNews((news) => {
  if (news === 'gone') return;
  for (const one of toldWithoutServer) pastFindings.add(one);
  toldWithoutServer.clear();
});

/** Findings that say what is over. */
export const pastFindings = new WeakSet<Finding>();

function finding(message: string, todo: string): Finding {
  return { severity: 'error', rule: 'page', message, todo, where: {} };
}

/** What to show of a failure. */
export function findingsToShow(error: unknown): readonly Finding[] {
  if (error instanceof ServerRefusal) return error.findings;
  const message = error instanceof Error ? error.message : String(error);
  return [finding(`the page failed: ${message}.`, 'Load it again and report what you did.')];
}
