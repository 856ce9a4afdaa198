/** What names edges in a set file, as plain data: the content as it is written, or as it is read. */
export interface NamingContent {
  readonly pieces: Readonly<Record<string, HidingEntry>>;
  readonly seams?: readonly { readonly join: readonly [string, string] }[] | undefined;
}

type Hider = string | Readonly<Record<string, string>>;

interface HidingEntry {
  readonly covered?: Hider | undefined;
  readonly tucked?: Hider | undefined;
}

/** A place in a set file that names an edge: the way of keys and indexes to it. */
export interface EdgeReference {
  readonly way: readonly (string | number)[];
  /** Whether it is the key itself, not its value. */
  readonly isKey: boolean;
}

/** The keys of a piece that say for edges by their names what hides them. */
const hiderKeys = ['covered', 'tucked'] as const;

/** Every place of a set file that names an edge of a piece. */
export function edgeReferences(
  content: NamingContent,
  piece: string,
  edge: string,
): EdgeReference[] {
  const entry = content.pieces[piece];
  const keys = hiderKeys.filter((key) => {
    const said = entry?.[key];
    return typeof said === 'object' && Object.hasOwn(said, edge);
  });
  return [
    ...(content.seams ?? []).flatMap(({ join }, i) =>
      join.flatMap((ref, j): EdgeReference[] =>
        ref === `${piece}/${edge}` ? [{ way: ['seams', i, 'join', j], isKey: false }] : [],
      ),
    ),
    ...keys.map((key) => ({ way: ['pieces', piece, key, edge], isKey: true })),
  ];
}

/**
 * The content of a set file after an edge of a piece got another name: `piece/edge` in seams, and its key in
 * `covered` and `tucked`. What the new name already has there stays. Content that names no such edge is given back itself.
 */
export function withEdgeRenamed<T extends NamingContent>(
  content: T,
  piece: string,
  edge: string,
  name: string,
): T {
  if (edge === name || edgeReferences(content, piece, edge).length === 0) return content;
  const seams = content.seams?.map((seam) => ({
    ...seam,
    join: seam.join.map((ref) => (ref === `${piece}/${edge}` ? `${piece}/${name}` : ref)),
  }));
  const renamed = withHiders(content, piece, (said) =>
    Object.fromEntries(
      Object.entries(said)
        .filter(([key]) => key !== edge || !Object.hasOwn(said, name))
        .map(([key, words]) => [key === edge ? name : key, words]),
    ),
  );
  return { ...renamed, ...(seams === undefined ? {} : { seams }) };
}

/**
 * The content of a set file after an edge was cut and a part of it got the name `also`: what hides the edge
 * hides that part. Seams are not changed: they name the part that kept its name.
 */
export function withEdgeSplit<T extends NamingContent>(
  content: T,
  piece: string,
  edge: string,
  also: string,
): T {
  return withHiders(content, piece, (said) =>
    Object.hasOwn(said, edge) && !Object.hasOwn(said, also)
      ? { ...said, [also]: said[edge]! }
      : said,
  );
}

/** The content of a set file after an edge is gone: nothing hides it. Seams that name it stay, and `check` tells of them. */
export function withoutEdge<T extends NamingContent>(content: T, piece: string, edge: string): T {
  return withHiders(content, piece, (said) => {
    const left = Object.entries(said).filter(([key]) => key !== edge);
    return left.length === Object.keys(said).length ? said : Object.fromEntries(left);
  });
}

/** The content with other words for what hides single edges of a piece. A key of which none is left goes. */
function withHiders<T extends NamingContent>(
  content: T,
  piece: string,
  change: (said: Readonly<Record<string, string>>) => Readonly<Record<string, string>>,
): T {
  const entry = content.pieces[piece];
  if (entry === undefined) return content;
  const changed = hiderKeys.flatMap((key) => {
    const said = entry[key];
    if (typeof said !== 'object') return [];
    const now = change(said);
    return now === said ? [] : [[key, now] as const];
  });
  if (changed.length === 0) return content;
  const isLeft = ([, value]: [string, unknown]): boolean =>
    typeof value !== 'object' ||
    value === null ||
    Array.isArray(value) ||
    Object.keys(value).length > 0;
  const next = { ...entry, ...Object.fromEntries(changed) };
  const pairs = Object.entries(next).filter(
    ([key, value]) => !changed.some(([own]) => own === key) || isLeft([key, value]),
  );
  return { ...content, pieces: { ...content.pieces, [piece]: Object.fromEntries(pairs) } };
}
