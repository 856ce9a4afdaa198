import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Spot } from '../../../../drafting/edge-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import { NumberField, Select, TextField } from '../../controls/fields.tsx';
import { alongFromCorner } from './along-outline.ts';
import type { AddedKind, AddedFigures, FromEdges, Placing } from './placing.ts';
import { placeFromEdges, placesNeeded } from './placing.ts';

const kinds: readonly {
  value: AddedKind;
  words: string;
  figures: readonly (keyof AddedFigures)[];
}[] = [
  { value: 'hole', words: 'hole', figures: ['diameter'] },
  { value: 'drill', words: 'drill mark', figures: [] },
  { value: 'round', words: 'round cutout', figures: ['diameter'] },
  { value: 'oblong', words: 'oblong cutout', figures: ['width', 'height', 'radius'] },
  { value: 'pad', words: 'heel pad', figures: ['width', 'height', 'radius'] },
  { value: 'notch', words: 'notch', figures: [] },
  { value: 'fold', words: 'fold line', figures: [] },
  { value: 'stitch', words: 'stitch line', figures: [] },
  { value: 'mark', words: 'mark', figures: [] },
  { value: 'note', words: 'note', figures: ['words'] },
];

const figureWords = {
  diameter: 'Across',
  width: 'Width',
  height: 'Height',
  radius: 'Radius of its corners',
} as const;

/** Something new on the piece: its figures, and its place by pointing or by figures. */
export function AddPanel({
  piece,
  placing,
  onPlacing,
  onPlace,
}: {
  readonly piece: PieceView;
  /** What is placed by pointing now; null: nothing is. */
  readonly placing: Placing | null;
  readonly onPlacing: (placing: Placing | null) => void;
  readonly onPlace: (placing: Placing) => void;
}): JSX.Element {
  const [kind, setKind] = useState<AddedKind>('hole');
  const [figures, setFigures] = useState<AddedFigures>({
    diameter: 12,
    width: 120,
    height: 80,
    radius: 10,
    words: '',
  });
  const own = kinds.find(({ value }) => value === kind)!;
  const isReady = kind !== 'note' || figures.words !== '';
  const place = (points: readonly Spot[]): void => onPlace({ kind, figures, points });
  return (
    <details class="pane add-shape">
      <summary>Add</summary>
      <div class="stack">
        <Select
          label="What"
          value={kind}
          choices={kinds}
          onChange={(next) => {
            setKind(next);
            onPlacing(null);
          }}
        />
        <div class="row">
          {own.figures.map((figure) =>
            figure === 'words' ? (
              <TextField
                label="What it says"
                value={figures.words}
                onChange={(words) => setFigures({ ...figures, words })}
              />
            ) : (
              <NumberField
                label={figureWords[figure]}
                value={figures[figure]}
                unit="mm"
                min={figure === 'radius' ? 0 : 1}
                max={3000}
                onChange={(mm) => setFigures({ ...figures, [figure]: mm! })}
              />
            ),
          )}
        </div>
        {placing === null || placing.kind === 'centreline' ? (
          <button
            class="button"
            disabled={!isReady}
            onClick={() => onPlacing({ kind, figures, points: [] })}
          >
            Place it in the picture
          </button>
        ) : (
          <>
            <p role="status">{placingWords(placing)}</p>
            <button class="button" onClick={() => onPlacing(null)}>
              Leave it
            </button>
          </>
        )}
        {kind === 'notch' ? (
          <AlongEdge piece={piece} onPlace={(at) => place([at])} />
        ) : placesNeeded(kind) === 1 ? (
          <FromTwoEdges
            words="Its middle"
            piece={piece}
            isReady={isReady}
            onPlace={(at) => place([at])}
          />
        ) : (
          <TwoEnds piece={piece} onPlace={place} />
        )}
      </div>
    </details>
  );
}

