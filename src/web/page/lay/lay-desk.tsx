import type { ComponentChildren, JSX } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { LayTable, PartMoved, PartPlace, SearchState } from '../../api/lay.ts';
import type { Placement } from '../../../lay/lay.ts';
import type { PicturedLay, PicturedPart, PicturedRoll } from '../../api/pictured.ts';
import { placePart } from '../roll-picture/places/placing.ts';
import { RollPicture } from '../roll-picture/roll-picture.tsx';
import type { RollTools } from '../roll-picture/roll-props.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useKept } from '../use-kept.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import { isOfCloth, rollName } from '../words.ts';
import { EarlierLays } from './earlier-lays.tsx';
import { FindPart } from './find-part.tsx';
import { LayFigures } from './lay-figures.tsx';
import { PictureKey } from './picture-key.tsx';
import { PartCard } from './part-card.tsx';
import { PartTray } from './part-tray.tsx';
import { SearchDesk } from './search-desk.tsx';

const nobody: ReadonlySet<string> = new Set();

/** The picture of one roll in all the room there is, a line of what is done in it, and a side that can be put away. */
export function LayDesk({
  run,
  table,
  roll,
  lay,
  trying,
  search,
  isLaid,
  refusals,
  elsewhere,
  wanted,
  notes,
  onFind,
  doing,
}: {
  run: OpenRunFile;
  table: LayTable;
  roll: PicturedRoll;
  lay: PicturedLay | null;
  trying: { readonly labels: readonly string[]; readonly places: readonly number[] } | null;
  search: SearchState | null;
  /** Whether anything of the run is laid. */
  isLaid: boolean;
  /** What came of the last thing that was done. */
  refusals: readonly Finding[];
  /** Labels of parts that lie on other rolls. */
  elsewhere: ReadonlySet<string>;
  /** The part that somebody looks for. */
  wanted: string | null;
  notes: ComponentChildren;
  onFind: (label: string) => void;
  doing: (step: Promise<unknown>) => void;
}): JSX.Element {
  const [selected, setSelected] = useState<ReadonlySet<string>>(nobody);
  const [hovered, setHovered] = useState<string | null>(null);
  const [picked, setPicked] = useState<string | null>(null);
  const [side, setSide] = useKept('lay-side', innerWidth >= roomy ? 'shown' : 'away');
  const tools = useRef<RollTools | null>(null);
  const isSearching = search !== null;
  const pinned = useMemo(() => new Set(lay?.pinned ?? []), [lay]);
  const own = useMemo(
    () => table.parts.filter((part) => isOfCloth(part, roll)),
    [table, roll.material, roll.colour],
  );
  // What is on the roll that is looked at is found first.
  const ownFirst = useMemo(
    () => [...own, ...table.parts.filter((part) => !isOfCloth(part, roll))],
    [own],
  );
  const orders = useMemo(() => [...new Set(own.map(({ order }) => order))], [own]);
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
  useEffect(() => {
    if (wanted === null) return;
    if (unlaid.some(({ label }) => label === wanted)) setPicked(wanted);
    setSelected(new Set([wanted]));
    tools.current?.show(wanted);
  }, [wanted]);
  const last = [...selected].at(-1) ?? null;
  const looked = hovered ?? last;
  const part = own.find(({ label }) => label === looked) ?? null;
  const placeAt = (label: string | null): Placement | null =>
    laid.find((one) => one.label === label) ?? null;
  const chosenPlace = placeAt(last);
  const turns = own.find(({ label }) => label === last)?.turns ?? [];
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
  const isPinned = last !== null && pinned.has(last);
  const pin = ({ label, x, y, rotation }: Placement): void =>
    doing(move(label, isPinned ? null : { x, y, rotation }, false));
  return (
    <div class={side === 'shown' ? 'lay-desk with-side' : 'lay-desk'}>
      <div class="lay-line">
        <LayFigures
          roll={roll}
          lay={lay}
          parts={own.length}
          pinned={pinned.size}
          isOneOfMany={table.rolls.filter((other) => isOfCloth(other, roll)).length > 1}
        />
        <FindPart parts={ownFirst} onFind={onFind} />
        <button
          class="button"
          disabled={isSearching || chosenPlace === null || turns.length < 2}
          title={
            chosenPlace !== null && turns.length < 2
              ? 'Its material may lie in this one turn alone.'
              : undefined
          }
          onClick={() => last !== null && tools.current?.turn(last)}
        >
          Turn
        </button>
        <button
          class="button"
          disabled={isSearching || chosenPlace === null}
          onClick={() => chosenPlace !== null && pin(chosenPlace)}
        >
          {isPinned ? 'Unpin' : 'Pin'}
        </button>
        <button
          class="button"
          aria-expanded={side === 'shown'}
          onClick={() => setSide(side === 'shown' ? 'away' : 'shown')}
        >
          Details
          {unlaid.length > 0 && laid.length > 0 && (
            <span class="badge" title="parts that lie on no roll">
              {unlaid.length}
              <span class="unseen"> on no roll</span>
            </span>
          )}
        </button>
        <SearchDesk
          search={search}
          isLaid={isLaid}
          refusals={refusals}
          onBegin={(seconds) => doing(calls.beginSearch(run.name, seconds))}
          onStop={() => doing(calls.stopSearch(run.name))}
        />
      </div>
      <div class="lay-middle">
        {notes}
        <div class="lay-picture">
          <RollPicture
            label={`Lay of ${rollName(roll)}`}
            roll={roll}
            parts={own}
            placements={placements}
            pinned={pinned}
            {...(lay === null ? {} : { length: lay.length, bites: lay.bites })}
            canBeInRows
            tools={tools}
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
      {side === 'shown' && (
        <div class="lay-side">
          <PartCard part={part} place={placeAt(looked)} isPinned={isPinned} />
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
          <PictureKey orders={orders} isSearching={isSearching} />
          {table.findings.length > 0 && (
            <details>
              <summary>What is worth a look in this run ({table.findings.length})</summary>
              <Findings findings={table.findings} />
            </details>
          )}
        </div>
      )}
    </div>
  );
}

/** Windows of this width, pixels, have room for the side beside the picture. */
const roomy = 1400;

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

const noPlacements: readonly never[] = [];
