import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Placement } from '../../../lay/lay.ts';
import type { PicturedPart, PicturedRoll } from '../../api/pictured.ts';
import type { Rehearsal, RehearsalMoves } from '../../api/rehearsal.ts';
import { RollPicture } from '../roll-picture/roll-picture.tsx';
import { ControlRow, TimeSlider } from './controls.tsx';
import { MomentFacts, PartList } from './moment-facts.tsx';
import { createPicture } from './picture.ts';
import {
  beginOf,
  biteFrom,
  biteOf,
  clockTime,
  knifeWords,
  messageAt,
  momentAt,
  partAtMove,
  stepBack,
  stepOn,
} from './timeline.ts';
import { useClock } from './use-clock.ts';

/** What the player is given. */
interface RehearsalPlayerProps {
  readonly rehearsal: Rehearsal;
  readonly moves: RehearsalMoves;
  readonly roll: PicturedRoll;
  readonly parts: readonly PicturedPart[];
  readonly placements: readonly Placement[];
}

const nobody: ReadonlySet<string> = new Set();

/**
 * The end of the slider, seconds: the first whole ms that is not before the last move, since the times
 * of moves and of the slider are rounded in different ways.
 */
function endOf({ seconds }: Rehearsal, { at }: RehearsalMoves): number {
  return Math.ceil(1000 * Math.max(seconds, at.at(-1) ?? 0)) / 1000;
}

/** Plays the knife's way over the lay, from the moves of the program alone. */
export function RehearsalPlayer(props: RehearsalPlayerProps) {
  const { rehearsal, moves, roll, parts, placements } = props;
  const redraw = useRef<(() => void) | null>(null);
  const [speed, setSpeed] = useState(4);
  const total = endOf(rehearsal, moves);
  const clock = useClock(total, speed, () => redraw.current?.());
  const picture = useMemo(
    () =>
      createPicture(
        moves,
        () => clock.exact.current,
        () => redraw.current?.(),
      ),
    [moves],
  );
  useEffect(() => picture.close, [picture]);
  const fed = useMemo(() => rehearsal.bites.map((bite) => bite.fed), [rehearsal]);

  const jump = (label: string | null): void => {
    const part = rehearsal.parts.find((one) => one.label === label);
    if (part !== undefined) clock.set(beginOf(moves, part.move));
  };

  const moment = momentAt(moves, clock.shown);
  const bite = biteOf(rehearsal, moment.move);
  const part = partAtMove(rehearsal, moment.move)?.label ?? '';
  const selected = useMemo(() => (part === '' ? nobody : new Set([part])), [part]);
  const onStep = (by: 1 | -1): void => {
    clock.play(false);
    clock.set(by === 1 ? stepOn(moves, clock.exact.current) : stepBack(moves, clock.exact.current));
  };
  const onBite = (by: 1 | -1): void => {
    const seconds = biteFrom(rehearsal, moves, clock.exact.current, by);
    if (seconds !== null) clock.set(seconds);
  };
  const onPlay = (): void => clock.play(!clock.playing);
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
    const isButton = event.target instanceof HTMLElement && event.target.matches('button, select');
    if (event.key === ' ' && !isButton) onPlay();
    else if (event.key === ',') onStep(-1);
    else if (event.key === '.') onStep(1);
    else return;
    event.preventDefault();
  };

  return (
    <section class="rehearsal" aria-label="Rehearsal of the knife" onKeyDown={onKeyDown}>
      <div class="rehearsal-picture">
        <RollPicture
          label={`The knife's way over ${roll.title}`}
          roll={roll}
          parts={parts}
          placements={placements}
          pinned={nobody}
          selected={selected}
          onSelect={(labels) => jump([...labels].at(-1) ?? null)}
          bites={fed}
          faint
          overlay={picture.overlay}
          redraw={redraw}
        />
      </div>
      <TimeSlider
        seconds={clock.shown}
        total={total}
        bite={bite + 1}
        bites={rehearsal.bites.length}
        onSet={clock.set}
      />
      <div class="rehearsal-desk">
        <ControlRow
          playing={clock.playing}
          speed={speed}
          onPlay={onPlay}
          onSpeed={setSpeed}
          onStep={onStep}
          onBite={onBite}
        />
        <p class="rehearsal-time">
          <strong>{clockTime(clock.shown)}</strong> of {clockTime(total)}
        </p>
      </div>
      <MomentFacts
        knife={knifeWords(moment.down)}
        bite={`${bite + 1} of ${rehearsal.bites.length}`}
        line={moment.line}
        message={messageAt(rehearsal, moment.move)?.text ?? null}
      >
        <PartList rehearsal={rehearsal} parts={parts} label={part} onJump={jump} />
      </MomentFacts>
    </section>
  );
}
