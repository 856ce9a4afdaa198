import { capital, counted, listed, lengthWords } from '../../../base/wording.ts';
import type { CutStep, StepTick } from '../../api/cut-steps.ts';
import { biteInStep, bitesCut } from '../../api/cut-steps.ts';
import type { BiteWork, MachineCard, RollWork } from '../../api/cutting.ts';
import type { PicturedLay, PicturedRoll } from '../../api/pictured.ts';

/** A roll at the machine: what the words of its steps are made of. */
export interface RollAtMachine {
  /** What its files are called by. */
  readonly key: string;
  readonly roll: PicturedRoll;
  readonly lay: PicturedLay;
  readonly work: RollWork;
  readonly machine: MachineCard;
  /** mm that are left of it, and the name that it is kept by; null: nothing can be booked. */
  readonly rest: { readonly name: string; readonly length: number } | null;
}

/** What is said of a step. */
interface StepWords {
  /** In the ladder of all steps. */
  readonly name: string;
  readonly title: string;
  /** What is to be done, the most important first. */
  readonly lines: readonly string[];
  /** What is said by ticking it: the words of the button. */
  readonly done: string;
}

/** What the operator is told of a step, as the sheet says it. */
export function stepWords(step: CutStep, at: RollAtMachine): StepWords {
  const bite = biteInStep(step);
  if (bite !== null) return biteWords(bite, at);
  return wordsOf[step as keyof typeof wordsOf](at);
}

const wordsOf = {
  load: (at) => ({
    name: 'Roll on',
    title: `Load ${at.key}`,
    lines: loadLines(at),
    done: 'The roll is on',
  }),
  dry: ({ key }) => ({
    name: 'Dry program',
    title: 'Run the dry program',
    lines: [
      `Load ${key}.dry.nc and run it: the knife stays up.`,
      'Watch that the knife stays above the roll all the way, and that nothing is in its way.',
    ],
    done: 'It ran clean',
  }),
  labels: ({ lay }) => ({
    name: 'Labels on',
    title: 'Put the labels on',
    lines: [
      `${counted(lay.placements.length, 'part')} of this roll, each with its own label.`,
      'The labels stand in the order in which the parts were cut.',
    ],
    done: 'All labels are on',
  }),
  parts: ({ lay }) => ({
    name: 'All parts there',
    title:
      lay.placements.length === 1
        ? 'Is the part there?'
        : `Are all ${lay.placements.length} parts there?`,
    lines: ['Count them. Click what is spoilt or lost: it is cut again.'],
    done:
      lay.placements.length === 1
        ? 'The part is there'
        : `All ${lay.placements.length} parts are there`,
  }),
  rest: ({ rest, machine }) => ({
    name: 'Rest booked',
    title: 'Book what is left',
    lines:
      rest === null
        ? []
        : [
            `${lengthWords(machine.inches).mm(rest.length)} of ${rest.name} are left, from a square cut behind the last part on, and less what was cut again from it.`,
            'It is kept in shared/rolls.yaml for the next run.',
          ],
    done:
      rest === null
        ? 'Done'
        : `Book ${lengthWords(machine.inches).mm(rest.length)} of ${rest.name}`,
  }),
} satisfies Record<string, (at: RollAtMachine) => StepWords>;

/** Which way up the roll is loaded, and where it begins. */
function loadLines({ work: { pile, side }, machine: { face } }: RollAtMachine): string[] {
  const up = `${capital(side)} up.`;
  const down = `${capital(side)} on the bed, the back up.`;
  const leans = {
    'one-way': 'The pile leans from the start of the roll towards its end.',
    'two-way': 'The pile leans along the roll, either way.',
    any: '',
  };
  return [
    face === 'up' ? up : `${down} Pictures show it so: mirrored.`,
    pile === null ? '' : leans[pile],
    'The start of the roll, its loose end, on X 0; its edge on Y 0, square to the bed.',
  ].filter((line) => line !== '');
}

function biteWords(number: number, at: RollAtMachine): StepWords {
  const { work } = at;
  const of = work.bites.length;
  const name = of === 1 ? 'The cut' : `Bite ${number}`;
  return {
    name,
    title: of === 1 ? 'Cut the roll' : `Cut bite ${number} of ${of}`,
    lines: [
      ...beginLines(number, at),
      partLine(number, work),
      ...markLine(work.bites[number - 1]!),
    ],
    done: of === 1 ? 'The roll is cut' : `Bite ${number} is cut`,
  };
}

/** How a bite is begun: the program, the feed, and what the knife is looked for over. */
function beginLines(number: number, { key, work, machine }: RollAtMachine): string[] {
  const { feed, check } = work.bites[number - 1]!;
  const { mm } = lengthWords(machine.inches);
  const start =
    work.bites.length === 1
      ? `Run ${key}.nc.`
      : `Run ${key}.nc, the whole program. It stops before each feed.`;
  // After a mishap nobody knows by the ticks whether it was fed.
  const once = number === 1 ? '' : ', unless it is fed already';
  const fed = feed > 0 ? [`Feed ${mm(Math.round(feed))}${once}.`] : [];
  if (number === 1) return [...fed, start];
  const cross =
    check === null
      ? 'No cross marks this feed: measure it.'
      : `The knife then stands over the cross of bite ${number - 1}, at ${placeWords(check)}. If it does not, mend the feed first.`;
  return [...fed, cross];
}

