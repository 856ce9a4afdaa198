import type { Finding } from '../../../../base/findings.ts';
import type { PartMoved } from '../../../api/lay.ts';
import { createAsker } from './asker.ts';
import type { PartPlace } from '../../../api/lay.ts';
import { samePlace } from '../places/placing.ts';
import type { Point } from '../../../../geometry/paths/point.ts';

/** Whether a part may lie somewhere: no findings, it may. */
export type PlaceVerdict = Pick<PartMoved, 'findings' | 'near'>;

/** Who answers where a part may lie, and lays it there. */
export interface Drag {
  readonly check: (label: string, to: PartPlace) => Promise<PlaceVerdict>;
  readonly drop: (label: string, to: PartPlace) => Promise<PlaceVerdict>;
}

/** A part that is on its way. */
export interface Held {
  readonly label: string;
  readonly from: PartPlace;
  readonly to: PartPlace;
  /** Where a pointer has hold of it, in the part's own frame; null: keys move it. */
  readonly grip: Point | null;
  /** Of the last answer; null until there is one. */
  readonly verdict: PlaceVerdict | null;
  /** In the hand; let go and not answered yet; down and not in the lay yet; on its way back. */
  readonly phase: 'held' | 'asked' | 'down' | 'back';
}

/** A refusal that outlives its move. */
export interface Reason {
  readonly label: string;
  readonly words: string;
}

export interface Holding {
  readonly now: () => Held | null;
  readonly take: (label: string, from: PartPlace, grip: Point | null) => void;
  readonly move: (to: PartPlace) => void;
  readonly putBack: () => void;
  /** Lays the part down: where it is, or as near as it may lie. */
  readonly release: () => Promise<void>;
  /** The lay has changed: what was down is now in it. */
  readonly arrived: () => void;
  readonly stop: () => void;
}

/** ms between two questions; that a part takes back; that its reason is shown; that a lay may be waited for. */
const times = { ask: 120, back: 200, reason: 6000, down: 2000 };

/** Holds one part at a time, and tells of every change. */
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
    ({ label }, verdict) => {
      if (held?.phase === 'held' && held.label === label) set({ ...held, verdict });
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
    const checked = await asker.settle(asked);
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
      set({ label, from, to: from, grip, verdict: null, phase: 'held' });
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

/** The first finding in words, or none. */
export function verdictWords({ findings: [first] }: PlaceVerdict): string {
  return first === undefined ? '' : `${first.message} ${first.todo}`.trim();
}

function nobody(): Promise<PlaceVerdict> {
  return Promise.reject(new Error('Nothing can be moved here.'));
}

/** No answer is a refusal: nothing is laid down that nobody has looked at. */
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
