import { refuse } from '../../base/findings.ts';
import type { HandedOver } from '../../base/threads/task.ts';
import { readText } from '../../base/yaml.ts';
import { distance } from '../../geometry/paths/point.ts';
import { faceDown } from '../../lay/face-down.ts';
import { axisOf, readProgram } from '../../program/reading/read.ts';
import type { Rehearsed } from '../../program/reading/rehearse.ts';
import { rehearse, tipUp } from '../../program/reading/rehearse.ts';
import { readRunRecord } from '../../program/record/record.ts';
import { recordedLay } from '../../program/record/lay-record.ts';
import type { LayRecord, RunRecord } from '../../program/record/run-record.ts';
import { recordedName } from '../../program/record/run-record.ts';
import { packParts } from '../api/packed-parts.ts';
import type { Rehearsal } from '../api/rehearsal.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { placeIn, runFolderIn } from '../workshop/workshop.ts';
import { begunInProgram } from './begun-in-program.ts';
import { partsAlike, recordedRoll } from './folder.ts';
import { picturedPart } from './pictured-part.ts';

/**
 * Reads a program of a run folder back as it stands there, with the time of each move, for the page to
 * play. What it gives is one block of bytes (see `rehearsalBody`). Throws a Refusal where there is no
 * such program.
 */
export function rehearseProgram({
  shop,
  run,
  lay: name,
}: {
  shop: Workshop;
  run: string;
  lay: string;
}): HandedOver<ArrayBuffer> {
  const folder = runFolderIn(shop, run);
  const record = readRunRecord(placeIn(folder, 'run.json'));
  const lay = record.lays.find((one) => recordedName(one) === name);
  if (lay === undefined) {
    const known = record.lays.map(recordedName).join(', ');
    return refuse('unknown-name', `this run has no lay "${name}".`, `There are: ${known}.`);
  }
  const file = placeIn(folder, `${name}.nc`);
  const text = readText(file, 'program');
  const { cutter } = record;
  const rehearsed = rehearse(readProgram(text, file, axisOf(cutter)), cutter);
  const value = rehearsalBody(headOf(rehearsed, text, lay, record), rehearsed);
  return { transfer: [value], value };
}

function headOf(
  { points, bites, messages, seconds }: Rehearsed,
  text: string,
  lay: LayRecord,
  record: RunRecord,
): Rehearsal {
  const lengths = { cut: 0, travel: 0 };
  for (let i = 1; i < points.length; i++) {
    const way = distance(points[i - 1]!, points[i]!);
    if (points[i]!.tip === tipUp) lengths.travel += way;
    else lengths.cut += way;
  }
  return {
    file: `${recordedName(lay)}.nc`,
    material: lay.material,
    roll: lay.roll,
    count: points.length,
    seconds,
    cutLength: lengths.cut,
    travelLength: lengths.travel,
    bites: bites.map(({ fed, first, at }) => ({ fed, firstMove: first, seconds: at })),
    parts: partsBegun(points, text, lay),
    messages: messages.map(({ point, ...rest }) => ({ move: point, ...rest })),
    bed: onBed(lay, record),
  };
}

/** The first point of each part. */
function partsBegun(
  points: Rehearsed['points'],
  text: string,
  { placements }: LayRecord,
): Rehearsal['parts'] {
  const labels = placements.map(({ label }) => label);
  const begun = begunInProgram(text, labels);
  // Lines and points are both in the order of the program, so one walk finds them all.
  let move = 0;
  return [...begun].flatMap(([label, line]) => {
    while (move < points.length && (points[move]!.line <= line || points[move]!.tip === tipUp)) {
      move += 1;
    }
    if (move === points.length) return [];
    return [{ label, move, seconds: points[Math.max(0, move - 1)]!.at }];
  });
}

/**
 * Roll and parts as they lie on the bed; where the carpet lies face down, each is a mirror image.
 */
function onBed(record: LayRecord, run: RunRecord): Rehearsal['bed'] {
  const labels = new Set(record.placements.map(({ label }) => label));
  const parts = run.parts.filter(({ label }) => labels.has(label)).map(partsAlike());
  const laid = { lay: recordedLay(record), parts };
  const bed = run.cutter.face === 'down' ? faceDown(laid.lay, parts) : laid;
  return {
    roll: recordedRoll(bed.lay, run),
    parts: bed.parts.map((part) => picturedPart(part, record.turns, { next: [], neighbours: [] })),
    placements: bed.lay.placements,
  };
}

/**
 * Packs a rehearsal into one block of bytes. It begins with the length of the head in bytes (uint32)
 * and the head as JSON, with its parts packed and with spaces behind it, so that the numbers begin at a
 * multiple of 8. Then come `count` numbers each of x, y and at (float32), of line (uint32) and of tip
 * (bytes). All are little-endian.
 */
export function rehearsalBody(head: Rehearsal, { points }: Pick<Rehearsed, 'points'>): ArrayBuffer {
  const { bed } = head;
  const packed = { ...head, bed: { ...bed, parts: packParts(bed.parts) } };
  const json = new TextEncoder().encode(JSON.stringify(packed));
  const begin = Math.ceil((4 + json.length) / 8) * 8;
  const count = points.length;
  const body = new ArrayBuffer(begin + 17 * count);
  const bytes = new Uint8Array(body);
  new DataView(body).setUint32(0, begin - 4, true);
  bytes.fill(0x20, 4, begin);
  bytes.set(json, 4);
  const [x, y, at] = [0, 1, 2].map((k) => new Float32Array(body, begin + 4 * k * count, count));
  const line = new Uint32Array(body, begin + 12 * count, count);
  const tip = new Uint8Array(body, begin + 16 * count, count);
  for (const [i, point] of points.entries()) {
    x![i] = point.x;
    y![i] = point.y;
    at![i] = point.at;
    line[i] = point.line;
    tip[i] = point.tip;
  }
  return body;
}
