import type { Finding } from '../../base/findings.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { recordedContour } from '../record/figures.ts';
import type { LayRecord, OrderRecord, PartRecord, RunRecord } from '../record/run-record.ts';
import { recordedName } from '../record/run-record.ts';
import { fault } from './faults.ts';

/**
 * Faults if what run.json says of the run as a whole does not agree: each lay with its material and its
 * cutter, orders with their sets, and inputs with what must have been read.
 */
export function runFaults(run: RunRecord, file: string): Finding[] {
  const found = [
    ...run.lays.flatMap((lay) => [...figureFaults(lay, run), ...ruleFaults(lay, run)]),
    ...run.orders.flatMap((order) => orderFaults(order, run)),
    ...repeated(run.orders.map(({ order }) => order)).map((order): RunFault => [
      'order',
      `there are two orders ${order}.`,
    ]),
    ...repeated(run.materials.map(({ name }) => name)).map((name): RunFault => [
      'material',
      `there are two materials ${name}.`,
    ]),
    ...seedFaults(run),
    ...inputFaults(run),
    ...recutFaults(run),
  ];
  return found.map(([rule, message]) => fault(rule, message, { file }));
}

type RunFault = readonly [rule: string, message: string];

function repeated(names: readonly string[]): string[] {
  return [...new Set(names.filter((name, i) => names.indexOf(name) !== i))];
}

/** How much a length of six decimals may be off, mm. */
const sameLength = 1e-5;
/** How much the density of a lay may be off: it has six decimals, and so have the areas behind it. */
const sameDensity = 5e-6;

/** The figures of a lay that follow from others. */
function figureFaults(lay: LayRecord, { parts }: RunRecord): RunFault[] {
  const name = recordedName(lay);
  const faults: RunFault[] = [];
  const usable = lay.rollWidth - 2 * lay.selvedge;
  if (Math.abs(usable - lay.usableWidth) > sameLength) {
    faults.push([
      'lay-width',
      `${lay.usableWidth} mm of ${name} are said to be usable; width and selvedge leave ${usable}.`,
    ]);
  }
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const area = lay.placements.reduce((sum, { label }) => {
    const part = byLabel.get(label);
    return sum + (part === undefined ? 0 : clothOf(part));
  }, 0);
  const density = area / (lay.length * lay.usableWidth);
  if (lay.length > 0 && Math.abs(density - lay.density) > sameDensity) {
    faults.push([
      'density',
      `the density of ${name} is said to be ${lay.density}; its parts make it ${density.toFixed(6)}.`,
    ]);
  }
  if (lay.rollLength !== null && lay.length > lay.rollLength + sameLength) {
    faults.push(['lay-length', `the lay of ${name} is longer than its roll.`]);
  }
  return faults;
}

/** Area of a part without what is cut out of it, mm2. */
function clothOf({ cutArea, inner }: PartRecord): number {
  return inner.reduce((rest, { contour }) => rest - areaOf(recordedContour(contour)), cutArea);
}

/** The rules of a lay are those of its material and its cutter. */
function ruleFaults(lay: LayRecord, { cutter, materials }: RunRecord): RunFault[] {
  const name = recordedName(lay);
  const material = materials.find((one) => one.name === lay.material);
  if (material === undefined) {
    return [['material', `run.json says nothing of the material of ${name}.`]];
  }
  const pairs: [what: string, of: string, own: unknown, right: unknown][] = [
    ['turns', material.name, lay.turns, material.turns],
    ['gap', material.name, lay.gap, material.gap],
    ['thickness', material.name, lay.thickness, material.thickness],
    ['length of the bed', cutter.name, lay.biteLength, cutter.bed.length],
    ['overlap of joins', cutter.name, lay.joinOverlap, cutter.bed.joinOverlap ?? null],
  ];
  const faults = pairs
    .filter(([, , own, right]) => own !== right)
    .map(([what, of, own, right]): RunFault => [
      'lay-rules',
      `${name} is laid with ${String(own)} as the ${what}; ${of} has ${String(right)}.`,
    ]);
  return [...faults, ...biteFaults(lay, cutter)];
}

