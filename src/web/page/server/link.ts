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

let isThere = true;

/** Looks at the server once, takes its key if it has another one by now, and tells what is new. */
async function look(): Promise<LinkNews | null> {
  const key = await keyNow();
  const news = newsOf(key);
  isThere = key !== null;
  if (key !== null) known = key;
  if (news !== null) for (const heed of heeds) heed(news);
  return news;
}

function newsOf(key: string | null): LinkNews | null {
  if (key === null) return isThere ? 'gone' : null;
  if (key !== known) return 'anew';
  return isThere ? null : 'back';
}

/** Takes the key of a server that was started anew meanwhile; whether there is one. */
export async function takeNewKey(): Promise<boolean> {
  return (await look()) === 'anew';
}

/**
 * Looks at the server again and again while the page is seen, so that the page goes on with one that was started
 * anew; gives what ends that.
 */
export function watchServer(): () => void {
  let timer: ReturnType<typeof setTimeout>;
  const watch = async (): Promise<void> => {
    if (!document.hidden) await look();
    timer = setTimeout(() => void watch(), times.look);
  };
  timer = setTimeout(() => void watch(), times.look);
  return () => clearTimeout(timer);
}
