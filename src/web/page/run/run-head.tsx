import type { JSX } from 'preact';
import { addressOf } from '../address.ts';
import { BackAndForth } from '../controls/back-and-forth.tsx';
import type { OpenRunFile } from '../use-run-file.ts';
import type { PlaceName } from './places.ts';
import { placeAfter, places } from './places.ts';

/** The line above a run: what it is called, its places, the way back and forth, and whether it is saved. */
export function RunHead({ run, at }: { run: OpenRunFile; at: PlaceName }): JSX.Element {
  const { name, file } = run;
  const next = placeAfter(at);
  return (
    <header class="run-head">
      <h1 title={file?.content.title}>{file?.content.title ?? name}</h1>
      <nav aria-label="Places of this run">
        {places.map(([id, words]) => (
          <a href={addressOf('run', name, id)} aria-current={id === at ? 'page' : undefined}>
            {words}
          </a>
        ))}
      </nav>
      <p class="quiet saved" role="status">
        {run.isSaving ? 'Saving …' : file === null ? '' : `Saved as patterns/${name}.yaml`}
      </p>
      {file !== null && (
        <BackAndForth
          undo={file.undo}
          redo={file.redo}
          onUndo={() => run.undo?.()}
          onRedo={() => run.redo?.()}
        />
      )}
      {next !== null && (
        <a class="button accent" href={addressOf('run', name, next[0])}>
          Next: {next[1]}
        </a>
      )}
    </header>
  );
}
