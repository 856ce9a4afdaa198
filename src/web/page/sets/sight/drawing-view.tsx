import type { JSX } from 'preact';
import { useId, useState } from 'preact/hooks';
import type { DrawingSight, SightBox, SightLayer } from '../../../api/sight.ts';
import { addressOf } from '../../address.ts';
import { NumberField, TextField } from '../../controls/fields.tsx';
import { findingWords } from '../../controls/finding-words.ts';
import { Findings } from '../../controls/findings.tsx';
import { calls } from '../../server/calls.ts';
import { useLoaded } from '../../use-loaded.ts';
import { counted } from '../../words.ts';
import { BeginForm } from './begin-form.tsx';
import type { Goal } from './drawing-picture.tsx';
import { DrawingPicture } from './drawing-picture.tsx';
import { LayerTray } from './layer-tray.tsx';
import { LeftOutList } from './left-out-list.tsx';
import type { Said } from './said.ts';
import { isUnsaid, nothingSaid, wishOf, withAnswer, withForCustomer, withOffered } from './said.ts';
import { TakeDrawing } from './take-drawing.tsx';
import type { TakenDrawing } from './taken-drawing.ts';
import { useTakenDrawing } from './taken-drawing.ts';
import { UnitsQuestion } from './units-question.tsx';

/** A drawing before it is a set. */
export function DrawingView(): JSX.Element {
  const drawing = useTakenDrawing();
  if (drawing === null) {
    return (
      <div class="view">
        <h1>A drawing as it comes</h1>
        <TakeDrawing words="Choose a drawing" isLarge />
      </div>
    );
  }
  return <OneDrawing key={keyOf(drawing)} drawing={drawing} />;
}

const keys = new WeakMap<TakenDrawing, number>();
let lastKey = 0;

/** Another drawing is another view: nothing that was said of the one before is left. */
function keyOf(drawing: TakenDrawing): number {
  const own = keys.get(drawing) ?? ++lastKey;
  keys.set(drawing, own);
  return own;
}

function OneDrawing({ drawing }: { drawing: TakenDrawing }): JSX.Element {
  const [said, setSaid] = useState<Said>(nothingSaid);
  const wish = wishOf(drawing.name, said);
  const { value, findings, isLoading } = useLoaded(
    () => calls.sight(wish, drawing.bytes),
    [JSON.stringify(wish)],
  );
  return (
    <div class="view sight-view">
      <div class="title-row">
        <h1>{drawing.name}</h1>
        <TakeDrawing words="Another drawing" />
      </div>
      <p class="unseen" role="status">
        {isLoading ? 'Reading …' : value === null ? '' : statusWords(value)}
      </p>
      {value === null && isLoading && <p class="quiet">Reading the drawing …</p>}
      {value === null && findings.length > 0 && (
        <p class="strong">This drawing cannot be read, and nothing was made of it.</p>
      )}
      <Findings findings={findings} />
      {value !== null && (
        <SightDesk
          drawing={drawing}
          sight={value}
          said={said}
          isLoading={isLoading}
          onSay={setSaid}
        />
      )}
    </div>
  );
}

function SightDesk({
  drawing,
  sight,
  said,
  isLoading,
  onSay,
}: {
  readonly drawing: TakenDrawing;
  readonly sight: DrawingSight;
  readonly said: Said;
  readonly isLoading: boolean;
  readonly onSay: (said: Said) => void;
}): JSX.Element {
  const id = useId();
  const shapeId = (index: number): string => `${id}-layer-${index}`;
  const [layer, setLayer] = useState<string | null>(null);
  const [goal, setGoal] = useState<Goal | null>(null);
  const go = (box: SightBox): void => setGoal({ box });
  return (
    <div class="sight-desk">
      <LayerShapes layers={sight.layers} shapeId={shapeId} />
      <DrawingPicture
        sight={sight}
        name={drawing.name}
        shapeId={shapeId}
        layer={layer}
        goal={goal}
      />
      <BeginForm drawing={drawing} sight={sight} said={said} isLoading={isLoading}>
        <Begun sets={sight.begun} />
        <UnitsQuestion
          units={sight.units}
          chosen={said.units}
          onChoose={(units) => onSay({ ...said, units })}
        />
        <SightFindings sight={sight} onGo={go} />
        <CustomerField
          value={said.drawnBy}
          known={sight.customers}
          onChange={(drawnBy) => onSay({ ...said, drawnBy })}
        />
        <LayerTray
          sight={sight}
          said={said}
          shapeId={shapeId}
          layer={layer}
          onChoose={setLayer}
          onAnswer={(one, answer) => onSay(withAnswer(said, one, answer))}
          onOffered={(offered) => onSay(withOffered(said, offered))}
          onForCustomer={(one, isSo) => onSay(withForCustomer(said, one, isSo))}
        />
        <LeftOutList things={sight.leftOut} onGo={go} />
        <HowItIsRead said={said} isAsked={sight.findings.some(isAboutGaps)} onSay={onSay} />
      </BeginForm>
    </div>
  );
}

