/** What an event says of itself, as far as it matters for passing it on. */
export interface ChannelEvent {
  readonly kind: string;
  readonly material?: string;
  readonly colour?: string | null;
  readonly roll?: string | null;
}

/** The events that somebody who listens has not taken yet. */
export interface Inbox<E> {
  readonly put: (event: E) => void;
  /** Takes the oldest event out; null where there is none. */
  readonly take: () => E | null;
  /**
   * Waits for something to take: true once there is something or the inbox is over, false after so many
   * ms.
   */
  readonly filled: (ms: number) => Promise<boolean>;
  readonly end: () => void;
  readonly isOver: () => boolean;
  readonly ended: Promise<void>;
  readonly size: () => number;
}

/**
 * The most events that may wait. Whoever falls behind further is cut off, and begins anew on coming
 * back.
 */
const mostWaiting = 1000;

/** Opens an inbox that cannot grow beyond all bounds. `onEnd` is called once, when it is over. */
export function openInbox<E extends ChannelEvent>(onEnd: () => void = () => {}): Inbox<E> {
  const waiting = new Map<string, E>();
  let count = 0;
  let over = false;
  let wake = (): void => {};
  let tellEnd = (): void => {};
  const ended = new Promise<void>((resolve) => (tellEnd = resolve));
  const end = (): void => {
    if (over) return;
    over = true;
    waiting.clear();
    onEnd();
    tellEnd();
    wake();
  };
  const put = (event: E): void => {
    if (over) return;
    const slot = fleetingSlot(event) ?? `${count++}`;
    // An event that replaces an older one comes after everything that was told in between.
    waiting.delete(slot);
    waiting.set(slot, event);
    if (waiting.size > mostWaiting) end();
    else wake();
  };
  const take = (): E | null => {
    for (const [slot, event] of waiting) {
      waiting.delete(slot);
      return event;
    }
    return null;
  };
  const filled = (ms: number): Promise<boolean> =>
    new Promise((resolve) => {
      if (over || waiting.size > 0) return resolve(true);
      const timer = setTimeout(resolve, ms, false);
      wake = () => {
        clearTimeout(timer);
        resolve(true);
      };
    });
  return { put, take, filled, end, isOver: () => over, ended, size: () => waiting.size };
}

const fleetingKinds = new Set(['trying', 'lay', 'search']);

/**
 * What an event shares with those that it replaces: of some kinds only the newest for a roll is worth
 * anything. null: every event of its kind counts.
 */
function fleetingSlot({ kind, material, colour, roll }: ChannelEvent): string | null {
  return fleetingKinds.has(kind) ? JSON.stringify([kind, material, colour, roll]) : null;
}
