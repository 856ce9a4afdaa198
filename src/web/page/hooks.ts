import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../base/findings.ts';
import { findingsToShow } from './server/client.ts';

export interface Loaded<T> {
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
  useEffect(() => {
    reload();
    return () => {
      asked.current++;
    };
  }, needs);
  return { ...state, reload };
}

/** The address behind the number sign, split at its slashes. */
export function useAddress(): string[] {
  const parts = (): string[] =>
    location.hash.replace(/^#\/?/, '').split('/').filter(Boolean).map(decoded);
  const [address, setAddress] = useState(parts);
  useEffect(() => {
    const heed = (): void => setAddress(parts());
    addEventListener('hashchange', heed);
    return () => removeEventListener('hashchange', heed);
  }, []);
  return address;
}

/** A part of an address as it was meant; one that was mistyped stays as it is. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

export function addressOf(...parts: readonly string[]): string {
  return `#/${parts.map(encodeURIComponent).join('/')}`;
}

/** A setting that is kept in this browser alone, and what changes it. */
export function useKept(name: string, first: string): [string, (value: string) => void] {
  const [value, setValue] = useState(() => localStorage.getItem(`pileway-${name}`) ?? first);
  const keep = (next: string): void => {
    localStorage.setItem(`pileway-${name}`, next);
    setValue(next);
  };
  return [value, keep];
}
