import { useEffect, useState } from 'preact/hooks';

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
