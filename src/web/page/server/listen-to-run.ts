import type { RunEvent } from '../../api/events.ts';
import { runClient } from './client.ts';
import { onLinkNews, serverKey } from './link.ts';

/** All kinds of events; the type makes sure that none is missing. */
const kinds: Readonly<Record<RunEvent['kind'], true>> = {
  search: true,
  lay: true,
  trying: true,
  laid: true,
  saved: true,
  cut: true,
  ticked: true,
};

/**
 * Listens to what happens to a run, and goes on listening after a break. A page that is not seen lets go:
 * browsers hold few connections to one server. Returns what ends it.
 */
export function listenToRun(
  run: string,
  heed: (event: RunEvent) => void,
  opened: () => void,
): () => void {
  // Hono's client reads no event streams. It gives the address; the type of what comes is given
  // here.
  const param = { run: encodeURIComponent(run) };
  const path = runClient.api.run[':run'].events.$path({ param });
  let source: EventSource | null = null;
  const open = (): void => {
    source = new EventSource(`${path}?key=${serverKey()}`);
    for (const kind of Object.keys(kinds)) {
      source.addEventListener(kind, ({ data }: MessageEvent<string>) => {
        const event: RunEvent = JSON.parse(data);
        heed(event);
      });
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
  // Whatever this stream still waits for, another server knows nothing of it.
  const letGo = onLinkNews((news) => {
    if (news === 'gone') return;
    close();
    turn();
  });
  return () => {
    letGo();
    document.removeEventListener('visibilitychange', turn);
    close();
  };
}
