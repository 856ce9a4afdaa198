/** How long a text may be that people write. */
export interface TextBound {
  readonly most: number;
  /** Why it may be no longer, as a sentence without its full stop. */
  readonly why: string;
}

/** A title as it stands at the head of papers. */
export const titleBound: TextBound = {
  most: 100,
  why: 'at most 100 letters fit at the head of a paper',
};

/** Words on a label or in a table: a colour, a dye lot. */
export const shortBound: TextBound = { most: 60, why: 'at most 60 letters fit on a label' };

/** A note of a few sentences, printed where somebody reads it. */
export const noteBound: TextBound = { most: 600, why: 'at most 600 letters are printed' };

/** A name that goes into names of files and onto labels. */
export const nameBound: TextBound = {
  most: 40,
  why: 'at most 40 letters go into the names of files',
};
