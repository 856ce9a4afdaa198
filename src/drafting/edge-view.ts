import { memoryByKey } from '../base/remembered.ts';
import { rounded } from '../base/numbers.ts';
import type { Block } from '../drawing/drawing.ts';
import { alongPath } from '../geometry/paths/path.ts';
import { rightOf } from '../geometry/paths/point.ts';
import { pathData } from '../papers/svg/svg.ts';
import type { LayerMap } from '../pattern/layers.ts';
import type { Piece } from '../pattern/piece.ts';
import type { EdgeKind } from '../pattern/words.ts';
import { cutLine } from './edges/cut-line.ts';
import type { EdgeDraft } from './edges/drawn-traces.ts';
import { sameEdgeDraft } from './edges/same-draft.ts';
import type { OutlineStretch } from './edges/stretches.ts';
import { stretchesOf } from './edges/stretches.ts';
import type { ReadDraft } from './read-draft.ts';

/** A place in mm: to the right, up, in the frame of a block. */
export type Spot = readonly [number, number];

/** A part of the net outline for which one answer is given, as the page draws it; see OutlineStretch. */
export interface StretchView {
  /** mm along the net outline; `to` <= `from`: across its start. Equal: all of it. */
  readonly from: number;
  readonly to: number;
  readonly length: number;
  /** SVG path data in mm, in the frame of the block, in the direction of the outline. */
  readonly d: string;
  /** Its middle, and the direction outwards there, of length 1. */
  readonly middle: Spot;
  readonly outward: Spot;
  /** null: nobody has decided. */
  readonly kind: EdgeKind | null;
  readonly name: string | null;
  readonly saidBy: 'trace' | 'rest' | null;
  readonly hiddenBy: string | null;
  readonly special: readonly string[];
}

/** What happens along the outline of a piece. */
export interface EdgesView {
  /** In order round it, counter-clockwise. Empty: the outline could not be read. */
  readonly stretches: readonly StretchView[];
  /** The length of the net outline, mm. */
  readonly round: number;
  /** The line to cut, with its allowances. null: its material is not known, or an allowance does not fit. */
  readonly cut: string | null;
}

const noEdges: EdgesView = { stretches: [], round: 0, cut: null };

const viewedBefore = memoryByKey<EdgeDraft, EdgesView>(4);

/** What happens along the outline of a piece that was read. Worked out again only where something of it changed. */
export function edgesView(
  piece: Piece | null,
  block: Block,
  map: LayerMap,
  read: ReadDraft | null,
): EdgesView {
  if (piece === null || read === null) return noEdges;
  const draft = sameEdgeDraft(piece, block, map, read);
  const material = read.materialOf(piece);
  return viewedBefore(draft, JSON.stringify(material), () => {
    const cut = material === null ? null : cutLine(draft, material).cut;
    const { stretches, round } = stretchesOf(draft);
    return {
      stretches: stretches.map(stretchView),
      round: rounded(round, 4),
      cut: cut === null ? null : pathData(cut),
    };
  });
}

function stretchView(stretch: OutlineStretch): StretchView {
  const { from, to, path, length, kind, name, saidBy, hiddenBy, special } = stretch;
  const { point, tangent } = alongPath(path, length / 2);
  const outward = rightOf(tangent);
  return {
    from: rounded(from, 4),
    to: rounded(to, 4),
    length: rounded(length, 1),
    d: pathData(path),
    middle: [rounded(point.x, 2), rounded(point.y, 2)],
    outward: [rounded(outward.x, 4), rounded(outward.y, 4)],
    kind,
    name,
    saidBy,
    hiddenBy,
    special,
  };
}
