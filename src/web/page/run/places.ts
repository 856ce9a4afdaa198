/** Where somebody works on a run, with what each place is called. */
export const places = [
  ['orders', 'Orders'],
  ['rolls', 'Rolls'],
  ['lay', 'Lay'],
  ['cutting', 'Cutting'],
  ['papers', 'Papers'],
  ['rehearsal', 'Rehearsal'],
] as const;

export type PlaceName = (typeof places)[number][0];

/** The place that an address names; the first one where it names none. */
export function placeNamed(word: string): PlaceName {
  return places.find(([name]) => name === word)?.[0] ?? 'orders';
}

/** The place that most people go to next, and what it is called; null behind the last one. */
export function placeAfter(name: PlaceName): (typeof places)[number] | null {
  return places[places.findIndex(([one]) => one === name) + 1] ?? null;
}