/** Bites follow each other along the roll, and lead-ins go straight along it. */
function biteFaults(lay: LayRecord, { knife, bed }: RunRecord['cutter']): RunFault[] {
  const name = recordedName(lay);
  const faults: RunFault[] = [];
  const starts = lay.bites.map(({ start }) => start);
  const isRising = starts.every(
    (start, i) => i === 0 || (start > starts[i - 1]! && start < starts[i - 1]! + bed.length),
  );
  if (!isRising && lay.joinOverlap === null && starts.length > 0) {
    const isForward = starts.every((start, i) => i === 0 || start > starts[i - 1]!);
    if (!isForward) faults.push(['bites', `the bites of ${name} do not follow each other.`]);
  }
  const leadIn = knife.kind === 'trailing' ? knife.leadIn : undefined;
  for (const [i, bite] of lay.bites.entries()) {
    if ((bite.leadIn === null) !== (leadIn === undefined)) {
      faults.push([
        'lead-in',
        `bite ${i + 1} of ${name} has ${bite.leadIn === null ? 'no' : 'a'} lead-in.`,
      ]);
      continue;
    }
    if (bite.leadIn === null || leadIn === undefined) continue;
    const [[x, y], [toX, toY]] = bite.leadIn;
    if (Math.abs(toY - y) <= sameLength && Math.abs(toX - x - leadIn) <= sameLength) continue;
    faults.push([
      'lead-in',
      `the lead-in of bite ${i + 1} of ${name} does not go ${leadIn} mm along the roll.`,
    ]);
  }
  return faults;
}

/** Every set of an order is there, and all have the same parts. A recut has some parts alone. */
function orderFaults({ order, quantity }: OrderRecord, run: RunRecord): RunFault[] {
  if (run.recutOf !== null) return [];
  const namesOf = (set: number): string =>
    run.parts
      .filter((part) => part.order === order && part.set === set)
      .map(({ name }) => name)
      .toSorted()
      .join(', ');
  const first = namesOf(1);
  if (first === '') return [['order', `order ${order} has no parts.`]];
  return Array.from({ length: quantity }, (_, i) => i + 1)
    .filter((set) => namesOf(set) !== first)
    .map((set): RunFault => [
      'order',
      `set ${set} of order ${order} does not have the parts of set 1.`,
    ]);
}

/** All lays of a run are searched for from one seed. */
function seedFaults({ lays }: RunRecord): RunFault[] {
  const seeds = new Set(lays.map(({ seed }) => seed));
  return seeds.size < 2 ? [] : [['seed', `the lays have the seeds ${[...seeds].join(', ')}.`]];
}

/**
 * The inputs are named by their way from the run file, each once, and what the record is about is among
 * them. A recut reads none.
 */
function inputFaults({ inputs, recutOf, cutter, orders, lays, bench }: RunRecord): RunFault[] {
  const files = inputs.map(({ file }) => file);
  const odd = files.filter((file) => /^\/|\\|\/\/|\/$|^\s|\s$|\p{Cc}/u.test(file));
  const faults = [
    ...odd.map((file): RunFault => ['input', `"${file}" does not name a file from the run file.`]),
    ...repeated(files).map((file): RunFault => ['input', `the input ${file} stands there twice.`]),
  ];
  if (recutOf !== null) {
    return inputs.length === 0 ? faults : [...faults, ['input', 'a recut reads no inputs.']];
  }
  const needed = new Set([
    `cutters/${cutter.name}.yaml`,
    ...lays.map(({ material }) => `materials/${material}.yaml`),
    ...orders.map(({ set }) => `${set}/set.yaml`),
    ...orders.flatMap(({ edge }) =>
      edge?.finish === undefined ? [] : [`bindings/${edge.finish}.yaml`],
    ),
    ...(bench === undefined ? [] : ['bench.yaml']),
  ]);
  const missing = [...needed].filter(
    (name) => !files.some((file) => file === name || file.endsWith(`/${name}`)),
  );
  if (missing.length > 0) {
    faults.push(['input', `these inputs are not named: ${missing.join(', ')}.`]);
  }
  return faults;
}

/** The fingerprint of the run that is cut again looks like one. */
function recutFaults({ recutOf }: RunRecord): RunFault[] {
  if (recutOf === null || /^[0-9a-f]{12}$/.test(recutOf.fingerprint)) return [];
  return [['fingerprint', `"${recutOf.fingerprint}" is no fingerprint of the first run.`]];
}