function placingWords({ kind, points }: Placing): string {
  if (placesNeeded(kind) === 1) return 'Point at its place in the picture.';
  return points.length === 0 ? 'Point at where it begins.' : 'Point at where it ends.';
}

/** A place by its distances from two edges of the piece. */
function FromTwoEdges({
  words,
  piece,
  isReady,
  button = 'Place it there',
  onPlace,
}: {
  readonly words: string;
  readonly piece: PieceView;
  readonly isReady: boolean;
  readonly button?: string;
  readonly onPlace: (at: Spot) => void;
}): JSX.Element {
  const [from, setFrom] = useState<FromEdges>({
    across: 'left',
    right: 100,
    along: 'rear',
    up: 100,
  });
  return (
    <fieldset class="stack">
      <legend>{words}</legend>
      <div class="row">
        <NumberField
          label="From the side"
          value={from.right}
          unit="mm"
          min={-5000}
          max={10_000}
          onChange={(right) => setFrom({ ...from, right: right! })}
        />
        <Select
          label="Which side"
          value={from.across}
          choices={[
            { value: 'left', words: 'left' },
            { value: 'right', words: 'right' },
          ]}
          onChange={(across) => setFrom({ ...from, across })}
        />
      </div>
      <div class="row">
        <NumberField
          label="From the end"
          value={from.up}
          unit="mm"
          min={-5000}
          max={10_000}
          onChange={(up) => setFrom({ ...from, up: up! })}
        />
        <Select
          label="Which end"
          value={from.along}
          choices={[
            { value: 'front', words: 'front (above)' },
            { value: 'rear', words: 'rear (below)' },
          ]}
          onChange={(along) => setFrom({ ...from, along })}
        />
      </div>
      <button
        class="button"
        disabled={!isReady}
        onClick={() => onPlace(placeFromEdges(piece.outlineBox, from))}
      >
        {button}
      </button>
    </fieldset>
  );
}

function TwoEnds({
  piece,
  onPlace,
}: {
  readonly piece: PieceView;
  readonly onPlace: (points: readonly Spot[]) => void;
}): JSX.Element {
  const [first, setFirst] = useState<Spot | null>(null);
  return first === null ? (
    <FromTwoEdges
      key="begin"
      words="Where it begins"
      piece={piece}
      isReady
      button="It begins there"
      onPlace={setFirst}
    />
  ) : (
    <FromTwoEdges
      key="end"
      words="Where it ends"
      piece={piece}
      isReady
      button="It ends there"
      onPlace={(at) => {
        setFirst(null);
        onPlace([first, at]);
      }}
    />
  );
}

/** A place on the outline, from one of the corners of its box. */
function AlongEdge({
  piece: { outline, outlineBox },
  onPlace,
}: {
  readonly piece: PieceView;
  readonly onPlace: (at: Spot) => void;
}): JSX.Element {
  const [mm, setMm] = useState(100);
  const [minX, minY, maxX, maxY] = outlineBox;
  const corners = {
    left: [minX, minY],
    right: [maxX, minY],
    'right-above': [maxX, maxY],
    'left-above': [minX, maxY],
  } as const;
  const [corner, setCorner] = useState<keyof typeof corners>('left');
  return (
    <fieldset class="stack">
      <legend>Along the edge</legend>
      <div class="row">
        <NumberField
          label="So far along"
          hint="Less than 0: clockwise."
          value={mm}
          unit="mm"
          min={-50_000}
          max={50_000}
          onChange={(next) => setMm(next!)}
        />
        <Select
          label="From the corner"
          value={corner}
          choices={[
            { value: 'left', words: 'left, below' },
            { value: 'right', words: 'right, below' },
            { value: 'right-above', words: 'right, above' },
            { value: 'left-above', words: 'left, above' },
          ]}
          onChange={setCorner}
        />
      </div>
      <button
        class="button"
        disabled={outline === null}
        onClick={() => onPlace(alongFromCorner(outline!, corners[corner], mm))}
      >
        Place it there
      </button>
    </fieldset>
  );
}
