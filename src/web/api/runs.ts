/** What `compare` finds between two runs. */
export interface RunComparison {
  readonly equal: boolean;
  readonly lines: readonly {
    readonly what: string;
    readonly where: string;
    readonly words: string;
  }[];
  /** Overlay pictures as SVG. */
  readonly pictures: readonly string[];
}
