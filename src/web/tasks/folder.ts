import { statSync } from 'node:fs';
import { join } from 'node:path';
import { hasErrors } from '../../base/findings.ts';
import type { Part } from '../../handing/part.ts';
import { proveFolder } from '../../jobs/prove.ts';
import type { Lay } from '../../lay/lay.ts';
import { recordedLay } from '../../program/record/lay-record.ts';
import { recordedPart } from '../../program/record/part-record.ts';
import type { LayRecord, PartRecord, RunRecord } from '../../program/record/run-record.ts';
import { recordedName } from '../../program/record/run-record.ts';
import type { FolderFile, ProvenFolder } from '../api/files.ts';
import { isForMachine } from '../api/files.ts';
import type { PicturedLay, PicturedPart, PicturedRoll } from '../api/pictured.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFolderIn } from '../workshop/workshop.ts';
import { picturedPart } from './pictured-part.ts';
import { picturedRoll } from './pictured-roll.ts';
import { machineCard, rollWork } from './roll-work.ts';

/**
 * Reads a run folder and has its files proven as they stand now: programs are offered only where the
 * proof finds nothing wrong. Throws a Refusal where it is no run folder.
 */
export function folder({ shop, run }: { shop: Workshop; run: string }): ProvenFolder {
  const path = runFolderIn(shop, run);
  const { run: record, fingerprint, findings, unchanged } = proveFolder(path);
  const proven = !hasErrors(findings);
  return {
    name: run,
    title: record.title,
    fingerprint,
    recutOf: record.recutOf?.run ?? null,
    proven,
    findings,
    files: filesIn(path, unchanged, record, proven),
    parts: recordedParts(record),
    rolls: record.lays.map((lay) => recordedRoll(recordedLay(lay), record)),
    lays: record.lays.map(shownLay),
    work: record.lays.map((lay) => rollWork(path, lay, record, proven)),
    machine: machineCard(record),
  };
}

const kinds: readonly [RegExp, FolderFile['what']][] = [
  [/\.dry\.nc$/, 'dry'],
  [/\.bite-\d+\.nc$/, 'bite'],
  [/\.nc$/, 'program'],
  [/\.dxf$/, 'drawing'],
  [/^sheet\./, 'sheet'],
  [/^labels\.pdf$/, 'labels'],
  [/^run\.json$/, 'record'],
  [/\.svg$/, 'picture'],
];

function filesIn(
  path: string,
  names: readonly string[],
  record: RunRecord,
  proven: boolean,
): FolderFile[] {
  const lays = record.lays.map(recordedName);
  return names
    .map((name): FolderFile => {
      const what = kinds.find(([pattern]) => pattern.test(name))?.[1] ?? 'paper';
      const ofLay = lays.find((lay) => name.startsWith(`${lay}.`));
      const ofOrder = /^(?:sewing|fitting)-(.+)\.[a-z]+$/.exec(name)?.[1];
      return {
        name,
        size: statSync(join(path, name)).size,
        what,
        of: ofLay ?? ofOrder ?? null,
        offered: proven || !isForMachine(what),
      };
    })
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

function recordedParts(record: RunRecord): PicturedPart[] {
  const alike = partsAlike();
  const turns = new Map(
    record.lays.flatMap((lay) => lay.placements.map(({ label }) => [label, lay.turns] as const)),
  );
  return record.parts.map((one) => {
    const next = one.next.map(([verb, words]) => `${verb}: ${words}`);
    return picturedPart(alike(one), turns.get(one.label) ?? 'one-way', { next, neighbours: [] });
  });
}

/**
 * Gives the parts of a record. Parts of one shape share one contour, so that it is drawn once for all
 * of them.
 */
export function partsAlike(): (record: PartRecord) => Part {
  const known = new Map<string, Part['cut']>();
  return (record) => {
    const { cutContour, inner, marks, stretches } = record;
    const key = JSON.stringify([cutContour, inner, marks, stretches]);
    const part = recordedPart(record);
    const cut = known.get(key) ?? part.cut;
    known.set(key, cut);
    return { ...part, cut };
  };
}

/** The roll of a lay, or of its mirror image on the bed, as pictures show it. */
export function recordedRoll(lay: Lay, { materials }: RunRecord): PicturedRoll {
  const { material: name } = lay;
  const { title = name, colours } = materials.find((one) => one.name === name) ?? {};
  return picturedRoll(lay.roll, { name, title, colours }, lay.rules);
}

function shownLay(lay: LayRecord): PicturedLay {
  const { material, colour, roll, placements, length, density } = lay;
  const bites = lay.bites.map(({ start }) => start);
  return { material, colour: colour ?? null, roll, placements, pinned: [], length, density, bites };
}
