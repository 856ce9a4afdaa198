import { useCallback, useEffect, useRef } from 'preact/hooks';
import type { RunEvent } from '../../api/events.ts';
import { listenToRun } from '../server/listen-to-run.ts';
import type { ListenToFolder } from './use-cutting.ts';

/** Listens to what happens to a run folder, by one stream for all who listen here. */
export function useFolderEvents(name: string): ListenToFolder {
  const heeds = useRef(new Set<(event: RunEvent) => void>());
  useEffect(() => {
    const tell = (event: RunEvent): void => {
      for (const heed of heeds.current) heed(event);
    };
    // Whatever was ticked before the stream was open, or while it was not, is asked for.
    return listenToRun(name, tell, () => tell({ kind: 'ticked' }));
  }, [name]);
  return useCallback((heed) => {
    heeds.current.add(heed);
    return () => {
      heeds.current.delete(heed);
    };
  }, []);
}
