import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { refuse, Refusal } from '../base/findings.ts';
import type { Part } from '../handing/part.ts';
import { knifeFindings } from '../knife/findings.ts';
import { leftWorkOf } from '../knife/left-work.ts';
import type { Lay, LayRules, Roll } from '../lay/lay.ts';
import type { LaySearch } from '../lay/lay-parts.ts';
import { layOnRolls } from '../lay/rolls.ts';
import type { LabelWords, OrderSays } from '../papers/facts/order-words.ts';
import { labelWords } from '../papers/facts/order-words.ts';
import { placesInOrders } from '../papers/facts/count-in-order.ts';
import type { RecutFacts } from '../papers/recut-papers.ts';
import { lengthWords, shownNames, wholeMm } from '../base/wording.ts';
import { clothName, clothOf } from '../pattern/shop/cloth.ts';
import type { Material } from '../pattern/shop/material.ts';
import type { RecordedRun } from '../program/record/record.ts';
import { recordedRules } from '../program/record/lay-record.ts';
import { recordedPart } from '../program/record/part-record.ts';
import type { LayRecord, PartRecord, RunRecord } from '../program/record/run-record.ts';
import { publish } from '../publishing/publish.ts';
import type { Target } from '../publishing/target.ts';
import { claimTarget, runFolder } from '../publishing/target.ts';
import { refuseOtherRun } from './other-run.ts';
import { folderFindings, proveFolder } from './prove.ts';
import { isSameFolder, laysOnRoll, restAfterAll, runsOnSameRolls } from './rests.ts';
import { machineFiles } from './run-files.ts';
import { readStock, writtenRolls } from '../run/run-file.ts';

export interface RecutRequest {
  /** The run folder whose parts are lost. */
  readonly folder: string;
  readonly labels: readonly string[];
  /**
   * A remnant: its name, and the file of rolls that describes it. Left out: what the run left on its own
   * rolls is used.
   */
  readonly remnant?: { readonly name: string; readonly file: string };
  /**
   * The file of the shop's rolls: where it has the roll that parts are cut from again, it says what is left
   * of it too. Left out, or not there: the shop keeps none.
   */
  readonly stock?: string;
  readonly out: string;
  readonly force: boolean;
  readonly search: Pick<LaySearch, 'seed' | 'limit' | 'threads'>;
}

/**
 * Cuts parts of a run once more, in exactly the shape that the record of the run has. Writes a run folder
 * of their own, with a small sheet and labels that say so. Does not read the inputs of the first run,
 * because drawings may have changed since. Throws a Refusal, and then leaves nothing behind.
 */
export async function recut(request: RecutRequest): Promise<RecutFacts> {
  if (isSameFolder(request.folder, request.out)) {
    const message = 'this is the folder of the run itself, and a recut has one of its own.';
    refuse('target', message, 'Name another one with --out.', { file: request.out });
  }
  const target = claimTarget(request.out, runFolder, request.force);
  try {
    const recorded = provenRecord(request.folder);
    const { run } = recorded.run;
    if (request.force) refuseOtherRun(request.out, ({ recutOf }) => recutOf?.run === run);
    return await recutInto(target, recorded, request);
  } finally {
    target.release();
  }
}

/**
 * The record of a run whose folder is proven: nobody may cut a lost part again from a record that was
 * changed since. Throws a Refusal with what the proof found.
 */
function provenRecord(folder: string): RecordedRun {
  const proof = proveFolder(folder);
  if (!proof.mayBeCut) {
    throw new Refusal(proof.findings.filter(({ severity }) => severity === 'error'));
  }
  return proof;
}

