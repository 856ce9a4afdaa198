import { useEffect, useState } from 'preact/hooks';

/** So long nothing is pressed after the next question has come, ms: whoever pressed twice meant the one before. */
const restFor = 600;

/** Lets the buttons rest for a moment whenever another question comes. */
export function useRest(): { readonly isResting: boolean; readonly rest: () => void } {
  const [since, setSince] = useState(0);
  useEffect(() => {
    if (since === 0) return undefined;
    const end = setTimeout(() => setSince(0), restFor);
    return () => clearTimeout(end);
  }, [since]);
  return { isResting: since !== 0, rest: () => setSince((before) => before + 1) };
}
