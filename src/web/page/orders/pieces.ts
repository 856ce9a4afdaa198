import type { Order } from '../../../handing/order.ts';
import type { SetCard } from '../../api/shop.ts';

type Selection = Pick<Order, 'alone' | 'without'>;
type Named = Pick<SetCard, 'pieces' | 'groups'>;

/**
 * The pieces that an order wants of its set. null: it names parts of pieces, such as one side of a pair,
 * and no list of pieces says that.
 */
export function wantedPieces({ alone, without }: Selection, set: Named): string[] | null {
  const all = new Set(set.pieces);
  const piecesOf = (names: readonly string[]): string[] =>
    names.flatMap((name) => set.groups[name] ?? [name]);
  const named = [...piecesOf(alone ?? []), ...piecesOf(without ?? [])];
  if (!named.every((name) => all.has(name))) return null;
  const left = new Set(piecesOf(without ?? []));
  const only = alone === undefined ? all : new Set(piecesOf(alone));
  return set.pieces.filter((name) => only.has(name) && !left.has(name));
}

/**
 * Whether an order wants a part with a heel pad on it or the pad by its own name. Where a pad goes with one
 * side of a pair, that of the driver alone counts if the order wants pads for the driver.
 */
export function hasPad(
  order: Pick<Order, 'alone' | 'without' | 'hand' | 'heelPads'>,
  { pads, groups }: Pick<SetCard, 'pads' | 'groups'>,
): boolean {
  const { alone, without = [], hand, heelPads } = order;
  if (heelPads === 'none') return false;
  const driver = hand === 'RHD' ? 'right' : 'left';
  const other = hand === 'RHD' ? 'left' : 'right';
  const ends = heelPads === 'both' ? [driver, other] : [driver];
  const named = (names: readonly string[]): ReadonlySet<string> =>
    new Set(names.flatMap((name) => groups[name] ?? [name]));
  const [only, left] = [named(alone ?? []), named(without)];
  return pads.some(({ piece, side }) => {
    const sides = {
      centre: [''],
      pair: ends,
      driver: [driver],
      passenger: heelPads === 'both' ? [other] : [],
      left: ends.filter((end) => end === 'left'),
      right: ends.filter((end) => end === 'right'),
    }[side];
    return sides.some((end) => {
      const names =
        end === '' ? [piece, `${piece}-pad`] : [piece, `${piece}-${end}`, `${piece}-pad-${end}`];
      const isIn = (list: ReadonlySet<string>): boolean => names.some((name) => list.has(name));
      return (alone === undefined || isIn(only)) && !isIn(left);
    });
  });
}

/** More groups than these are not tried together; the words for a choice may then be longer than they need be. */
const mostGroups = 7;

/**
 * What an order says to get these pieces of its set and no others, with as few names as there can be:
 * nothing, those that it wants, those that it leaves out, or both. Names of groups count as one.
 */
export function selectionOf(wanted: readonly string[], set: Named): Selection {
  const target = new Set(wanted);
  const rest = set.pieces.filter((name) => !target.has(name));
  if (rest.length === 0) return {};
  const groups = Object.entries(set.groups).slice(0, mostGroups);
  const options: Selection[] = [{ without: namesFor(rest, groups) }];
  for (const chosen of someOf(groups)) {
    const covered = new Set(chosen.flatMap(([, pieces]) => pieces));
    const alone = [
      ...chosen.map(([name]) => name),
      ...set.pieces.filter((name) => target.has(name) && !covered.has(name)),
    ];
    if (alone.length === 0) continue;
    const without = namesFor(
      rest.filter((name) => covered.has(name)),
      groups.filter(([, pieces]) => !pieces.some((name) => target.has(name))),
    );
    options.push({ alone, ...(without.length === 0 ? {} : { without }) });
  }
  const count = ({ alone = [], without = [] }: Selection): number => alone.length + without.length;
  // Of two that are as long, what is wanted is easier to read than what is not.
  const rank = (one: Selection): number => 2 * count(one) + (one.without === undefined ? 0 : 1);
  return options.reduce((best, one) => (rank(one) < rank(best) ? one : best));
}

type Group = [name: string, pieces: readonly string[]];

/** The fewest names of groups and pieces that stand for these pieces and for no other. */
function namesFor(pieces: readonly string[], groups: readonly Group[]): string[] {
  const target = new Set(pieces);
  const fitting = groups.filter(([, members]) => members.every((name) => target.has(name)));
  const lists = someOf(fitting).map((chosen) => {
    const covered = new Set(chosen.flatMap(([, members]) => members));
    return [...chosen.map(([name]) => name), ...pieces.filter((name) => !covered.has(name))];
  });
  return lists.reduce((best, one) => (one.length < best.length ? one : best));
}

/** Every choice of some of these, none and all included. */
function someOf(groups: readonly Group[]): Group[][] {
  return groups.reduce<Group[][]>(
    (choices, group) => choices.concat(choices.map((one) => [...one, group])),
    [[]],
  );
}