/** The shape of each layer, once: the picture and the tray both show it. */
function LayerShapes({
  layers,
  shapeId,
}: {
  readonly layers: readonly SightLayer[];
  readonly shapeId: (index: number) => string;
}): JSX.Element {
  return (
    <svg width="0" height="0" class="layer-shapes" aria-hidden="true">
      <defs>
        {layers.map(({ d, points }, i) => (
          <g id={shapeId(i)} key={i}>
            <path class="shape-lines" d={d} />
            {points.length > 0 && (
              <path class="shape-points" d={points.map(([x, y]) => `M${x} ${y}h0`).join('')} />
            )}
          </g>
        ))}
      </defs>
    </svg>
  );
}

/** The sets that were begun of this very drawing. */
function Begun({ sets }: { sets: readonly string[] }): JSX.Element | null {
  if (sets.length === 0) return null;
  return (
    <p class="notice">
      This very drawing came before:{' '}
      {sets.map((set) => (
        <a href={addressOf('sets', set)}>{set}</a>
      ))}{' '}
      was begun of it. Begin another only if you mean to.
    </p>
  );
}

/** What was noticed about the drawing, with a button that goes to the place. */
function SightFindings({
  sight: { findings, spots },
  onGo,
}: {
  readonly sight: DrawingSight;
  readonly onGo: (box: SightBox) => void;
}): JSX.Element | null {
  // Layers that say nothing, and what lies in no outline, are asked about beside their pictures.
  const told = findings
    .map((finding, i) => ({ finding, spot: spots[i]! }))
    .filter(({ finding: { rule } }) => rule !== 'unknown-layer' && rule !== 'in-no-outline');
  if (told.length === 0) return null;
  const errors = told.filter(({ finding }) => finding.severity === 'error');
  const others = told.filter(({ finding }) => finding.severity !== 'error');
  return (
    <section class="stack" aria-labelledby="noticed">
      {errors.length > 0 && <h2 id="noticed">What stops it</h2>}
      <FindingPlaces told={errors} onGo={onGo} />
      {others.length > 0 && (
        <details>
          <summary id={errors.length > 0 ? undefined : 'noticed'}>
            Noticed: {counted(others.length, 'thing')}
          </summary>
          <FindingPlaces told={others} onGo={onGo} />
        </details>
      )}
    </section>
  );
}

const signs = { error: 'Stops', warning: 'Look', note: 'Note' } as const;

function FindingPlaces({
  told,
  onGo,
}: {
  readonly told: readonly {
    readonly finding: DrawingSight['findings'][number];
    readonly spot: DrawingSight['spots'][number];
  }[];
  readonly onGo: (box: SightBox) => void;
}): JSX.Element {
  return (
    <ul class="findings" role="list" aria-label="Findings">
      {told.map(({ finding, spot }) => (
        <li class={`finding ${finding.severity}`}>
          <strong>{signs[finding.severity]}</strong>
          <span>
            {findingWords(finding)}
            {spot !== null && (
              <button
                class="link-button"
                onClick={() => onGo([spot[0], spot[1], spot[0], spot[1]])}
              >
                Show
              </button>
            )}
          </span>
        </li>
      ))}
    </ul>
  );
}

/** Who drew it: what their layers mean is known from one drawing to the next. */
function CustomerField({
  value,
  known,
  onChange,
}: {
  readonly value: string;
  readonly known: readonly string[];
  readonly onChange: (customer: string) => void;
}): JSX.Element {
  return (
    <div class="customer-field">
      <TextField
        label="Drawn by (customer)"
        value={value}
        hint={
          known.length === 0
            ? 'Then what their layers mean can hold for all their drawings.'
            : `Known: ${known.slice(0, 6).join(', ')}${known.length > 6 ? ' …' : ''}.`
        }
        fits={(text) => text === '' || (/^[a-z0-9]+(-[a-z0-9]+)*$/.test(text) && text.length <= 40)}
        wrongWords="Small letters, digits and single hyphens, at most 40."
        onChange={onChange}
      />
    </div>
  );
}

/** How loose and digitised lines are read. */
function HowItIsRead({
  said,
  isAsked,
  onSay,
}: {
  readonly said: Said;
  /** Whether a wider gap may mend what stops it. */
  readonly isAsked: boolean;
  readonly onSay: (said: Said) => void;
}): JSX.Element {
  return (
    <details open={isAsked || said.gap !== null}>
      <summary>Gaps and digitised lines</summary>
      <div class="row">
        <NumberField
          label="Widest gap that is closed (gap)"
          value={said.gap}
          unit="mm"
          min={0}
          max={5}
          optional
          hint="0.05 if you say nothing."
          onChange={(gap) => onSay({ ...said, gap })}
        />
        <NumberField
          label="Make arcs of many points (refit)"
          value={said.refit}
          unit="mm"
          min={0.001}
          max={2}
          optional
          hint="How far off they may be; empty: as drawn."
          onChange={(refit) => onSay({ ...said, refit })}
        />
      </div>
    </details>
  );
}

function isAboutGaps({ rule, severity }: DrawingSight['findings'][number]): boolean {
  return severity === 'error' && (rule === 'open-contour' || rule === 'no-piece');
}

function statusWords({ pieces, layers, leftOut }: DrawingSight): string {
  const unsaid = layers.filter(isUnsaid).length;
  return `${counted(pieces.length, 'piece')} found; ${counted(unsaid, 'layer')} not said; ${counted(leftOut.length, 'thing')} in no outline.`;
}
