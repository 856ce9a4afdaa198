import { useEffect } from 'preact/hooks';

/** Calls `press` at Space or Enter while nothing else has the focus; null: nothing is pressed. */
export function usePressKeys(press: (() => void) | null): void {
  useEffect(() => {
    if (press === null) return undefined;
    const heed = (event: KeyboardEvent): void => {
      const at = document.activeElement;
      const isFree = at === null || at === document.body || at.id === 'main';
      // A key that is held down says one thing, not one after the other.
      if (!isFree || event.repeat || (event.key !== ' ' && event.key !== 'Enter')) return;
      event.preventDefault();
      press();
    };
    addEventListener('keydown', heed);
    return () => removeEventListener('keydown', heed);
  });
}
