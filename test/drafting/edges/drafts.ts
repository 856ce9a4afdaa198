import fc from 'fast-check';
import type { EdgeDraft } from '../../../src/drafting/edges/drawn-traces.ts';
import type { EdgeAnswer } from '../../../src/drafting/edges/planned-traces.ts';
import type { Entity } from '../../../src/drawing/drawing.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { pathLength } from '../../../src/geometry/paths/path.ts';
import type { OptionValues } from '../../../src/pattern/conditions.ts';
import { claimEdges, tracesOf } from '../../../src/pattern/edges.ts';
import type { LayerMap } from '../../../src/pattern/layers.ts';
import { pieceOf } from '../../../src/pattern/piece.ts';
import type { PieceEntry } from '../../../src/pattern/set-file.ts';
import type { EdgeKind } from '../../../src/pattern/words.ts';
import { edgeKinds } from '../../../src/pattern/words.ts';
import { outline } from '../../geometry/arbitrary.ts';

export function onLayer(layer: string, path: Path): Entity {
  return { kind: 'path', layer, line: 3, path };
}

/** What a set file says of a piece on the left of the vehicle, if it says nothing else. */
export function entryWith(entry: Partial<PieceEntry>): PieceEntry {
  return {
    side: 'left',
    outline: 'body',
    material: 'carpet',
    quantity: 1,
    at: [0, 0],
    half: false,
    ...entry,
  };
}

/** A draft of a piece called mat that is read from these entities, as a set reads them. */
export function draftOf(
  entities: readonly Entity[],
  entry: Partial<PieceEntry> = {},
  options: OptionValues = new Map(),
): EdgeDraft {
  const map: LayerMap = new Map();
  const { piece, findings } = pieceOf('mat', entryWith(entry), entities, map, 'mat.dxf', options);
  if (piece === null) throw new Error(findings.map(({ message }) => message).join('\n'));
  return { piece, entities, map, drawn: 'RHD', options };
}

/** The draft with other entities: its piece is read anew. */
export function readAgain(draft: EdgeDraft, entities: readonly Entity[]): EdgeDraft {
  return draftOf(entities, draft.piece.entry, draft.options);
}

/** How the product reads what happens at shares of the outline, apart from all code under test. null: undecided. */
export function readKinds(draft: EdgeDraft): {
  at: (along: number) => { kind: EdgeKind; name: string | null } | null;
  rules: string[];
} {
  const { piece, entities, map } = draft;
  const read = pieceOf('mat', piece.entry, entities, map, 'mat.dxf', draft.options);
  const claimed = claimEdges(
    read.piece!.outline,
    tracesOf(read.piece!.features),
    piece.entry.edge ?? null,
    piece.where,
  );
  const at = (along: number) => {
    const found = claimed.stretches.find(({ from, to }) =>
      from < to ? from <= along && along < to : along >= from || along < to,
    );
    return found === undefined ? null : { kind: found.kind, name: found.name };
  };
  const findings = [...read.findings, ...claimed.findings];
  return {
    at,
    rules: findings.map(({ rule }) => rule).filter((rule) => rule !== 'edge-not-claimed'),
  };
}

/** An answer in shares of the outline's length. */
export interface SharedAnswer {
  readonly from: number;
  readonly share: number;
  readonly kind: EdgeKind | null;
}

export const sharedAnswer: fc.Arbitrary<SharedAnswer> = fc.record({
  from: fc.double({ min: 0, max: 0.999, noNaN: true }),
  share: fc.double({ min: 0.02, max: 0.97, noNaN: true }),
  kind: fc.constantFrom<EdgeKind | null>(...edgeKinds, null),
});

export function answerOn(path: Path, { from, share, kind }: SharedAnswer): EdgeAnswer {
  const round = pathLength(path);
  return { from: from * round, to: ((from + share) % 1) * round, kind };
}

/** An outline and some answers one after another. */
export const answered = fc.record({
  outline,
  answers: fc.array(sharedAnswer, { minLength: 1, maxLength: 6 }),
});
