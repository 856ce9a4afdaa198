/** A roll as it stands in the rack. */
export interface RackedRoll {
  readonly key: string;
  /** What the roll is called. */
  readonly words: string;
  readonly sample: string | null;
  /** How it stands, in a few words. */
  readonly state: string;
  /** What wants to be looked at is told apart from what waits and from what is done. */
  readonly tone: 'waits' | 'busy' | 'open' | 'done';
  /** The share that is done, 0 to 1; left out: nothing is under way. */
  readonly share?: number;
}
