/** Where the command line is used from: what a command may do beyond reading and writing files. */
export interface Terminal {
  /** Writes a line of results. They go to stdout, so that a pipe stays clean. */
  readonly say: (text: string) => void;
  /** Writes a line about the results or about a failure, to stderr. */
  readonly warn: (text: string) => void;
  /** Writes over the line that it wrote before; null where nobody watches. */
  readonly progress: ((text: string) => void) | null;
  /** From now on these signals call `heed` instead of ending the program. */
  readonly onSignal: (signals: readonly ('SIGINT' | 'SIGTERM')[], heed: () => void) => void;
  /** Ends the program without waiting for what is under way. */
  readonly endAtOnce: () => void;
}
