/** Whether the server that gave out this page is still there, was started anew, or is gone. */

/** Written into the page by the server that gave it out; no other page has it. */
let known = document.querySelector<HTMLMetaElement>('meta[name="pileway-key"]')?.content ?? '';

/** The key that the server takes requests with now. */
export function serverKey(): string {
  return known;
}

export type LinkNews = 'gone' | 'back' | 'anew';

const heeds = new Set<(news: LinkNews) => void>();

/** Calls `heed` when the server is gone, is back, or was started anew; gives what ends that. */
export function onLinkNews(heed: (news: LinkNews) => void): () => void {
  heeds.add(heed);
  return () => {
    heeds.delete(heed);
  };
}

/** How often the server is looked at, and how long an answer may take before it counts as none, ms. */
const times = { look: 1000, answer: 8000 };

const keyInPage = /<meta name="pileway-key" content="([^"]*)"/;

/** The key that the server gives to whoever opens its page now; null: there is no server. */
async function keyNow(): Promise<string | null> {
  try {
    const answer = await fetch('/', { signal: AbortSignal.timeout(times.answer) });
    return keyInPage.exec(await answer.text())?.[1] ?? null;
  } catch {
    return null;
  }
}

/** Takes the key of a server that was started anew meanwhile; whether there is one. */
export async function takeNewKey(): Promise<boolean> {
  const key = await keyNow();
  if (key === null || key === known) return false;
  known = key;
  for (const heed of heeds) heed('anew');
  return true;
}

/**
 * Looks at the server again and again while the page is seen; gives what ends that. The new key of a server
 * that was started anew is taken, so that the page goes on with it.
 */
export function watchServer(): () => void {
  let isThere = true;
  let timer: ReturnType<typeof setTimeout>;
  const look = async (): Promise<void> => {
    if (!document.hidden) {
      const key = await keyNow();
      const news = newsOf(isThere, key);
      isThere = key !== null;
      if (key !== null) known = key;
      if (news !== null) for (const heed of heeds) heed(news);
    }
    timer = setTimeout(() => void look(), times.look);
  };
  timer = setTimeout(() => void look(), times.look);
  return () => clearTimeout(timer);
}

function newsOf(wasThere: boolean, key: string | null): LinkNews | null {
  if (key === null) return wasThere ? 'gone' : null;
  if (key !== known) return 'anew';
  return wasThere ? null : 'back';
}
