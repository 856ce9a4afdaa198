import type { JSX } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { LayTable, PartMoved, PartPlace } from '../../api/lay.ts';
import type { Placement } from '../../../lay/lay.ts';
import type { PicturedLay, PicturedPart, PicturedRoll } from '../../api/pictured.ts';
import { Swatch } from '../controls/swatch.tsx';
import { placePart } from '../roll-picture/places/placing.ts';
import { RollPicture } from '../roll-picture/roll-picture.tsx';
import { calls } from '../server/calls.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import { isOfCloth, metres, percent, rollName } from '../words.ts';
import { EarlierLays } from './earlier-lays.tsx';
import { OrderKey } from './order-key.tsx';
import { PartCard } from './part-card.tsx';
import { PartTray } from './part-tray.tsx';

const nobody: ReadonlySet<string> = new Set();

/** The picture of one roll, and the part that is looked at. */
export function RollDesk({
  run,
  table,
  roll,
  lay,
  trying,
  isSearching,
  elsewhere,
  doing,
}: {
  run: OpenRunFile;
  table: LayTable;
  roll: PicturedRoll;
  lay: PicturedLay | null;
  trying: { readonly labels: readonly string[]; readonly places: readonly number[] } | null;
  isSearching: boolean;
  /** Labels of parts that lie on other rolls. */
  elsewhere: ReadonlySet<string>;
  doing: (step: Promise<unknown>) => void;
}): JSX.Element {
  const [selected, setSelected] = useState<ReadonlySet<string>>(nobody);
  const [hovered, setHovered] = useState<string | null>(null);
  const [picked, setPicked] = useState<string | null>(null);
  const pinned = useMemo(() => new Set(lay?.pinned ?? []), [lay]);
  const own = useMemo(
    () => table.parts.filter((part) => isOfCloth(part, roll)),
    [table, roll.material, roll.colour],
  );
  const laid = lay?.placements ?? noPlacements;
  const unlaid = useMemo(() => {
    const here = new Set(laid.map(({ label }) => label));
    return own.filter(({ label }) => !here.has(label) && !elsewhere.has(label));
  }, [own, laid, elsewhere]);
  const waiting = isSearching ? undefined : unlaid.find(({ label }) => label === picked);
  const placements = useMemo(
    () => (waiting === undefined ? laid : [...laid, besideLay(waiting, roll, lay?.length ?? 0)]),
    [laid, waiting, roll],
  );
  const looked = hovered ?? [...selected].at(-1) ?? null;
  const part = own.find(({ label }) => label === looked) ?? null;
  const place = laid.find(({ label }) => label === looked) ?? null;
  // A part may be moved again before the table comes back with what the last move made of the run.
  const version = useRef(table.version);
  useEffect(() => {
    version.current = table.version;
  }, [table]);
  const move = async (label: string, to: PartPlace | null, dry: boolean): Promise<PartMoved> => {
    const moved = await calls.movePart(run.name, {
      version: version.current,
      material: roll.material,
      colour: roll.colour,
      roll: roll.name,
      label,
      to,
      dry,
    });
    version.current = moved.version;
    return moved;
  };
  return (
    <div class="lay-panes">
      <div class="lay-main">
        <div class="desk">
          <LayFigures
            roll={roll}
            lay={lay}
            parts={own.length}
            pinned={pinned.size}
            isOneOfMany={table.rolls.filter((other) => isOfCloth(other, roll)).length > 1}
          />
          <OrderKey orders={[...new Set(own.map(({ order }) => order))]} />
        </div>
        <div class="roll-picture">
          <RollPicture
            label={`Lay of ${rollName(roll)}`}
            roll={roll}
            parts={own}
            placements={placements}
            pinned={pinned}
            {...(lay === null ? {} : { length: lay.length })}
            trying={trying}
            selected={selected}
            onSelect={setSelected}
            onHover={setHovered}
            drag={
              isSearching
                ? null
                : {
                    check: (label, to) => move(label, to, true),
                    drop: (label, to) => move(label, to, false),
                  }
            }
          />
        </div>
      </div>
      <PartTray
        parts={unlaid}
        isBegun={laid.length > 0 || elsewhere.size > 0}
        picked={waiting?.label ?? null}
        onPick={
          isSearching
            ? null
            : (label) => {
                setPicked(label);
                setSelected(label === null ? nobody : new Set([label]));
              }
        }
      />
      <EarlierLays
        lays={table.earlier.filter((one) => isOfCloth(one, roll))}
        onBack={
          isSearching ? null : ({ id }) => doing(calls.layBack(run.name, version.current, id))
        }
      />
      <PartCard
        part={part}
        place={place}
        isPinned={looked !== null && pinned.has(looked)}
        onPin={
          isSearching || place === null
            ? null
            : (on) => doing(move(place.label, on ? placeOf(place) : null, false))
        }
      />
    </div>
  );
}

/** How far from the end of the lay a part waits that is to be moved in, mm. */
const aside = 60;

/** Where a part waits that lies nowhere: past the end of the lay, across the middle of the roll. */
function besideLay(part: PicturedPart, { width }: PicturedRoll, length: number): Placement {
  const place = { x: 0, y: 0, rotation: part.turns[0] ?? 0 };
  const [minX, minY, , maxY] = placePart(part, place).box;
  return {
    ...place,
    label: part.label,
    x: length + aside - minX,
    y: (width - minY - maxY) / 2,
  };
}

function placeOf({ x, y, rotation }: PartPlace): PartPlace {
  return { x, y, rotation };
}

const noPlacements: readonly never[] = [];

function LayFigures({
  roll,
  lay,
  parts,
  pinned,
  isOneOfMany,
}: {
  roll: PicturedRoll;
  lay: PicturedLay | null;
  /** How many parts the material has. */
  parts: number;
  pinned: number;
  /** Whether the material has other rolls. */
  isOneOfMany: boolean;
}): JSX.Element {
  const placed = lay?.placements.length ?? 0;
  const isOver = lay !== null && roll.length !== null && lay.length > roll.length;
  return (
    <dl class="figures">
      {roll.colour !== null && (
        <div>
          <dt>Colour</dt>
          <dd class="strong">
            <Swatch sample={roll.sample} />
            {roll.colour}
          </dd>
        </div>
      )}
      <div>
        <dt>Length</dt>
        <dd class="figure" data-test="length">
          {lay === null ? '–' : metres(lay.length)}
        </dd>
        <dd class="quiet">
          {roll.length === null ? 'roll: enough' : `of ${metres(roll.length)} on the roll`}
          {isOver && <strong> Too short!</strong>}
        </dd>
      </div>
      <div>
        <dt>Used</dt>
        <dd class="figure" data-test="density">
          {lay === null ? '–' : percent(lay.density)}
        </dd>
        <dd class="quiet">of the usable width</dd>
      </div>
      <div>
        <dt>Parts</dt>
        <dd class="figure">{placed}</dd>
        <dd class="quiet">
          of {parts}
          {isOneOfMany && ' on all rolls'}
          {pinned > 0 && `, ${pinned} pinned`}
        </dd>
      </div>
    </dl>
  );
}
