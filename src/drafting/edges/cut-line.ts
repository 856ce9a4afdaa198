import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { cutContour } from '../../handing/edges/allowance.ts';
import type { Material } from '../../pattern/shop/material.ts';
import type { EdgeDraft } from './drawn-traces.ts';
import type { OutlineStretch } from './stretches.ts';
import { stretchesOf } from './stretches.ts';

/** The line to cut of a piece as it stands, for a picture. mm, in the frame of the block. */
export interface CutLine {
  /** Closed, counter-clockwise. null: an allowance does not fit the outline, and the findings say where. */
  readonly cut: Path | null;
  /** Stretches for which nothing is decided: nothing was added there, and the line is no line to cut. */
  readonly undecided: readonly Pick<OutlineStretch, 'from' | 'to' | 'path' | 'length'>[];
  readonly findings: readonly Finding[];
}

/** The cut contour of a piece as drawn, with the allowances of a material. */
export function cutLine(draft: EdgeDraft, material: Material): CutLine {
  const { stretches, findings } = stretchesOf(draft);
  const undecided = stretches
    .filter(({ kind }) => kind === null)
    .map(({ from, to, path, length }) => ({ from, to, path, length }));
  const { outline, where } = draft.piece;
  try {
    return { cut: cutContour(outline, stretches, material, where), undecided, findings };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { cut: null, undecided, findings: [...findings, ...error.findings] };
  }
}
