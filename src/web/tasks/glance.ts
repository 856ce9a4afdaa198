import { existsSync } from 'node:fs';
import { Refusal } from '../../base/findings.ts';
import { flatten } from '../../geometry/paths/flatten.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { transformPoint } from '../../geometry/paths/transform.ts';
import { changedSince } from '../../jobs/changed-since.ts';
import type { Placement } from '../../lay/lay.ts';
import { placementTransform } from '../../lay/lay.ts';
import { readRunRecord } from '../../program/record/record.ts';
import type { RunRecord } from '../../program/record/run-record.ts';
import type { LayGlance, RunGlance } from '../api/runs.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { inputIn, placeIn, runFileIn, runFolderIn } from '../workshop/workshop.ts';
import { jobOf } from './cached-job.ts';
import { partsAlike } from './folder.ts';
import { loadedRolls } from '../../run/job.ts';
import { knownPlacements, lengthOfLaid } from './lay-table.ts';

/** How far outlines may be off in a picture of a few hundred pixels, mm. */
const rough = 15;
/** Nobody sees more parts than this in so small a picture. */
const mostParts = 400;

/**
 * What is seen of a run from afar. What cannot be read or is refused is left out: whoever opens the run is told why.
 */
export function glance({ shop, run }: { shop: Workshop; run: string }): RunGlance {
  const record = placeIn(runFolderIn(shop, run), 'run.json');
  const nothing: RunGlance = { picture: null, unlaid: null, changes: [] };
  try {
    return existsSync(record) ? ofRecord(readRunRecord(record), shop) : ofJob(shop, run);
  } catch (error) {
    if (error instanceof Refusal) return nothing;
    throw error;
  }
}

function ofRecord(record: RunRecord, shop: Workshop): RunGlance {
  const byLabel = new Map(record.parts.map((part) => [part.label, part]));
  const lay = record.lays.toSorted((a, b) => b.length - a.length)[0];
  const alike = partsAlike();
  const shapeOf = (label: string): Shape => alike(byLabel.get(label)!);
  return {
    picture: lay === undefined ? null : picture(lay.placements, lay.length, lay.rollWidth, shapeOf),
    unlaid: null,
    changes: changedSince(record, (file) => inputIn(shop, file)),
  };
}

function ofJob(shop: Workshop, run: string): RunGlance {
  if (!existsSync(runFileIn(shop, run))) return { picture: null, unlaid: null, changes: [] };
  const job = jobOf(shop, run);
  const byLabel = new Map(job.parts.map((part) => [part.label, part]));
  const laid = loadedRolls(job).map(({ cloth, roll }) => {
    const { placements } = knownPlacements(job, cloth, roll);
    return { placements, width: roll.width, length: lengthOfLaid(placements, byLabel) };
  });
  const longest = laid.toSorted((a, b) => b.length - a.length)[0];
  const count = laid.reduce((sum, { placements }) => sum + placements.length, 0);
  return {
    picture:
      longest === undefined || longest.length === 0
        ? null
        : picture(longest.placements, longest.length, longest.width, (label) =>
            byLabel.get(label)!,
          ),
    unlaid: job.parts.length - count,
    changes: [],
  };
}

interface Shape {
  readonly order: string;
  readonly cut: Path;
}

function picture(
  placements: readonly Placement[],
  length: number,
  width: number,
  shapeOf: (label: string) => Shape,
): LayGlance {
  const fromStart = placements.toSorted((a, b) => a.x - b.x).slice(0, mostParts);
  const shown = fromStart.map((one) => ({ one, shape: shapeOf(one.label) }));
  const orders = [...new Set(shown.map(({ shape }) => shape.order))].sort();
  const flat = new Map<Path, ReturnType<typeof flatten>>();
  return {
    length,
    width,
    parts: shown.map(({ one, shape: { order, cut } }) => {
      const points = flat.get(cut) ?? flatten(cut, rough);
      flat.set(cut, points);
      const transform = placementTransform(one);
      const corners = points.flatMap((point) => {
        const { x, y } = transformPoint(transform, point);
        return [Math.round(x / 10), Math.round(y / 10)];
      });
      return { order: orders.indexOf(order), corners };
    }),
  };
}
