import type { JSX } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { LayTable, PartMoved, PartPlace } from '../../api/lay.ts';
import type { PicturedLay, PicturedRoll } from '../../api/pictured.ts';
import { Swatch } from '../controls/swatch.tsx';
import { RollPicture } from '../roll-picture/roll-picture.tsx';
import { calls } from '../server/calls.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import { isOfCloth, metres, percent, rollName } from '../words.ts';
import { OrderKey } from './order-key.tsx';
import { PartCard } from './part-card.tsx';

const nobody: ReadonlySet<string> = new Set();

/** The picture of one roll, and the part that is looked at. */
export function RollDesk({
  run,
  table,
  roll,
  lay,
  trying,
  isSearching,
  doing,
}: {
  run: OpenRunFile;
  table: LayTable;
  roll: PicturedRoll;
  lay: PicturedLay | null;
  trying: { readonly labels: readonly string[]; readonly places: readonly number[] } | null;
  isSearching: boolean;
  doing: (step: Promise<unknown>) => void;
}): JSX.Element {
  const [selected, setSelected] = useState<ReadonlySet<string>>(nobody);
  const [hovered, setHovered] = useState<string | null>(null);
  const placements = lay?.placements ?? noPlacements;
  const pinned = useMemo(() => new Set(lay?.pinned ?? []), [lay]);
  const own = useMemo(
    () => table.parts.filter((part) => isOfCloth(part, roll)),
    [table, roll.material, roll.colour],
  );
  const looked = hovered ?? [...selected].at(-1) ?? null;
  const part = own.find(({ label }) => label === looked) ?? null;
  const place = placements.find(({ label }) => label === looked) ?? null;
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
