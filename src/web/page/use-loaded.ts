import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../base/findings.ts';
import { findingsToShow } from './server/client.ts';
import { onLinkNews } from './server/link.ts';

interface Loaded<T> {
  readonly value: T | null;
  readonly findings: readonly Finding[];
  readonly isLoading: boolean;
  readonly reload: () => void;
}

/**
 * Loads something, and loads it again whenever what it depends on (`needs`) changes. Of several answers
 * the newest counts.
 */
export function useLoaded<T>(load: () => Promise<T>, needs: readonly unknown[]): Loaded<T> {
  const [state, setState] = useState<Omit<Loaded<T>, 'reload'>>({
    value: null,
    findings: [],
    isLoading: true,
  });
  const asked = useRef(0);
  const reload = useCallback(() => {
    const own = ++asked.current;
    setState((before) => ({ ...before, isLoading: true }));
    load()
      .then((value) => own === asked.current && setState({ value, findings: [], isLoading: false }))
      .catch((error: unknown) => {
        if (own !== asked.current) return;
        setState((before) => ({ ...before, findings: findingsToShow(error), isLoading: false }));
      });
  }, needs);
  useEffect(() => onLinkNews((news) => (news === 'gone' ? undefined : reload())), needs);
  useEffect(() => {
    reload();
    return () => {
      asked.current++;
    };
  }, needs);
  return { ...state, reload };
}
