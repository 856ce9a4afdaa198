/**
 * A paper as data: what stands on it, from top to bottom. A paper can be made into a page
 * (`document-html.ts`) and into sheets (`document-pdf.ts`). All text is plain and never contains markup.
 */
export interface Paper {
  readonly title: string;
  /** Stands below the title. */
  readonly subtitle: string;
  /** Stands at the foot of each sheet, beside its number, and tells this paper from all others. */
  readonly foot: string;
  /** Stands at the top of each sheet after the first. Left out: nothing does. */
  readonly again?: string;
  readonly blocks: readonly PaperBlock[];
}

export type PaperBlock =
  | { readonly kind: 'heading'; readonly level: 2 | 3; readonly text: string }
  | { readonly kind: 'text'; readonly text: string; readonly soft?: true }
  /** Large words that can be read from where the roll is loaded, and what they mean. */
  | { readonly kind: 'shout'; readonly words: string; readonly text: string }
  | FactRows
  | PaperTable
  | List
  /** `width` in mm. Left out: as wide as the paper. */
  | { readonly kind: 'picture'; readonly svg: string; readonly width?: number }
  /** A picture, `width` mm wide, and to its right what is said about it. */
  | {
      readonly kind: 'beside';
      readonly svg: string;
      readonly width: number;
      readonly blocks: readonly PaperBlock[];
    }
  | Cards
  /** A frame round something that nobody must miss. */
  | { readonly kind: 'frame'; readonly title: string; readonly items: readonly string[] }
  | Section;

/** Pictures with what is said about each, two side by side, so that many go on a sheet. */
interface Cards {
  readonly kind: 'cards';
  readonly cards: readonly Card[];
}

/** A picture, `width` mm wide, and to its right what is said about it. */
export interface Card {
  readonly svg: string;
  readonly width: number;
  readonly blocks: readonly PaperBlock[];
  /** Whether it takes the whole width of the paper. */
  readonly isWide: boolean;
}

/** The cards row by row: two in a row, or one that is wide or has no neighbour. */
export function cardRows(cards: readonly Card[]): Card[][] {
  const rows: Card[][] = [];
  for (const card of cards) {
    const last = rows.at(-1);
    if (!card.isWide && last?.length === 1 && !last[0]!.isWide) last.push(card);
    else rows.push([card]);
  }
  return rows;
}

/** Names and values, in two columns. */
export interface FactRows {
  readonly kind: 'facts';
  readonly rows: readonly (readonly [name: string, value: string])[];
}

export interface PaperTable {
  readonly kind: 'table';
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly string[])[];
  /** Whether it is set closer, because it must share its sheet with much else. */
  readonly tight?: true;
  /** Sums, in a row at the end. */
  readonly totals?: readonly string[];
}

export interface Column {
  readonly head: string;
  /** Whether the column holds figures, which are aligned to the right. */
  readonly figures?: true;
  /** Whether what stands in it is only looked up: it is small and soft. */
  readonly soft?: true;
  /** Width of the column in relation to the others. Left out: 1. */
  readonly share?: number;
}

export interface List {
  readonly kind: 'list';
  readonly items: readonly string[];
  readonly numbered?: true;
  /** Number of columns. Left out: 1. */
  readonly columns?: number;
}

/** Blocks that belong together. */
export interface Section {
  readonly kind: 'section';
  /** Its name for people who do not see it. */
  readonly label?: string;
  /** Whether they are kept on one sheet, if they fit; `with next`: and what follows begins there too. */
  readonly together?: true | 'with next';
  readonly blocks: readonly PaperBlock[];
}

export function heading(text: string, level: 2 | 3 = 2): PaperBlock {
  return { kind: 'heading', level, text };
}
