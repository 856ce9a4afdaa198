import { compareFiles } from '../../compare/compare.ts';
import { ranksOf } from '../../compare/lines.ts';
import { overlayPicture } from '../../papers/pictures/compare/overlay.ts';
import { overlaySheets } from '../../papers/pictures/compare/overlay-rows.ts';
import type { RunComparison } from '../api/runs.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFolderIn } from '../workshop/workshop.ts';

/** Geometry is the same within this distance, mm, as on the command line. */
const tolerance = 0.01;

/** Says what tells two run folders apart. Throws a Refusal where one of them cannot be read. */
export function compare({
  shop,
  before,
  after,
}: {
  shop: Workshop;
  before: string;
  after: string;
}): RunComparison {
  const { comparison, inputs } = compareFiles(runFolderIn(shop, before), runFolderIn(shop, after), {
    tolerance,
    map: new Map(),
    sharedFolder: shop.shared,
  });
  const { differences } = comparison;
  const isEqual = differences.length === 0;
  const named = { ...comparison, before, after };
  return {
    sentence: comparison.sentence,
    notes: comparison.notes,
    equal: isEqual,
    count: differences.length,
    groups: ranksOf(differences).map(({ matter, heading, count, lines }) => ({
      matter,
      heading,
      count,
      lines: lines.map(({ what, where, words }) => ({ what, where, words })),
    })),
    sheets: inputs === null ? [] : overlaySheets(differences, ...inputs),
    paper: isEqual || inputs === null ? null : overlayPicture(named, ...inputs),
  };
}
