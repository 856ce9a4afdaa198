import { counted } from '../base/wording.ts';
import type { Comparable } from './comparable.ts';
import type { Difference } from './difference.ts';
import { difference, theWhole } from './difference.ts';
import { factWords } from './fact-words.ts';
import { matterOf } from './ranks.ts';
import { factChange } from './word-differences.ts';

/** Facts by which a machine is another one, the gravest first. */
const telling = [
  'cutter.face',
  'face',
  'cutter.program.units',
  'units',
  'cutter.knife.kind',
  'knife',
  'height',
  'travel height',
  'feed',
  'plunge feed',
  'cutter.heights.cut',
  'cutter.heights.travel',
  'cutter.feeds.cut',
  'cutter.feeds.plunge',
];

/**
 * Of two inputs that are for different machines: that difference in one, with the facts on which most hangs, in place
 * of one for each fact of the machine. All others stay; but what a lay owes to its machine is told by the machine.
 */
export function withOneMachine(
  differences: readonly Difference[],
  { kind }: Pick<Comparable, 'kind'>,
): Difference[] {
  const found = withoutBed(differences);
  const own = found.filter((one) => one.label === null && isOfMachine(one));
  const name = own.find(({ fact }) => fact!.name === 'cutter.name' || fact!.name === 'machine');
  if (name === undefined) return found;
  const { was, is } = name.fact!;
  const facts = telling.flatMap((key) => own.find(({ fact }) => fact!.name === key)?.fact ?? []);
  const words = facts.map((fact) => `; ${factWords(fact.name)} ${factChange(fact)}`);
  const others = own.length - facts.length - 1;
  const more = others > 0 ? `; ${counted(others, 'more fact')} of it differ` : '';
  const verb = kind === 'run' ? 'it is cut on' : 'it is for';
  const message = `${verb} another machine, ${is ?? 'nobody says which'} in place of ${was ?? 'one that nobody names'}${words.join('')}${more}.`;
  const told = difference('machine', theWhole, message, { times: own.length, fact: name.fact });
  return [told, ...found.filter((one) => !own.includes(one))];
}

/** What a lay says of the bed follows from the bed. */
function withoutBed(differences: readonly Difference[]): Difference[] {
  const isBed = differences.some(({ fact }) => fact?.name.startsWith('cutter.bed.'));
  const follows = /^roll .*\.(?:biteLength|joinOverlap)$/;
  return differences.filter(({ fact }) => !(isBed && fact !== null && follows.test(fact.name)));
}

function isOfMachine(one: Difference): boolean {
  const { fact } = one;
  if (fact === null) return false;
  if (fact.name.startsWith('cutter.')) return true;
  return !fact.name.includes('.') && matterOf(one) === 'machine';
}
