import type { JSX } from 'preact';
import type { DrawingSight, SightLayer } from '../../../api/sight.ts';
import type { Role } from '../../../../pattern/layers.ts';
import { canFollow } from '../../../../pattern/words.ts';
import { Tick } from '../../controls/fields.tsx';
import { threads } from './drawing-picture.tsx';
import { meaningFrom, partsOf } from '../../meaning-parts.ts';
import type { MeaningParts } from '../../meaning-parts.ts';
import { followWords, roles, roleWords, saidWords } from '../../meanings.ts';
import { capital } from '../../words.ts';
import type { Said } from './said.ts';
import { isUnsaid, offeredOf } from './said.ts';

interface TrayProps {
  readonly sight: DrawingSight;
  readonly said: Said;
  readonly shapeId: (index: number) => string;
  readonly layer: string | null;
  readonly onChoose: (layer: string | null) => void;
  readonly onAnswer: (layer: string, answer: string | null) => void;
  /** What layers look like is right. */
  readonly onOffered: (offered: readonly (readonly [string, string])[]) => void;
  readonly onForCustomer: (layer: string, isSo: boolean) => void;
}

/** Every layer of the drawing: what is on it, and what that means. Those that say nothing come first. */
export function LayerTray(props: TrayProps): JSX.Element {
  const { sight, said, onOffered } = props;
  const offered = offeredOf(sight.layers, said);
  const all = sight.layers.map((one, index) => ({ one, index }));
  const isAsked = ({ one }: { one: SightLayer }): boolean =>
    isUnsaid(one) || said.layers.has(one.name);
  const asked = all.filter(isAsked);
  const known = all.filter((one) => !isAsked(one));
  return (
    <>
      {asked.length > 0 && (
        <section class="stack" aria-labelledby="asked-layers">
          <h2 id="asked-layers">What is on these layers?</h2>
          {offered.length > 1 && (
            <button class="button accent" onClick={() => onOffered(offered)}>
              All {offered.length} are what they look like
            </button>
          )}
          <ul class="sight-layers" role="list" aria-labelledby="asked-layers">
            {asked.map((row) => (
              <LayerRow key={row.one.name} {...props} {...row} />
            ))}
          </ul>
        </section>
      )}
      {known.length > 0 && (
        <section class="stack" aria-labelledby="known-layers">
          <h2 id="known-layers">Layers that are known</h2>
          <ul class="sight-layers" role="list" aria-labelledby="known-layers">
            {known.map((row) => (
              <LayerRow key={row.one.name} {...props} {...row} />
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

interface RowProps extends TrayProps {
  readonly one: SightLayer;
  readonly index: number;
}

function LayerRow({ one, index, said, shapeId, layer, ...props }: RowProps): JSX.Element {
  const { onChoose, onAnswer, onForCustomer } = props;
  const { name, words, looksLike } = one;
  const isShown = layer === name;
  return (
    <li class={`sight-layer${isShown ? ' shown' : ''}`}>
      <button
        class="layer-show"
        aria-pressed={isShown}
        onClick={() => onChoose(isShown ? null : name)}
      >
        <LayerPicture layer={one} index={index} shapeId={shapeId} />
        <span class="layer-words">
          <strong>{name}</strong>
          <span class="quiet">{words}</span>
        </span>
        <svg
          class={`thread-sample thread thread-${index % threads}`}
          viewBox="0 0 32 8"
          aria-hidden="true"
        >
          <path d="M0 4H32" />
        </svg>
      </button>
      {isUnsaid(one) && looksLike === null && one.outlines > 0 && (
        <p class="quiet">
          {one.outlines === one.count
            ? 'Taken for the outlines of pieces until you say otherwise.'
            : `${one.outlines} of it taken for outlines of pieces until you say otherwise.`}
        </p>
      )}
      {looksLike !== null && !said.layers.has(name) && (
        <p class="quiet">
          It looks like: <strong>{saidWords(looksLike.means)}</strong>. {looksLike.why}
        </p>
      )}
      <LayerAnswer layer={one} said={said} onAnswer={onAnswer} onForCustomer={onForCustomer} />
    </li>
  );
}

/** A small picture of all that is on a layer. */
function LayerPicture({
  layer: { box, texts },
  index,
  shapeId,
}: {
  readonly layer: SightLayer;
  readonly index: number;
  readonly shapeId: (index: number) => string;
}): JSX.Element {
  if (box === null) {
    return (
      <svg class="layer-picture" viewBox="0 0 64 44" aria-hidden="true">
        <text x="32" y="30" text-anchor="middle">
          {texts.length > 0 ? 'Abc' : ''}
        </text>
      </svg>
    );
  }
  const [x0, y0, x1, y1] = box;
  const room = 0.08 * Math.max(x1 - x0, y1 - y0, 1);
  const [width, height] = [x1 - x0 + 2 * room, y1 - y0 + 2 * room];
  return (
    <svg
      class="layer-picture"
      viewBox={`${x0 - room} ${-y1 - room} ${width} ${height}`}
      aria-hidden="true"
    >
      <g class={`thread thread-${index % threads}`} transform="scale(1 -1)">
        <use href={`#${shapeId(index)}`} />
      </g>
    </svg>
  );
}

/** What a layer means: said by its name, or by somebody. */
function LayerAnswer({
  layer: { name, means, from, looksLike, ofCustomer, texts, count },
  said,
  onAnswer,
  onForCustomer,
}: Pick<TrayProps, 'said' | 'onAnswer' | 'onForCustomer'> & {
  readonly layer: SightLayer;
}): JSX.Element {
  if (means === null && texts.length === count) {
    return (
      <p class="layer-known">Only texts: they are read, and the set asks about those that ask.</p>
    );
  }
  if (from === 'name') return <p class="layer-known">{capital(saidWords(means))}</p>;
  const answer = said.layers.get(name) ?? null;
  const { role, follow, rest } = partsOf(answer ?? means ?? '');
  const isOdd = rest !== '';
  const own = meaningFrom({ role, follow: '', rest });
  const take = (value: string): void => {
    if (value === '') onAnswer(name, null);
    else onAnswer(name, value === 'each' ? 'each' : value);
  };
  const value = said.each.has(name) ? 'each' : own;
  return (
    <div class="layer-answer">
      <select
        aria-label={`What is on ${name}?`}
        value={value}
        onChange={(event) => take(event.currentTarget.value)}
      >
        <option value="">{from === null || answer !== null ? 'Not said yet' : ''}</option>
        {roles.map((one) => (
          <option value={one}>{capital(roleWords[one])}</option>
        ))}
        {isOdd && <option value={own}>{capital(saidWords(own))}</option>}
        {looksLike === null && (
          <option value="each">Different things: I say it for each, in the set</option>
        )}
      </select>
      {role !== '' && canFollow(role as Role) && (
        <select
          aria-label={`What is on ${name} goes with`}
          value={follow}
          onChange={(event) => {
            const chosen = event.currentTarget.value as MeaningParts['follow'];
            onAnswer(name, meaningFrom({ role, follow: chosen, rest }));
          }}
        >
          {Object.entries(followWords).map(([one, words]) => (
            <option value={one}>{words}</option>
          ))}
        </select>
      )}
      {from === 'shop' && <p class="quiet">So it is in your shop (shared/layers.yaml).</p>}
      {from === 'customer' && <p class="quiet">So it is in all drawings by {said.drawnBy}.</p>}
      {answer !== null && said.drawnBy !== '' && (
        <ForCustomer
          answer={answer}
          ofCustomer={ofCustomer}
          drawnBy={said.drawnBy}
          checked={said.forCustomer.has(name)}
          onChange={(isSo) => onForCustomer(name, isSo)}
        />
      )}
    </div>
  );
}

/** Whether an answer is so in all drawings of the customer. What their file says already is not changed here. */
function ForCustomer({
  answer,
  ofCustomer,
  drawnBy,
  checked,
  onChange,
}: {
  readonly answer: string;
  readonly ofCustomer: string | null;
  readonly drawnBy: string;
  readonly checked: boolean;
  readonly onChange: (isSo: boolean) => void;
}): JSX.Element {
  if (ofCustomer !== null) {
    return (
      <p class="quiet">
        {ofCustomer.toUpperCase() === answer
          ? `So it is in all drawings by ${drawnBy}.`
          : `In all drawings by ${drawnBy} it is: ${saidWords(ofCustomer.toUpperCase())}. Your answer is for this drawing alone.`}
      </p>
    );
  }
  return <Tick label={`In all drawings by ${drawnBy}`} checked={checked} onChange={onChange} />;
}
