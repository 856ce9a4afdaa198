import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { onLinkNews, watchServer } from './server/link.ts';

/** Says when the server is gone, and when another one is in its place. */
export function LinkBanner(): JSX.Element {
  const [state, setState] = useState<'there' | 'gone' | 'anew'>('there');
  useEffect(() => onLinkNews((news) => setState(news === 'back' ? 'there' : news)), []);
  useEffect(watchServer, []);
  return (
    <div role="status">
      {state === 'gone' && (
        <p class="link-banner gone">
          <strong>The server does not answer.</strong> Start “pileway serve” again in the folder of
          the workshop: this page then goes on by itself. What was saved is saved.
        </p>
      )}
      {state === 'anew' && (
        <p class="link-banner">
          <strong>The server was started anew.</strong> What is shown is what it has saved.{' '}
          <button class="button" onClick={() => setState('there')}>
            Good
          </button>
        </p>
      )}
    </div>
  );
}
