import { compareFiles } from '../../compare/compare.ts';
import { comparisonRows } from '../../compare/table.ts';
import { overlayPicture } from '../../papers/pictures/compare/overlay.ts';
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
  const named = { ...comparison, before, after };
  const isEqual = comparison.differences.length === 0;
  return {
    equal: isEqual,
    lines: comparisonRows(comparison).map(([what, where, words]) => ({ what, where, words })),
    pictures: isEqual || inputs === null ? [] : [overlayPicture(named, ...inputs)],
  };
}
