import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { z } from 'zod';
import { refuse } from '../../base/findings.ts';
import { clothName } from '../../pattern/shop/cloth.ts';
import { onDisk } from '../../publishing/disk.ts';
import { publishFile } from '../../publishing/publish-file.ts';
import type { Pin, RollEntry, RunContent } from '../../run/run-file.ts';
import { pinSchema } from '../../run/run-file.ts';
import type { EarlierLay } from '../api/lay.ts';
import type { PicturedLay } from '../api/pictured.ts';
import { withEachRoll } from './lays-in-run.ts';
import { runHistoryIn } from './run-history.ts';
import type { Workshop } from './workshop.ts';

/** So many lays of each cloth are kept. */
const most = 10;

const keptSchema = z.array(
  z.object({
    id: z.string(),
    at: z.string(),
    material: z.string(),
    colour: z.string().nullable(),
    length: z.number(),
    parts: z.number(),
    rolls: z.array(
      z.object({
        name: z.string().nullable(),
        pins: z.array(pinSchema),
        laid: z.array(pinSchema),
      }),
    ),
  }),
);

/** A lay of a cloth as a search left it: on all its rolls, with what was pinned. */
type KeptLay = z.infer<typeof keptSchema>[number];

type OfCloth = Pick<KeptLay, 'material' | 'colour'>;

/** The last lays of each cloth of a run that searches have found, the newest first. */
export function earlierLays(shop: Workshop, run: string): EarlierLay[] {
  return keptLays(shop, run)
    .map(({ id, at, material, colour, length, parts }) => ({
      id,
      at,
      material,
      colour,
      length,
      parts,
    }))
    .toReversed();
}

/** Keeps what a search has left of its cloths in a run file, each with the time. */
export function keepEarlierLays(
  shop: Workshop,
  run: string,
  content: RunContent,
  lays: readonly PicturedLay[],
  now: Date,
): void {
  const before = keptLays(shop, run);
  const cloths = [...new Map(lays.map((lay) => [nameOf(lay), lay])).values()];
  const fresh = cloths.flatMap(({ material, colour }): KeptLay[] => {
    const own = lays.filter((lay) => isOf(lay, { material, colour }));
    const rolls = rollsOf(content, { material, colour });
    const last = before.findLast((lay) => isOf(lay, { material, colour }));
    if (last !== undefined && isDeepStrictEqual(last.rolls, rolls)) return [];
    return [
      {
        id: `${now.toISOString()} ${nameOf({ material, colour })}`,
        at: now.toISOString(),
        material,
        colour,
        length: own.reduce((sum, { length }) => sum + length, 0),
        parts: own.reduce((sum, { placements }) => sum + placements.length, 0),
        rolls,
      },
    ];
  });
  if (fresh.length === 0) return;
  const all = [...before, ...fresh];
  const kept = all.filter(
    (lay, i) => all.slice(i + 1).filter((later) => isOf(later, lay)).length < most,
  );
  const file = fileOf(shop, run);
  onDisk(file, 'The run file has the lay all the same.', () => {
    mkdirSync(dirname(file), { recursive: true });
    publishFile(file, `${JSON.stringify(kept)}\n`);
  });
}

/**
 * The run file with the parts of a cloth where an earlier lay had them, as far as the run has them still: `labels` are
 * those of all its parts. Throws a Refusal where the lay is not kept.
 */
export function withEarlierLay(
  shop: Workshop,
  run: string,
  content: RunContent,
  id: string,
  labels: ReadonlySet<string>,
): RunContent {
  const lay = keptLays(shop, run).find((one) => one.id === id);
  if (lay === undefined) {
    return refuse('lay', 'this lay is not kept any more.', 'Take one of those that are listed.');
  }
  return withEachRoll(content, lay, (roll, name) => {
    const { pins = [], laid = [] } = lay.rolls.find((one) => one.name === name) ?? {};
    const isThere = ({ part }: Pin): boolean => labels.has(part);
    return { ...roll, pins: pins.filter(isThere), laid: laid.filter(isThere) };
  });
}

function keptLays(shop: Workshop, run: string): readonly KeptLay[] {
  const file = fileOf(shop, run);
  if (!existsSync(file)) return [];
  try {
    const read = keptSchema.safeParse(JSON.parse(readFileSync(file, 'utf8')));
    return read.success ? read.data : [];
  } catch {
    // What is no JSON was not written here.
    return [];
  }
}

function fileOf(shop: Workshop, run: string): string {
  return join(runHistoryIn(shop, run), 'lays.json');
}

function rollsOf(content: RunContent, cloth: OfCloth): KeptLay['rolls'] {
  const rolls: KeptLay['rolls'] = [];
  withEachRoll(content, cloth, (roll: RollEntry, name) => {
    rolls.push({ name, pins: [...roll.pins], laid: [...roll.laid] });
    return roll;
  });
  return rolls;
}

function isOf(one: OfCloth, other: OfCloth): boolean {
  return nameOf(one) === nameOf(other);
}

function nameOf({ material, colour }: OfCloth): string {
  return clothName(material, colour);
}
