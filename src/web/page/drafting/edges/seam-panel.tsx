import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { SeamFitView, SeamView } from '../../../../drafting/seam-view.ts';
import { Findings } from '../../controls/findings.tsx';
import { NumberField, Tick } from '../../controls/fields.tsx';
import type { SentEdit } from '../../server/calls.ts';
import { StretchList } from './edge-section.tsx';
import { fitWords, verdictOf } from './seam-words.ts';
import type { SewnSide } from './use-seams.ts';
import type { Sewing } from './use-sewing.ts';

type Join = [string, string];

/** What is asked about two edges beside each other; nothing while no seam is looked at. */
export function SewnEdges({
  sewing,
  edit,
}: {
  readonly sewing: Sewing;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
}): JSX.Element | null {
  const { sides, other, otherChosen } = sewing;
  if (sides === null) return null;
  return (
    <>
      <SeamPanel {...sewing} sides={sides} edit={edit} />
      {other !== null && other !== undefined && (
        <section class="pane" aria-label={`Edges of ${other.name}`}>
          <h3>Edges of {other.name}</h3>
          <StretchList
            stretches={other.stretches}
            chosen={otherChosen.kind === 'edges' ? otherChosen.edges : []}
            onChoose={(next) =>
              sewing.chooseOtherEdges(next.kind === 'edges' ? next.edges : [], false)
            }
          />
        </section>
      )}
    </>
  );
}

/** Two edges side by side: how they fit, whether they are a seam, and its notches. */
function SeamPanel({
  sides,
  seam,
  standing,
  findings,
  edit,
  ease,
  setEase,
  end,
}: Omit<Sewing, 'sides'> & {
  readonly sides: NonNullable<Sewing['sides']>;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
}): JSX.Element {
  const [first, second] = sides;
  const [count, setCount] = useState(3);
  const [replace, setReplace] = useState(true);
  const join = (standing?.join ?? null) as Join | null;
  const reachesOf = ({ piece, stretches }: SewnSide) => ({
    piece,
    stretches: stretches.map(({ from, to }) => ({ from, to })),
  });
  const isChosen = second !== null && second.stretches.length > 0 && first.stretches.length > 0;
  const make = (): Promise<boolean> =>
    edit({ kind: 'seam', sides: [reachesOf(first), reachesOf(second!)], ease });
  const fit = seam?.fits[0];
  const box = useRef<HTMLElement>(null);
  useEffect(
    () => box.current!.scrollIntoView({ block: 'nearest' }),
    [second?.piece, join?.join(' ')],
  );
  return (
    <section class="pane seam-panel" aria-labelledby="seam-title" ref={box}>
      <h3 id="seam-title">
        {first.piece} sewn to {second?.piece ?? '…'}
      </h3>
      {second === null && <p>Choose the other piece, then its edge.</p>}
      {second !== null && second.stretches.length === 0 && (
        <p>Point at the edge of {second.piece}, or choose it in the list.</p>
      )}
      <Findings findings={findings} />
      {isChosen && seam !== null && (
        <>
          {fit !== undefined && <FitFigures seam={seam} fit={fit} />}
          <Findings findings={seam.findings} />
          <NumberField
            label="May be eased in"
            hint="Left empty: as the whole set says."
            value={ease}
            unit="mm"
            min={0}
            max={50}
            optional
            onChange={setEase}
          />
        </>
      )}
      <div class="actions">
        {isChosen && (standing === null || standing.ease !== ease) && (
          <button class="button accent" disabled={seam === null} onClick={() => void make()}>
            {standing === null ? 'It is a seam' : 'Ease it so'}
          </button>
        )}
        {join !== null && (
          <button class="button" onClick={() => void edit({ kind: 'unseam', join }).then(end)}>
            No seam
          </button>
        )}
        <button class="button" onClick={end}>
          Done
        </button>
      </div>
      {join !== null && (
        <div class="stack">
          <div class="row">
            <NumberField
              label="Notches on both"
              value={count}
              min={1}
              max={50}
              whole="A notch is cut whole"
              onChange={(next) => setCount(next!)}
            />
            <button
              class="button"
              onClick={() => void edit({ kind: 'seam-notches', join, count, replace })}
            >
              Set {count} on both
            </button>
          </div>
          <Tick label="In place of those that are there" checked={replace} onChange={setReplace} />
        </div>
      )}
    </section>
  );
}

function FitFigures({
  seam,
  fit,
}: {
  readonly seam: SeamView;
  readonly fit: SeamFitView;
}): JSX.Element {
  return (
    <>
      <p role="status">
        <strong>{verdictOf(seam)}:</strong> {fitWords(fit)}.
      </p>
      <dl class="seam-figures">
        {seam.join.map((ref, i) => (
          <div>
            <dt>{ref}</dt>
            <dd>{fit.lengths[i]!.toFixed(1)} mm</dd>
          </div>
        ))}
      </dl>
    </>
  );
}
