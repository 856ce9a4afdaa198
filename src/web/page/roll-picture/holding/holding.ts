import type { Finding } from '../../../../base/findings.ts';
import type { Point } from '../../../../geometry/paths/point.ts';
import type { PartMoved, PartPlace } from '../../../api/lay.ts';
import { samePlace } from '../places/placing.ts';
import { createAsker } from './asker.ts';

/** Whether a part may lie somewhere: it may where there are no findings. */
export type PlaceVerdict = Pick<PartMoved, 'findings' | 'near'>;

/** Answers whether a part may lie somewhere (`check`), and lays it there (`drop`). */
export interface Drag {
  readonly check: (label: string, to: PartPlace) => Promise<PlaceVerdict>;
  readonly drop: (label: string, to: PartPlace) => Promise<PlaceVerdict>;
}

/** A part that is being moved. */
export interface Held {
  readonly label: string;
  readonly from: PartPlace;
  readonly to: PartPlace;
  /** The point of the part, in its own frame, that a pointer has hold of; null: keys move it. */
  readonly grip: Point | null;
  /** The last answer; null until there is one. */
  readonly verdict: PlaceVerdict | null;
  /** The place that it is of. The part may be somewhere else by now: see `verdictHere`. */
  readonly judged: PartPlace | null;
  /**
   * It is held; it was let go and there is no answer yet; it is laid down and not in the lay yet; it is
   * on its way back.
   */
  readonly phase: 'held' | 'asked' | 'down' | 'back';
}

/** Why a move was refused: it is shown for a while after the move. */
export interface Reason {
  readonly label: string;
  readonly words: string;
}

export interface Holding {
  readonly now: () => Held | null;
  readonly take: (label: string, from: PartPlace, grip: Point | null) => void;
  readonly move: (to: PartPlace) => void;
  readonly putBack: () => void;
  /** Lays the part down where it is, or as near as it may lie. */
  readonly release: () => Promise<void>;
  /** Is called when the lay has changed: what was laid down is now in it. */
  readonly arrived: () => void;
  readonly stop: () => void;
}

/**
 * Times in ms: between two questions; for a part to go back; for its reason to be shown; for a lay to
 * be waited for.
 */
const times = { ask: 120, back: 200, reason: 6000, down: 2000 };

/** Makes what holds one part at a time and tells of every change. */
export function createHolding(
  drag: () => Drag | null,
  changed: (held: Held | null) => void,
  reasoned: (reason: Reason | null) => void,
): Holding {
  let held: Held | null = null;
  const timers = new Set<ReturnType<typeof setTimeout>>();
  const later = (ms: number, act: () => void): void => {
    const timer = setTimeout(() => {
      timers.delete(timer);
      act();
    }, ms);
    timers.add(timer);
  };
  const set = (next: Held | null): void => {
    held = next;
    changed(next);
  };
  let told: Reason | null = null;
  const tell = (reason: Reason | null): void => {
    told = reason;
    reasoned(reason);
  };
  const asker = createAsker(
    ({ label, to }: Pick<Held, 'label' | 'to'>) => drag()?.check(label, to) ?? nobody(),
    failed,
    ({ label, to }, verdict) => {
      if (held?.phase === 'held' && held.label === label) set({ ...held, verdict, judged: to });
    },
    times.ask,
  );
  const after = (one: Held, ms: number): void => {
    later(ms, () => {
      if (held === one) set(null);
    });
  };
  const goBack = (one: Held): void => {
    const back: Held = { ...one, phase: 'back' };
    set(back);
    after(back, times.back);
  };
  const refuse = (one: Held, verdict: PlaceVerdict): void => {
    goBack({ ...one, verdict });
    const reason = { label: one.label, words: verdictWords(verdict) };
    tell(reason);
    later(times.reason, () => {
      if (told === reason) tell(null);
    });
  };
  const release = async (): Promise<void> => {
    const by = drag();
    if (held === null || held.phase !== 'held' || by === null) return;
    if (samePlace(held.from, held.to)) {
      set(null);
      return;
    }
    const asked: Held = { ...held, phase: 'asked' };
    set(asked);
    // What was answered of this very place need not be asked again: laying it down judges it once more.
    const checked = verdictHere(asked) ?? (await asker.settle(asked));
    const to = checked.findings.length === 0 ? asked.to : checked.near;
    const verdict = to === null ? checked : await by.drop(asked.label, to).catch(failed);
    if (held !== asked) return;
    if (to === null || verdict.findings.length > 0) {
      refuse(asked, verdict);
      return;
    }
    const down: Held = { ...asked, to, verdict, phase: 'down' };
    set(down);
    after(down, times.down);
  };
  return {
    now: () => held,
    take: (label, from, grip) => {
      tell(null);
      set({ label, from, to: from, grip, verdict: null, judged: null, phase: 'held' });
    },
    move: (to) => {
      if (held?.phase !== 'held' || samePlace(held.to, to)) return;
      set({ ...held, to });
      asker.ask({ label: held.label, to });
    },
    putBack: () => {
      if (held?.phase === 'held') goBack(held);
    },
    release,
    arrived: () => {
      if (held?.phase === 'down') set(null);
    },
    stop: () => {
      asker.stop();
      for (const timer of timers) clearTimeout(timer);
      held = null;
    },
  };
}

/** What was answered of the very place where a part is held; null: nothing yet. */
export function verdictHere({ verdict, judged, to }: Held): PlaceVerdict | null {
  return judged !== null && samePlace(judged, to) ? verdict : null;
}

/** The first finding in words; empty where there is none. */
export function verdictWords({ findings: [first] }: PlaceVerdict): string {
  return first === undefined ? '' : `${first.message} ${first.todo}`.trim();
}

function nobody(): Promise<PlaceVerdict> {
  return Promise.reject(new Error('Nothing can be moved here.'));
}

/** Having no answer counts as a refusal: no part is laid down that was not judged. */
function failed(reason: unknown): PlaceVerdict {
  const finding: Finding = {
    severity: 'error',
    rule: 'no-answer',
    message: reason instanceof Error ? reason.message : 'There was no answer.',
    todo: 'Try again.',
    where: {},
  };
  return { findings: [finding], near: null };
}
