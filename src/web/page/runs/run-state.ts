import type { RunCard } from '../../api/shop.ts';
import type { RunGlance } from '../../api/runs.ts';
import { counted, olderWords } from '../words.ts';
import type { PlaceName } from '../run/places.ts';

/** What is to be done with a run next, in the order of the day. */
export type StageOfRun = 'cutting' | 'to-cut' | 'to-prepare' | 'unreadable' | 'cut' | 'away';

/** What each stage is called, in the order in which they are shown. */
export const stages: readonly (readonly [StageOfRun, string])[] = [
  ['cutting', 'On the machine'],
  ['to-cut', 'To cut'],
  ['to-prepare', 'To prepare'],
  ['unreadable', 'Cannot be read'],
  ['cut', 'Cut'],
  ['away', 'Put away'],
];

export function stageOf({ isArchived, findings, folder, cutting }: RunCard): StageOfRun {
  if (isArchived) return 'away';
  if (findings.length > 0) return 'unreadable';
  if (cutting.state === 'cut') return 'cut';
  if (cutting.state === 'begun' || cutting.state === 'before') return 'cutting';
  return folder === null ? 'to-prepare' : 'to-cut';
}

/** How a run stands, in words; `glance` is null as long as it is not known. */
export function stateWords(run: RunCard, glance: RunGlance | null): string {
  const { folder, cutting, isLaid } = run;
  if (folder === null) {
    if (glance?.unlaid === 0) return 'Laid; its files are to be made';
    if (!isLaid) return 'Not laid';
    return glance?.unlaid ? `${counted(glance.unlaid, 'part')} not laid` : 'Laid';
  }
  const older = olderWords(glance?.changes ?? []);
  if (cutting.state === 'cut') return `Cut: ${counted(cutting.of, 'bite')}`;
  if (cutting.state === 'before') return 'Begun with files made before: look at its desk';
  if (older !== null) return older;
  if (cutting.state === 'unknown') return 'What is cut of it cannot be read';
  if (cutting.state === 'begun') return `${cutting.bites} of ${counted(cutting.of, 'bite')} cut`;
  return folder.lays.length === 0 ? 'Its record cannot be read' : 'Files made, not cut';
}

/** Where the work on a run goes on, and what the way there is called; null: it has no run file, only files. */
export function placeToGoOn(run: RunCard): readonly [PlaceName, string] | null {
  if (run.orders === null) return null;
  const stage = stageOf(run);
  if (stage === 'cutting') return ['cutting', 'Go on cutting'];
  if (stage === 'to-cut') return ['cutting', 'Cut it'];
  if (stage === 'to-prepare') return run.isLaid ? ['lay', 'To the lay'] : ['orders', 'Open'];
  return ['orders', 'Open'];
}

/** The first day on which something of a run is due; null: nobody has said. */
export function firstDue({ orders }: Pick<RunCard, 'orders'>): string | null {
  return (orders ?? []).flatMap(({ due }) => due ?? []).toSorted()[0] ?? null;
}

export type RunSorting = 'changed' | 'due' | 'name';

/** Runs in the order that somebody wants; of those without a day that are due, the newest first. */
export function sortedRuns(runs: readonly RunCard[], by: RunSorting): RunCard[] {
  const newest = runs.toSorted((a, b) => compared(b.changed, a.changed));
  if (by === 'name') return newest.toSorted((a, b) => a.title.localeCompare(b.title, 'en'));
  if (by === 'changed') return newest;
  return newest.toSorted((a, b) => compared(firstDue(a) ?? 'none', firstDue(b) ?? 'none'));
}

function compared(a: string, b: string): number {
  return Number(a > b) - Number(a < b);
}

/** The runs in which all words that were typed occur: in their names, orders, customers and sets. */
export function runsLike(runs: readonly RunCard[], typed: string): RunCard[] {
  const words = typed
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  return runs.filter(({ name, title, orders, folder }) => {
    const said = (orders ?? []).flatMap(({ order, set, customer, hand }) => [
      order,
      set,
      customer ?? '',
      hand,
    ]);
    const text = [name, title, folder?.fingerprint ?? '', folder?.recutOf ?? '', ...said];
    return words.every((word) => text.join(' ').toLowerCase().includes(word));
  });
}
