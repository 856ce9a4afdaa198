import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Question } from '../../../drafting/questions.ts';
import type { Chosen } from './chosen.ts';

/**
 * Whoever works by keys goes on where the next question is answered: at the edges that it is about, or at its
 * card. Gives what announces that another question comes.
 */
export function useFocusOnAsked(
  panel: RefObject<HTMLElement | null>,
  asked: Question | null,
  shown: string | null,
  chosen: Chosen,
): () => void {
  const isComing = useRef(false);
  useEffect(() => {
    if (!isComing.current || asked === null || asked.piece !== shown) return;
    const isAboutEdges = asked.stretches.length > 0;
    if (isAboutEdges && chosen.kind !== 'edges') return;
    isComing.current = false;
    panel.current
      ?.querySelector<HTMLElement>(isAboutEdges ? '.edge-panel' : '.question')
      ?.focus({ preventScroll: true });
  });
  return () => {
    isComing.current = true;
  };
}
