/**
 * A paper as data: what stands on it, from top to bottom. One paper, two looks: `document-html.ts`
 * makes a page of it, `document-pdf.ts` sheets. All text is plain; what stands in it is never markup.
 */
export interface Paper {
  readonly title: string;
  /** Under the title. */
  readonly subtitle: string;
  /** At the foot of each sheet, beside its number: what tells this paper from all others. */
  readonly foot: string;
  readonly blocks: readonly PaperBlock[];
}

export type PaperBlock =
  | { readonly kind: 'heading'; readonly level: 2 | 3; readonly text: string }
  | { readonly kind: 'text'; readonly text: string; readonly soft?: true }
  /** Words to be read from where the roll is loaded, and what they mean. */
  | { readonly kind: 'shout'; readonly words: string; readonly text: string }
  | FactRows
  | PaperTable
  | List
  /** `width` in mm; left out: as wide as the paper. */
  | { readonly kind: 'picture'; readonly svg: string; readonly width?: number }
  /** A picture of `width` mm on the left and what is said of it on its right. */
  | {
      readonly kind: 'beside';
      readonly svg: string;
      readonly width: number;
      readonly blocks: readonly PaperBlock[];
    }
  /** A frame round what must not be missed. */
  | { readonly kind: 'frame'; readonly title: string; readonly items: readonly string[] }
  | Section;

/** Names and values, in two columns. */
export interface FactRows {
  readonly kind: 'facts';
  readonly rows: readonly (readonly [name: string, value: string])[];
}

export interface PaperTable {
  readonly kind: 'table';
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly string[])[];
  /** Sums below. */
  readonly totals?: readonly string[];
}

export interface Column {
  readonly head: string;
  /** Figures stand under each other from the right. */
  readonly figures?: true;
  /** Share of the width against the other columns; 1 where left out. */
  readonly share?: number;
}

export interface List {
  readonly kind: 'list';
  readonly items: readonly string[];
  readonly numbered?: true;
  /** Side by side; 1 where left out. */
  readonly columns?: number;
}

/** Blocks that belong together: begun on a new sheet, or kept on one as far as they fit. */
export interface Section {
  readonly kind: 'section';
  /** What it is called by those who do not see it. */
  readonly label?: string;
  readonly newSheet?: true;
  readonly together?: true;
  readonly blocks: readonly PaperBlock[];
}

export function heading(text: string, level: 2 | 3 = 2): PaperBlock {
  return { kind: 'heading', level, text };
}
