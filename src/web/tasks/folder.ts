import { existsSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { hasErrors } from '../../base/findings.ts';
import type { Part } from '../../handing/part.ts';
import { sha256 } from '../../base/sha256.ts';
import { proveFolder } from '../../jobs/prove.ts';
import { restOfRoll } from '../../jobs/recut.ts';
import type { Lay } from '../../lay/lay.ts';
import { recordedLay } from '../../program/record/lay-record.ts';
import { recordedPart } from '../../program/record/part-record.ts';
import type { LayRecord, PartRecord, RunRecord } from '../../program/record/run-record.ts';
import { recordedName } from '../../program/record/run-record.ts';
import type { FolderFile, RunFolder } from '../api/files.ts';
import type { PicturedLay, PicturedPart, PicturedRoll } from '../api/pictured.ts';
import type { KeptRoll } from '../api/roll.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { inputIn, runFolderIn } from '../workshop/workshop.ts';
import { picturedPart } from './pictured-part.ts';
import { picturedRoll } from './pictured-roll.ts';

/**
 * Reads a run folder and has its files proven as they stand now: programs are offered only where the
 * proof finds nothing wrong. Throws a Refusal where it is no run folder.
 */
export function folder({ shop, run }: { shop: Workshop; run: string }): RunFolder {
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
    rests: record.lays.flatMap(restOfLay),
    upToDate: record.inputs.length === 0 ? null : isUpToDate(record, shop),
  };
}

function restOfLay(lay: LayRecord): KeptRoll[] {
  const rest = restOfRoll(lay);
  if (rest?.name === undefined || rest.length === Infinity) return [];
  const { startMargin, defects = [], outline: _, ...others } = rest;
  // Rather less is said than there is: whole mm, and nothing before the new start.
  const corners = defects.map((defect) =>
    defect.map(({ x, y }): [number, number] => [Math.max(0, x), y]),
  );
  const length = Math.floor(rest.length);
  const roll = { ...others, length, startMargin, defects: corners, pins: [], laid: [] };
  return [{ material: lay.material, roll }];
}

/** Whether the run's inputs are still what the folder was made from. */
function isUpToDate({ inputs }: RunRecord, shop: Workshop): boolean {
  return inputs.every(({ file, sha256: hash }) => {
    const path = inputIn(shop, file);
    return path !== null && existsSync(path) && sha256(readFileSync(path)) === hash;
  });
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

function isForMachine(what: FolderFile['what']): boolean {
  return ['program', 'dry', 'bite', 'drawing'].includes(what);
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
  const title = materials.find((one) => one.name === name)?.title ?? name;
  return picturedRoll(lay.roll, { name, title }, lay.rules);
}

function shownLay({ material, colour, roll, placements, length, density }: LayRecord): PicturedLay {
  return { material, colour: colour ?? null, roll, placements, pinned: [], length, density };
}