async function recutInto(
  target: Target,
  { run, fingerprint }: RecordedRun,
  request: RecutRequest,
): Promise<RecutFacts> {
  const file = join(request.folder, 'run.json');
  const records = wantedParts(run, request.labels, file);
  const parts = records.map(recordedPart);
  const places = placesFor(run, parts, request);
  const lays: Lay[] = [];
  for (const { parts: own, roll, rules, material } of places) {
    const rolls = [{ roll, pins: [] }];
    lays.push(...(await layOnRolls(own, material.name, rolls, rules, request.search)));
  }
  const name = basename(request.out);
  const recutOf = { run: run.run, fingerprint };
  const { cutter, orders, inches, labelStock } = run;
  const title = `Recut of ${run.run}`;
  const machine = await machineFiles({
    name,
    title,
    inputs: [],
    cutter,
    materials: new Map(places.map(({ material }) => [material.name, material])),
    orders,
    inches,
    labelStock,
    parts,
    said: new Map(records.map((one) => [one.label, one])),
    lays,
    seed: request.search.seed,
    recutOf,
  });
  const thicknessOf = (material: string): number => materialNamed(run, material).thickness;
  const byOrder = new Map(orders.map((order) => [order.order, order]));
  const inOrders = placesInOrders(run.parts);
  const facts: RecutFacts = {
    run: name,
    title,
    recutOf,
    fromRest: places.some(({ isRest }) => isRest),
    cutter,
    materials: machine.materials,
    parts: parts.map((part, i) => ({
      part,
      place: inOrders.get(part.label)!,
      title: titleIn(byOrder.get(part.order)),
      shape: records[i]!.shape ?? [],
      words: recordedWords(part, byOrder.get(part.order), materialNamed(run, part.material)),
      steps: records[i]!.next.map(([verb, words]) => ({ verb, words })),
      left: leftWorkOf(part, cutter, thicknessOf(part.material)),
    })),
    findings: [
      ...places.flatMap(({ told }) => told),
      ...places.flatMap(dyeLotFindings),
      ...knifeFindings(parts, cutter, thicknessOf),
      ...machine.findings,
    ],
    fingerprint: machine.fingerprint,
    labelStock,
    lengths: lengthWords(inches),
  };
  // This is loaded only now, as in cut.ts, because the writer of PDFs takes long to load.
  const { recutPapers } = await import('../papers/recut-papers.ts');
  publish(target, new Map([...machine.files, ...(await recutPapers(facts))]), folderFindings);
  return facts;
}

/** The title of the set of an order, without its options, as the record has it. */
function titleIn(order: RunRecord['orders'][number] | undefined): string {
  return order?.setTitle ?? order?.title ?? '';
}

/** What stands on the label of a part about its order, as the record has it. */
function recordedWords(
  part: Part,
  order: RunRecord['orders'][number] | undefined,
  material: Material,
): LabelWords {
  if (order === undefined) return { lines: [] };
  const { binding, ...says } = order;
  return labelWords(
    { ...says, ...(binding === null ? {} : { binding }) } as OrderSays,
    part,
    clothOf(part, material),
  );
}

/**
 * The records of the parts with these labels, in the order of the run. Refuses a label that the run does
 * not have.
 */
function wantedParts({ parts }: RunRecord, labels: readonly string[], file: string): PartRecord[] {
  for (const label of labels) {
    if (parts.some((part) => part.label === label)) continue;
    const alike = parts.filter((part) => part.label.startsWith(label) || part.name === label);
    const shown = (alike.length > 0 ? alike : parts).map((part) => part.label);
    refuse(
      'unknown-part',
      `this run has no part "${label}".`,
      `${alike.length > 0 ? 'Did you mean' : 'Parts'}: ${shownNames(shown, 12)}.`,
      { file },
    );
  }
  return parts.filter(({ label }) => labels.includes(label));
}

/** Parts that are cut again on one roll. */
interface RecutOnRoll {
  readonly parts: readonly Part[];
  readonly material: Material;
  readonly roll: Roll;
  readonly rules: LayRules;
  /** Whether `roll` is what the run left on its own roll, and not a remnant. */
  readonly isRest: boolean;
  /** The dye lots of the rolls from which the parts were first cut; null: not known. */
  readonly dyeLots: readonly (string | null)[];
  /** What is worth a look about the roll. */
  readonly told: readonly Finding[];
}

