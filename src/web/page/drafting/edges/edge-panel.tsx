import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { PieceView } from '../../../../drafting/view.ts';
import type { EdgeKind } from '../../../../pattern/words.ts';
import { edgeKinds } from '../../../../pattern/words.ts';
import { NumberField, TextField } from '../../controls/fields.tsx';
import type { SentEdit } from '../../server/calls.ts';
import { capital, counted } from '../../words.ts';
import { EdgeSample } from './edge-lines.tsx';
import { benchWords, stretchName, undecidedWords, underLabels } from './edge-words.ts';
import type { ShownStretch } from './shown-stretches.ts';
import { leastPart } from './shown-stretches.ts';
import type { EdgesShown } from './use-edges.ts';

/** What is said of the stretches that are chosen. */
export function EdgePanel({
  piece,
  edges,
  edit,
  onPass,
  onSew,
  onDone,
}: {
  readonly piece: PieceView;
  readonly edges: EdgesShown;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
  /** Goes on though nobody has said what hides the edge; null: nothing waits for that. */
  readonly onPass: (() => void) | null;
  readonly onSew: () => void;
  readonly onDone: () => void;
}): JSX.Element {
  const { stretches, chosen } = edges;
  const own = chosen.map((i) => stretches[i]!);
  const first = own[0]!;
  const long = own.reduce((sum, { length }) => sum + length, 0);
  const kind = common(own, (one) => one.kind);
  const name = common(own, (one) => one.name);
  const special = [...new Set(own.flatMap((one) => one.special))];
  const say = (edge: EdgeKind | null, more: { name?: string; under?: string } = {}): void => {
    const reaches = own.map(({ from, to }) => ({ from, to }));
    void edit({ kind: 'edge', piece: piece.name, stretches: reaches, edge, ...more });
  };
  const box = useRef<HTMLDivElement>(null);
  /** Goes back to the list, where it stands below what is chosen. */
  const leave = (): void => {
    box.current!.closest('li')?.querySelector('button')?.focus();
    onDone();
  };
  useEffect(() => box.current!.scrollIntoView({ block: 'nearest' }), [chosen.join(' ')]);
  return (
    <div
      class="edge-panel"
      role="group"
      aria-labelledby="edge-chosen"
      ref={box}
      tabindex={-1}
      onKeyDown={({ key }) => {
        if (key === 'Escape') leave();
      }}
    >
      <h4 id="edge-chosen">
        {own.length === 1
          ? stretchName(first, chosen[0]!)
          : `${counted(own.length, 'stretch', 'stretches')} chosen`}
        , {long.toFixed(0)} mm
      </h4>
      <div class="meaning-buttons" role="group" aria-label="What happens to it?">
        {[...edgeKinds, null].map((one) => (
          <button class="button edge-kind" aria-pressed={kind === one} onClick={() => say(one)}>
            <EdgeSample kind={one} /> {capital(one === null ? undecidedWords : benchWords[one])}
          </button>
        ))}
      </div>
      {piece.mirror !== null && (
        <p class="quiet">
          Only one half of this piece is drawn: both halves are told alike. The picture shows both.
        </p>
      )}
      {special.length > 0 && (
        <p class="quiet">
          What lies on {special.join(', ')} is not always there. That part of the edge is left as it
          is: change it in the drawing.
        </p>
      )}
      {(kind === 'raw' || kind === 'tuck') && (
        <TextField
          label={underLabels[kind]}
          hint="What hides it in the vehicle, for these alone."
          value={common(own, (one) => one.hiddenBy) ?? ''}
          fits={(text) => text.length <= 200}
          wrongWords="At most 200 letters."
          onChange={(under) => say(kind, { under })}
        />
      )}
      {onPass !== null && (
        <button class="button" onClick={onPass}>
          Not known yet: go on
        </button>
      )}
      {kind !== null && kind !== undefined && name !== undefined && (
        <TextField
          label="Its name"
          hint="As papers and seams call it."
          value={name ?? ''}
          fits={(text) => /^[a-z0-9]+(-[a-z0-9]+)*$/.test(text)}
          wrongWords="Small letters and digits, joined by single hyphens."
          onChange={(to) => {
            if (to === name) return;
            if (name === null || isDivided(own, name, stretches)) say(kind, { name: to });
            else void edit({ kind: 'name-edge', piece: piece.name, edge: name, to });
          }}
        />
      )}
      {own.length === 1 && first.length >= 2 * leastPart && (
        <Divide length={first.length} edges={edges} />
      )}
      <div class="actions">
        <button class="button" onClick={onSew}>
          Sewn to …
        </button>
        <button class="button" onClick={leave}>
          Done
        </button>
      </div>
    </div>
  );
}

/** Whether only some of the stretches of one name are chosen: then it is these that are called otherwise. */
function isDivided(
  own: readonly ShownStretch[],
  name: string,
  all: readonly ShownStretch[],
): boolean {
  return all.filter((one) => one.name === name).length > own.length;
}

/** What all of some stretches have in common. undefined: they differ. */
function common<T>(
  stretches: readonly ShownStretch[],
  of: (stretch: ShownStretch) => T,
): T | undefined {
  const [first, ...others] = stretches.map(of);
  return others.every((one) => one === first) ? first : undefined;
}

/** Where a stretch is divided: typed, or pointed at. */
function Divide({
  length,
  edges,
}: {
  readonly length: number;
  readonly edges: EdgesShown;
}): JSX.Element {
  const most = Math.floor(length - leastPart);
  return (
    <details class="divide">
      <summary>Divide it</summary>
      <div class="row">
        <NumberField
          label="From its beginning (the dot)"
          value={null}
          unit="mm"
          min={leastPart}
          max={most}
          optional
          onChange={(along) => along !== null && edges.divide(along)}
        />
        <NumberField
          label="From its end"
          value={null}
          unit="mm"
          min={leastPart}
          max={most}
          optional
          onChange={(along) => along !== null && edges.divide(-along)}
        />
      </div>
      <button
        class="button"
        aria-pressed={edges.isPlacing}
        onClick={() => edges.setPlacing(!edges.isPlacing)}
      >
        {edges.isPlacing ? 'Click the place in the picture …' : 'Click the place'}
      </button>
      <p class="quiet">Then say what happens to one of the parts.</p>
    </details>
  );
}
