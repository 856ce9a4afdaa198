import type { Finding } from '../../base/findings.ts';
import type { RunEvent } from '../api/events.ts';
import type { Refused } from '../api/refused.ts';

/** Written into the page by the server that gave it out; no other page has it. */
const key = document.querySelector<HTMLMetaElement>('meta[name="pileway-key"]')?.content ?? '';

/** What the server refuses, in findings for a person. */
export class ServerRefusal extends Error {
  readonly findings: readonly Finding[];

  constructor(findings: readonly Finding[]) {
    super(findings.map(({ message }) => message).join(' '));
    this.findings = findings;
  }
}

type Method = 'GET' | 'POST' | 'PUT' | 'DELETE';

/** Asks the server. Throws a ServerRefusal, also where there is no server any more. */
export async function ask<T>(path: string, method: Method = 'GET', data?: unknown): Promise<T> {
  const body = method === 'GET' || method === 'DELETE' ? {} : { body: JSON.stringify(data ?? {}) };
  const answer = await answerTo(path, method, 'application/json', body);
  return (await answer.json()) as T;
}

/** Sends a drawing as it is. */
export async function send<T>(path: string, bytes: ArrayBuffer): Promise<T> {
  const answer = await answerTo(path, 'POST', 'application/octet-stream', { body: bytes });
  return (await answer.json()) as T;
}

/** Fetches a block of bytes. */
export async function fetchBytes(path: string): Promise<ArrayBuffer> {
  return (await answerTo(path, 'GET', 'application/json', {})).arrayBuffer();
}

async function answerTo(
  path: string,
  method: Method,
  type: string,
  more: RequestInit,
): Promise<Response> {
  let answer: Response;
  try {
    const headers = { 'x-pileway-key': key, 'content-type': type };
    answer = await fetch(path, { method, headers, ...more });
  } catch {
    throw new ServerRefusal([
      finding('the server does not answer.', 'Start "pileway serve" again, then load this page.'),
    ]);
  }
  if (answer.ok) return answer;
  const refused = (await answer.json().catch(() => null)) as Refused | null;
  throw new ServerRefusal(
    refused?.findings ?? [finding('the server failed.', 'Load this page again.')],
  );
}

function finding(message: string, todo: string): Finding {
  return { severity: 'error', rule: 'page', message, todo, where: {} };
}

/** What to show of a failure. */
export function findingsToShow(error: unknown): readonly Finding[] {
  if (error instanceof ServerRefusal) return error.findings;
  const message = error instanceof Error ? error.message : String(error);
  return [finding(`the page failed: ${message}.`, 'Load it again and report what you did.')];
}

/**
 * Listens to what happens to a run, and goes on listening after a break. A page that is not seen lets go:
 * browsers hold few connections to one server. Returns what ends it.
 */
export function listenToRun(
  run: string,
  heed: (event: RunEvent) => void,
  opened: () => void,
): () => void {
  let source: EventSource | null = null;
  const open = (): void => {
    source = new EventSource(`/api/run/${encodeURIComponent(run)}/events?key=${key}`);
    for (const kind of ['search', 'lay', 'trying', 'laid', 'saved', 'cut']) {
      source.addEventListener(kind, (event) => heed(JSON.parse(event.data as string) as RunEvent));
    }
    source.addEventListener('open', opened);
  };
  const close = (): void => {
    source?.close();
    source = null;
  };
  const turn = (): void => {
    if (document.hidden) close();
    else if (source === null) open();
  };
  turn();
  document.addEventListener('visibilitychange', turn);
  return () => {
    document.removeEventListener('visibilitychange', turn);
    close();
  };
}

/** The address of a file of a run folder, or of all of it in one. */
export function fileAddress(run: string, file?: string): string {
  const name = file === undefined ? '' : `/${encodeURIComponent(file)}`;
  return `/files/${encodeURIComponent(run)}${name}?key=${key}`;
}