/**
 * Which parts go on which roll: on the remnant if it is of their material, otherwise on what is left of
 * the roll that they were cut from. A remnant that is this very roll has no more than that either.
 */
function placesFor(
  run: RunRecord,
  parts: readonly Part[],
  { folder, out, remnant, stock }: RecutRequest,
): RecutOnRoll[] {
  const remnants = remnant === undefined ? [] : remnantsNamed(run, parts, remnant);
  const family = runsOnSameRolls(folder, out);
  const places = run.lays.flatMap((lay): RecutOnRoll[] => {
    const laid = new Set(lay.placements.map(({ label }) => label));
    const own = parts.filter(({ label }) => laid.has(label));
    if (own.length === 0) return [];
    const material = materialNamed(run, lay.material);
    const found = remnants.find((one) => isOfCloth(one, lay));
    const isOwn = found?.roll.name === (lay.roll ?? undefined);
    const rest = found === undefined || isOwn ? restOf(lay, family) : null;
    const isRest = rest !== null && (found === undefined || found.roll.length > rest.length);
    const roll = isRest ? rest : found!.roll;
    const told = isRest && rest.name !== undefined ? keptFindings(lay, rest, material, stock) : [];
    const dyeLots = [lay.dyeLot];
    return [{ parts: own, material, roll, isRest, rules: recordedRules(lay), dyeLots, told }];
  });
  const [first] = remnants;
  if (first !== undefined && !parts.some((part) => isOfCloth(first, part))) {
    refuseOtherCloth(first, run, parts, remnant!);
  }
  return onOneRollEach(places);
}

/**
 * What is to be done about a roll that the shop keeps, once parts are cut again from what is left of it. Refuses
 * to cut from it where the shop keeps less of it than the run left: something else was cut from it since.
 */
function keptFindings(
  { roll }: LayRecord,
  rest: Roll,
  material: Material,
  file: string | undefined,
): Finding[] {
  if (file === undefined || !existsSync(file)) return [];
  const kept = writtenRolls(readStock(file), material).find(
    ({ name, colour }) => name === roll && colour === rest.colour,
  );
  if (kept === undefined || kept.length === Infinity || rest.length === Infinity) return [];
  const [has, left] = [kept.length, rest.length].map(wholeMm);
  if (kept.length < rest.length) {
    refuse(
      'rest-kept',
      `the shop keeps ${roll} with ${has}, and this run left ${left} of it: something else was cut from it since.`,
      `Cut from ${roll} as the shop keeps it: name it as the remnant.`,
      { file },
    );
  }
  return [
    {
      severity: 'warning',
      rule: 'rest-kept',
      message: `these parts are cut from ${roll}, of which ${left} is left; the shop keeps it with ${has}.`,
      todo: 'Once they are cut, have what is left of it remembered anew.',
      where: { file: basename(file) },
    },
  ];
}

/** Parts that were cut from several rolls and come from one remnant now are one lay. */
function onOneRollEach(places: readonly RecutOnRoll[]): RecutOnRoll[] {
  const rolls = [...new Set(places.map(({ roll }) => roll))];
  return rolls.map((roll) => {
    const own = places.filter((place) => place.roll === roll);
    return {
      ...own[0]!,
      parts: own.flatMap((place) => place.parts),
      dyeLots: [...new Set(own.flatMap((place) => place.dyeLots))],
    };
  });
}

function isOfCloth(
  { material, roll }: Remnant,
  other: { readonly material: string; readonly colour?: string | undefined },
): boolean {
  return material === other.material && roll.colour === other.colour;
}

function refuseOtherCloth(
  { material, roll }: Remnant,
  run: RunRecord,
  parts: readonly Part[],
  { name, file }: NonNullable<RecutRequest['remnant']>,
): never {
  const wanted = new Set(parts.map((part) => clothName(part.material, part.colour)));
  const isUnsaid = roll.colour === undefined && materialNamed(run, material).colours !== undefined;
  const message = isUnsaid
    ? `the colour of the remnant "${name}" of ${material} is not said.`
    : `the remnant "${name}" is of ${clothName(material, roll.colour)}, and none of these parts is.`;
  const todo = `${isUnsaid ? 'Add "colour:" to it. ' : ''}The parts are of ${[...wanted].join(', ')}.`;
  return refuse('remnant-material', message, todo, { file });
}

