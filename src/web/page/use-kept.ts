import { useState } from 'preact/hooks';

/** A setting that is kept in this browser alone, and what changes it. */
export function useKept(name: string, first: string): [string, (value: string) => void] {
  const [value, setValue] = useState(() => localStorage.getItem(`pileway-${name}`) ?? first);
  const keep = (next: string): void => {
    localStorage.setItem(`pileway-${name}`, next);
    setValue(next);
  };
  return [value, keep];
}