function markLine({ mark }: BiteWork): string[] {
  return mark === null
    ? []
    : [
        `Last it cuts a cross in the waste, at ${placeWords(mark)}: leave it there, it marks the next feed.`,
      ];
}

function placeWords([x, y]: readonly [number, number]): string {
  return `X ${x.toFixed(0)}, Y ${y.toFixed(0)}`;
}

/** The labels of the parts that come free in a bite, and of those that are cut on in a later one. */
export function partsOfBite(
  number: number,
  { bites }: RollWork,
): { readonly free: readonly string[]; readonly on: readonly string[] } {
  const later = new Set(bites.slice(number).flatMap(({ labels }) => labels));
  const { labels } = bites[number - 1]!;
  return {
    free: labels.filter((label) => !later.has(label)),
    on: labels.filter((label) => later.has(label)),
  };
}

function partLine(number: number, work: RollWork): string {
  const { free, on } = partsOfBite(number, work);
  const out = `${counted(free.length, 'part')} ${free.length === 1 ? 'comes' : 'come'} out.`;
  if (on.length === 0) return out;
  return `${out} Leave ${listed(on)} on the cloth: ${on.length === 1 ? 'it is' : 'they are'} cut on in the next bite.`;
}

/** Bites in a sentence: `Bite 1 is`, `Bites 1 and 2 are`, `Bites 1 to 4 are`. */
function bitesAre(
  bites: readonly number[],
  verbs: readonly [one: string, several: string],
): string {
  const [first = 0, last = first] = [bites[0], bites.at(-1)];
  if (bites.length === 1) return `Bite ${first} ${verbs[0]}`;
  const isRow = bites.length > 2 && last - first === bites.length - 1;
  return `Bites ${isRow ? `${first} to ${last}` : listed(bites.map(String))} ${verbs[1]}`;
}

/** Where a roll is gone on with that was begun before; null: with none of its bites. */
export function beginAgainWords(
  key: string,
  next: CutStep | null,
  ticks: readonly StepTick[],
): string | null {
  const bites = bitesCut(key, ticks);
  const bite = next === null ? null : biteInStep(next);
  if (bites.length === 0 || bite === null) return null;
  return `Begin again with bite ${bite}: ${bitesAre(bites, ['is', 'are']).replace('Bite', 'bite')} cut.`;
}

/** What was ticked of files made before, in a sentence; null: nothing was. */
export function beforeWords(before: readonly StepTick[]): string | null {
  if (before.length === 0) return null;
  const rolls = [...new Set(before.map(({ roll }) => roll))];
  const cut = rolls
    .map((roll) => ({ roll, bites: bitesCut(roll, before) }))
    .filter(({ bites }) => bites.length > 0)
    .map(({ roll, bites }) => `${bitesAre(bites, ['', '']).replace('B', 'b').trim()} of ${roll}`);
  const isOne = cut.length === 1 && !cut[0]!.startsWith('bites');
  return cut.length === 0
    ? `${capital(listed(rolls))} ${rolls.length === 1 ? 'was' : 'were'} loaded for files made before; these are other files.`
    : `${capital(listed(cut))} ${isOne ? 'was' : 'were'} cut from files made before; these are other files.`;
}

/** How many bites are cut of files that somebody is about to make anew; empty: none is. */
export function cutSoFarWords(ticks: readonly StepTick[]): string {
  const cut = ticks.filter(({ step }) => biteInStep(step) !== null).length;
  return cut === 0
    ? ''
    : `${counted(cut, 'bite')} ${cut === 1 ? 'is' : 'are'} cut from them already.`;
}

/** How a roll stands, in a few words for the rack. */
export function rollState({ work }: Pick<RollAtMachine, 'work'>, next: CutStep | null): string {
  if (next === null) return 'done';
  const bite = biteInStep(next);
  if (bite !== null)
    return work.bites.length === 1 ? 'to cut' : `bite ${bite} of ${work.bites.length}`;
  const words = {
    load: 'to load',
    dry: 'loaded',
    labels: 'cut',
    parts: 'cut',
    rest: 'cut, to be booked',
  };
  return words[next as keyof typeof words];
}

/** The lines about a roll that is loaded: what each is, and what it says. */
export function loadFacts({ roll, lay, machine }: RollAtMachine): [string, string][] {
  const lengths = lengthWords(machine.inches);
  const has = roll.length === null ? '' : ` of ${lengths.metresDown(roll.length)}`;
  return [
    ['Material', roll.title],
    ...(roll.colour === null ? [] : [['Colour', roll.colour] as [string, string]]),
    ...(roll.name === null ? [] : [['Roll', roll.name] as [string, string]]),
    ['Dye lot', roll.dyeLot ?? 'not said: note it before you cut'],
    [
      'Width',
      `${lengths.mm(roll.width)}, ${lengths.mm(roll.selvedge)} selvedge at each edge${roll.outline === null ? '' : '; a remnant of its own shape, see the picture'}`,
    ],
    [
      'Needed',
      `${lengths.metresUp(lay.length)}${has}, the first ${lengths.mm(roll.startMargin)} unused`,
    ],
    ['Cutter', machine.title],
    ['Knife', machine.knife],
  ];
}
