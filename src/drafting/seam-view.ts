import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';
import { rounded } from '../base/numbers.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Draft } from './draft.ts';
import type { EditOf } from './draft-edit.ts';
import type { EditContext } from './edit-context.ts';
import type { AskedSeam, SeamFits } from './edges/seam-facts.ts';
import { seamFacts } from './edges/seam-facts.ts';
import type { Spot } from './edge-view.ts';
import { triedEdit } from './keep-draft.ts';
import { readDraft } from './read-draft.ts';
import { readMaterials } from '../pattern/shop/material.ts';

/** A pair of places, one on each edge of a seam, each in the frame of the block of its piece. */
type SpotPair = readonly [Spot, Spot];

/** How the edges of a seam fit, as the page shows it. Lengths in mm, net; the first edge is that of the first reference. */
export interface SeamFitView {
  readonly lengths: readonly [number, number];
  /** How much longer the second edge is; negative: shorter. */
  readonly difference: number;
  readonly ease: number;
  readonly isLengthSound: boolean;
  /** Where the two are begun to be sewn together. */
  readonly begin: SpotPair;
  /** Notches that meet, from there. */
  readonly met: readonly { readonly at: SpotPair; readonly difference: number }[];
  /** Notches that meet none: on which edge they are, and where the other would have to have one. */
  readonly unmet: readonly { readonly edge: 0 | 1; readonly at: SpotPair }[];
}

/** A seam of a draft, or one that somebody asks about. */
export interface SeamView {
  readonly join: readonly [string, string];
  /** Its own ease, mm. null: that of the set. */
  readonly ease: number | null;
  /** In each place of the vehicle where they differ. Empty: the findings say why. */
  readonly fits: readonly SeamFitView[];
  readonly findings: readonly Finding[];
}

/** All seams that a draft names. */
export function seamViews(draft: Draft, { sharedFolder }: EditContext): SeamView[] {
  const seams = draft.said.seams ?? [];
  try {
    return seams.length === 0 ? [] : viewsOf(draft, sharedFolder, () => true);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return seams.map((one) => seamView(one, { fits: [], findings: error.findings }));
  }
}

/** A seam as it would be if it were made. Throws a Refusal where it cannot be. */
export function askedSeamView(draft: Draft, edit: EditOf<'seam'>, context: EditContext): SeamView {
  const { content, next } = triedEdit(draft, edit, context);
  const before = draft.said.seams ?? [];
  const asked = (content.said.seams ?? []).findIndex((one) => !before.includes(one));
  return viewsOf(next, context.sharedFolder, (at) => at === asked)[0]!;
}

/** Those of the seams that are wanted, by their places in the set file. */
function viewsOf(
  draft: Draft,
  sharedFolder: string,
  isWanted: (at: number) => boolean,
): SeamView[] {
  const patterns = readDraft(draft, sharedFolder).patterns();
  const materials = readMaterials(patterns.materials, sharedFolder);
  return patterns.content.seams
    .filter((_, at) => isWanted(at))
    .map((one) => seamView(one, seamFacts(patterns, materials, one)));
}

function seamView(
  { join, ease }: { readonly join: AskedSeam['join']; readonly ease?: number | undefined },
  { fits, findings }: SeamFits,
): SeamView {
  const views = new Map(fits.map(fitView).map((fit) => [JSON.stringify(fit), fit]));
  return { join, ease: ease ?? null, fits: [...views.values()], findings };
}

function fitView(fit: SeamFits['fits'][number]): SeamFitView {
  const { lengths, difference, ease, isLengthSound, begin, met, unmet } = fit;
  return {
    lengths: [rounded(lengths[0], 1), rounded(lengths[1], 1)],
    difference: rounded(difference, 1),
    ease,
    isLengthSound,
    begin: [spot(begin[0]), spot(begin[1])],
    met: met.map(({ notches, difference: off }) => ({
      at: [spot(notches[0].at), spot(notches[1].at)],
      difference: rounded(off, 1),
    })),
    unmet: unmet.map(({ edge, at, there }) => ({
      edge,
      at: edge === 0 ? [spot(at), spot(there)] : [spot(there), spot(at)],
    })),
  };
}

function spot({ x, y }: Point): Spot {
  return [rounded(x, 2), rounded(y, 2)];
}
