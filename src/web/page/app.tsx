import type { JSX } from 'preact';
import { useEffect, useErrorBoundary, useRef } from 'preact/hooks';
import { addressOf, useAddress } from './address.ts';
import { Findings } from './controls/findings.tsx';
import { DraftView } from './drafting/draft-view.tsx';
import { FolderView } from './cutting/folder-view.tsx';
import { RunView } from './run/run-view.tsx';
import { CompareView } from './runs/compare-view.tsx';
import { RunsView } from './runs/runs-view.tsx';
import { findingsToShow } from './server/client.ts';
import { LinkBanner } from './link-banner.tsx';
import { DrawingView } from './sets/sight/drawing-view.tsx';
import { SetsView } from './sets/sets-view.tsx';
import { useKept } from './use-kept.ts';

/** The whole page: a bar that leads everywhere, and the view that the address names. */
export function App(): JSX.Element {
  const address = useAddress();
  const [theme, setTheme] = useKept('theme', 'system');
  useEffect(() => {
    if (theme === 'system') delete document.documentElement.dataset['theme'];
    else document.documentElement.dataset['theme'] = theme;
  }, [theme]);
  const [failure, recover] = useErrorBoundary();
  const arrived = useRef(false);
  useEffect(() => {
    document.title = titleOf(address);
    if (failure !== undefined) recover();
    // Where the link that was followed is gone by now, the keyboard goes on in the new view.
    if (arrived.current && document.activeElement === document.body) focusMain();
    arrived.current = true;
  }, [address]);
  const [place = ''] = address;
  const link = (to: string, words: string): JSX.Element => (
    <a href={addressOf(to)} aria-current={isPlace(to, place) ? 'page' : undefined}>
      {words}
    </a>
  );
  return (
    <>
      <a class="skip" href="#main" onClick={skipToMain}>
        To the work
      </a>
      <header class="bar">
        <a class="mark" href="#/">
          pileway
        </a>
        <nav aria-label="Places">
          {link('', 'Runs')}
          {link('sets', 'Sets')}
        </nav>
        <label class="theme">
          <span class="unseen">Light or dark</span>
          <select value={theme} onChange={(event) => setTheme(event.currentTarget.value)}>
            <option value="system">As the system</option>
            <option value="light">Light</option>
            <option value="dark">Dark</option>
          </select>
        </label>
      </header>
      <LinkBanner />
      <main id="main" tabIndex={-1}>
        {failure === undefined ? viewAt(address) : <Findings findings={findingsToShow(failure)} />}
      </main>
    </>
  );
}

/** The address says which view is shown, so this jump must not change it. */
function skipToMain(event: Event): void {
  event.preventDefault();
  focusMain();
}

function focusMain(): void {
  document.getElementById('main')?.focus();
}

/** Whether a view belongs to a place of the bar: a drawing is looked at where sets are. */
function isPlace(to: string, place: string): boolean {
  return place === to || (to === 'sets' && place === 'drawing');
}

/** The title of the window: the parts of the address, the last one first. */
function titleOf(address: readonly string[]): string {
  return [...address.slice(1).toReversed(), 'pileway'].join(', ');
}

function viewAt([place, name, more, other]: string[]): JSX.Element {
  if (place === 'run' && name !== undefined) {
    return <RunView key={name} name={name} place={more ?? 'orders'} />;
  }
  if (place === 'out' && name !== undefined) {
    return <FolderView key={name} name={name} isRehearsed={more === 'rehearsal'} />;
  }
  if (place === 'compare' && name !== undefined && more !== undefined) {
    return <CompareView key={`${name}/${more}/${other ?? ''}`} before={name} after={more} />;
  }
  if (place === 'sets')
    return name === undefined ? (
      <SetsView />
    ) : (
      <DraftView key={name} name={name} piece={more ?? null} />
    );
  if (place === 'drawing') return <DrawingView />;
  return <RunsView />;
}