function materialNamed({ materials }: RunRecord, name: string): Material {
  return (
    materials.find((material) => material.name === name) ??
    refuse(
      'unknown-name',
      `run.json says nothing of its material "${name}".`,
      'Cut the run anew, then the part again.',
    )
  );
}

/**
 * What the run and other recuts of it left on its roll. Throws a Refusal if nothing is left.
 */
function restOf(lay: LayRecord, family: readonly RunRecord[]): Roll {
  const rest = restAfterAll(lay, family);
  if (rest !== null) return rest;
  const { material, colour, roll } = lay;
  const name = `${clothName(material, colour)}${roll === null ? '' : ` ${roll}`}`;
  const rests = laysOnRoll(lay, family).map((one) => (one.rollLength ?? Infinity) - one.length);
  const left = Math.max(0, Math.min(...rests)).toFixed(0);
  return refuse(
    'no-room',
    `the run, and what was cut again of it, left ${left} mm on the roll of ${name}.`,
    'Name a remnant from a file of rolls.',
  );
}

/** A remnant, and the name of its material. */
interface Remnant {
  readonly material: string;
  readonly roll: Roll;
}

/**
 * The remnants of this name: those of the cloths of these parts, one for each cloth; if none is, the first
 * of any. Refuses a name that no remnant has.
 */
function remnantsNamed(
  run: RunRecord,
  parts: readonly Part[],
  { name, file }: NonNullable<RecutRequest['remnant']>,
): Remnant[] {
  const stock = readStock(file);
  const known = Object.keys(stock.rolls).flatMap((material): Remnant[] => {
    const own = run.materials.find((one) => one.name === material);
    if (own === undefined) return [];
    return writtenRolls(stock, own).map((written) => {
      const { pins: _, laid: __, ...roll } = written;
      return { material, roll };
    });
  });
  const named = known.filter(({ roll }) => roll.name === name);
  const fitting = named.filter((one) => parts.some((part) => isOfCloth(one, part)));
  if (named.length > 0) return fitting.length > 0 ? fitting : named.slice(0, 1);
  const words = known.map(
    ({ material, roll }) =>
      `${roll.name ?? 'one without a name'} (${clothName(material, roll.colour)})`,
  );
  return refuse(
    'unknown-name',
    `there is no roll or remnant "${name}" of a material of this run.`,
    words.length === 0 ? 'The file has none at all for them.' : `There are: ${words.join(', ')}.`,
    { file },
  );
}

/**
 * A warning if a new carpet part may differ in shade from the rest of its set, because the dye lots
 * differ or are not known.
 */
function dyeLotFindings({ parts, material, roll, dyeLots, isRest }: RecutOnRoll): Finding[] {
  // What is left of the very roll has its shade, whatever that is.
  if (material.kind !== 'carpet' || isRest) return [];
  if (dyeLots.every((one) => one !== null && one === roll.dyeLot)) return [];
  const known = dyeLots.filter((one) => one !== null);
  const isKnown = known.length === dyeLots.length && roll.dyeLot !== undefined;
  const message = isKnown
    ? `${material.title} of dye lot ${roll.dyeLot!} is to replace parts of dye lot ${known.join(' and ')}: shades may differ.`
    : `the dye lot of ${known.length < dyeLots.length ? 'the first cut' : 'this roll'} of ${material.title} is not said: shades may differ.`;
  return [
    {
      severity: 'warning',
      rule: 'dye-lot',
      message,
      todo: 'Hold the roll against a part of the set in daylight before you cut.',
      where: { part: parts.map(({ label }) => label).join(', ') },
    },
  ];
}
