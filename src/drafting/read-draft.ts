import type { OptionValues } from '../pattern/conditions.ts';
import { optionsOf } from '../pattern/choice.ts';
import type { Piece } from '../pattern/piece.ts';
import type { PatternSet, SetFiles } from '../pattern/set.ts';
import type { Hand } from '../pattern/words.ts';
import type { Material } from '../pattern/shop/material.ts';
import type { Draft } from './draft.ts';
import { setOfDraft } from './draft.ts';
import { knownMaterial } from './known-materials.ts';

/** A draft as any set is read, with the usual options: what edges are judged by. */
export interface ReadDraft {
  /** Those that could be read. */
  readonly pieces: readonly Piece[];
  /** The hand that is drawn. */
  readonly drawn: Hand;
  readonly options: OptionValues;
  /** What a piece is cut from. null: the shop has none of that name. */
  readonly materialOf: (piece: Piece) => Material | null;
  /** All of the set, for what several pieces say together. Throws a Refusal. */
  readonly patterns: () => PatternSet;
}

/** Reads a draft as a set. Throws a Refusal where it cannot be read at all. */
export function readDraft(draft: Draft, sharedFolder: string): ReadDraft {
  return readFiles(setOfDraft(draft, sharedFolder), sharedFolder);
}

/** The same of a set whose files were read already. Throws a Refusal where no piece can be read. */
export function readFiles(files: SetFiles, sharedFolder: string): ReadDraft {
  return {
    pieces: files.piecesOf({}),
    drawn: files.written.drawn,
    options: optionsOf(files.written, {}),
    materialOf: ({ entry, where }) => knownMaterial(sharedFolder, entry.material, where),
    patterns: () => files.chosen({}),
  };
}
