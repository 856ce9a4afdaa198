import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../../base/findings.ts';
import { Findings } from '../../controls/findings.tsx';
import { takeDrawing } from './taken-drawing.ts';

/**
 * Takes a drawing that is dropped anywhere in the window, or chosen with a button. `words`: what stands on
 * that button.
 */
export function TakeDrawing({
  words,
  isLarge = false,
}: {
  words: string;
  isLarge?: boolean;
}): JSX.Element {
  const input = useRef<HTMLInputElement>(null);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const take = (files: readonly File[]): void => {
    void takeDrawing(files).then(setFindings);
  };
  const isOver = useDrop(take);
  return (
    <div class="take-drawing">
      <span class="unseen">
        <input
          ref={input}
          type="file"
          tabindex={-1}
          aria-label="Drawing (DXF)"
          accept=".dxf,.DXF"
          onChange={(event) => {
            take([...(event.currentTarget.files ?? [])]);
            // The same file may be chosen again.
            event.currentTarget.value = '';
          }}
        />
      </span>
      {isLarge ? (
        <div class="drop-place">
          <p class="strong">Drop a drawing here: a DXF, as your customer sent it.</p>
          <p class="quiet">You see it as it was read before anything is made of it.</p>
          <button class="button accent" onClick={() => input.current?.click()}>
            {words}
          </button>
        </div>
      ) : (
        <button class="button" onClick={() => input.current?.click()}>
          {words}
        </button>
      )}
      {isOver && (
        <div class="drop-over" aria-hidden="true">
          <span>Drop the drawing anywhere</span>
        </div>
      )}
      <div role="alert">
        <Findings findings={findings} label="Not taken" />
      </div>
    </div>
  );
}

/** Whether files are held over the window; what is dropped there is given on. */
function useDrop(onDrop: (files: readonly File[]) => void): boolean {
  const [isOver, setOver] = useState(false);
  useEffect(() => {
    const ending = new AbortController();
    const { signal } = ending;
    const holdsFiles = (event: DragEvent): boolean =>
      event.dataTransfer?.types.includes('Files') === true;
    const over = (event: DragEvent): void => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      setOver(true);
    };
    addEventListener('dragenter', over, { signal });
    addEventListener('dragover', over, { signal });
    addEventListener(
      'dragleave',
      (event) => {
        if (event.relatedTarget === null) setOver(false);
      },
      { signal },
    );
    addEventListener(
      'drop',
      (event) => {
        setOver(false);
        if (!holdsFiles(event)) return;
        event.preventDefault();
        onDrop([...(event.dataTransfer?.files ?? [])]);
      },
      { signal },
    );
    return () => ending.abort();
  }, []);
  return isOver;
}
