/** What an event says of itself, as far as it matters to whoever passes it on. */
export interface ChannelEvent {
  readonly kind: string;
  readonly material?: string;
  readonly roll?: string | null;
}

/** What somebody who listens has not taken yet. */
export interface Inbox<E> {
  readonly put: (event: E) => void;
  /** The oldest event; null: there is none. */
  readonly take: () => E | null;
  /** Waits until there is something to take or it is over: true; or for so many ms: false. */
  readonly filled: (ms: number) => Promise<boolean>;
  readonly end: () => void;
  readonly isOver: () => boolean;
  readonly ended: Promise<void>;
  readonly size: () => number;
}

/** Events that may wait. Whoever falls behind further is cut off, and begins anew when he comes back. */
const mostWaiting = 1000;

/** Opens an inbox that never grows beyond all bounds; `onEnd` is called once when it is over. */
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
    // What takes an older one's place comes after all that was told in between.
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

/** Of these only the newest is worth anything, for each roll; null: every event counts. */
function fleetingSlot({ kind, material, roll }: ChannelEvent): string | null {
  return fleetingKinds.has(kind) ? JSON.stringify([kind, material, roll]) : null;
}
