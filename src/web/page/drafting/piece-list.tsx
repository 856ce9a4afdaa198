import type { JSX } from 'preact';
import type { Question } from '../../../drafting/questions.ts';
import type { PieceView } from '../../../drafting/view.ts';
import { addressOf } from '../address.ts';

/** The pieces of a draft, each with its outline small and how much is open about it. */
export function PieceList({
  set,
  names,
  pieces,
  questions,
  shown,
}: {
  readonly set: string;
  readonly names: readonly string[];
  readonly pieces: ReadonlyMap<string, PieceView>;
  readonly questions: readonly Question[];
  /** The piece that is shown; null: the set as a whole. */
  readonly shown: string | null;
}): JSX.Element {
  const open = (piece: string | null): number =>
    questions.filter((one) => one.piece === piece && one.severity === 'error').length;
  return (
    <nav class="piece-list" aria-label="Pieces">
      <ul role="list">
        <Entry
          href={addressOf('sets', set)}
          words="The whole set"
          isShown={shown === null}
          open={open(null)}
          view={null}
        />
        {names.map((name) => (
          <Entry
            href={addressOf('sets', set, name)}
            words={name}
            isShown={shown === name}
            open={open(name)}
            view={pieces.get(name) ?? null}
          />
        ))}
      </ul>
    </nav>
  );
}

function Entry({
  href,
  words,
  isShown,
  open,
  view,
}: {
  readonly href: string;
  readonly words: string;
  readonly isShown: boolean;
  readonly open: number;
  readonly view: PieceView | null;
}): JSX.Element {
  return (
    <li>
      <a href={href} aria-current={isShown ? 'page' : undefined}>
        <span class="thumb" aria-hidden="true">
          {view !== null && <Thumb view={view} />}
        </span>
        <span class="piece-name">{words}</span>
        {open > 0 && (
          <span class="open-count">
            {open}
            <span class="unseen"> {open === 1 ? 'question' : 'questions'}</span>
          </span>
        )}
      </a>
    </li>
  );
}

/** The outline of a piece, small. */
export function Thumb({ view: { box, outline, things } }: { view: PieceView }): JSX.Element {
  const [minX, minY, maxX, maxY] = box;
  const pad = Math.max(maxX - minX, maxY - minY) * 0.06;
  const cuts = things.filter(({ role }) => role === 'CUTOUT' || role === 'HOLE' || role === null);
  return (
    <svg viewBox={`${minX - pad} ${-maxY - pad} ${maxX - minX + 2 * pad} ${maxY - minY + 2 * pad}`}>
      <g transform="scale(1 -1)">
        {outline !== null && <path d={outline} />}
        {cuts.map(({ d }) => (
          <path d={d} />
        ))}
      </g>
    </svg>
  );
}
