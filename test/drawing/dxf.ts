/** Small DXF texts for tests, from tags. */

export type Tag = readonly [code: number, value: string | number];

export interface DxfParts {
  readonly header?: readonly Tag[];
  readonly tables?: readonly (readonly Tag[])[];
  readonly blocks?: readonly (readonly Tag[])[];
  readonly entities: readonly (readonly Tag[])[];
}

export function dxf({ header = [], tables = [], blocks = [], entities }: DxfParts): string {
  const sections: [string, readonly Tag[]][] = [
    ['HEADER', header],
    ['TABLES', tables.flat()],
    ['BLOCKS', blocks.flat()],
    ['ENTITIES', entities.flat()],
  ];
  return lines(sections.flatMap(([name, inside]) => section(name, inside)).concat([[0, 'EOF']]));
}

function section(name: string, inside: readonly Tag[]): Tag[] {
  return [[0, 'SECTION'], [2, name], ...inside, [0, 'ENDSEC']];
}

export function lines(tags: readonly Tag[]): string {
  return tags.map(([code, value]) => `${code}\n${value}\n`).join('');
}

export const inMm: readonly Tag[] = [
  [9, '$INSUNITS'],
  [70, 4],
];

export function block(
  name: string,
  entities: readonly (readonly Tag[])[],
  base: readonly [number, number] = [0, 0],
): Tag[] {
  return [
    [0, 'BLOCK'],
    [8, '0'],
    [2, name],
    [70, 0],
    [10, base[0]],
    [20, base[1]],
    ...entities.flat(),
    [0, 'ENDBLK'],
    [8, '0'],
  ];
}

export function insert(name: string, x: number, y: number, more: readonly Tag[] = []): Tag[] {
  return [[0, 'INSERT'], [8, 'OUTLINE'], [2, name], [10, x], [20, y], ...more];
}

export function line(x1: number, y1: number, x2: number, y2: number, layer = 'OUTLINE'): Tag[] {
  return [
    [0, 'LINE'],
    [8, layer],
    [10, x1],
    [20, y1],
    [11, x2],
    [21, y2],
  ];
}

export function arc(
  centre: readonly [number, number],
  radius: number,
  from: number,
  to: number,
  more: readonly Tag[] = [],
): Tag[] {
  const [x, y] = centre;
  return [
    [0, 'ARC'],
    [8, 'OUTLINE'],
    [10, x],
    [20, y],
    [40, radius],
    [50, from],
    [51, to],
    ...more,
  ];
}

/** Vertices are x, y and bulge. */
export function lwpolyline(
  vertices: readonly (readonly [number, number, number])[],
  closed: boolean,
  more: readonly Tag[] = [],
): Tag[] {
  return [
    [0, 'LWPOLYLINE'],
    [8, 'OUTLINE'],
    [90, vertices.length],
    [70, closed ? 1 : 0],
    ...vertices.flatMap(([x, y, bulge]): Tag[] => [
      [10, x],
      [20, y],
      [42, bulge],
    ]),
    ...more,
  ];
}

/** Vertices are x, y and bulge. */
export function polyline(
  vertices: readonly (readonly [number, number, number])[],
  flags: number,
  more: readonly Tag[] = [],
): Tag[] {
  return [
    [0, 'POLYLINE'],
    [8, 'OUTLINE'],
    [66, 1],
    [70, flags],
    ...more,
    ...vertices.flatMap(([x, y, bulge]): Tag[] => [
      [0, 'VERTEX'],
      [8, 'OUTLINE'],
      [10, x],
      [20, y],
      [42, bulge],
    ]),
    [0, 'SEQEND'],
    [8, 'OUTLINE'],
  ];
}

export const fromBelow: readonly Tag[] = [
  [210, 0],
  [220, 0],
  [230, -1],
];

/** A TEXT, 10 high where nothing else is said. */
export function text(words: string, x: number, y: number, height = 10, layer = 'TEXTS'): Tag[] {
  return [
    [0, 'TEXT'],
    [8, layer],
    [10, x],
    [20, y],
    [40, height],
    [1, words],
  ];
}

/** The same entity on another layer. */
export function onLayer(entity: readonly Tag[], layer: string): Tag[] {
  return entity.map((tag): Tag => (tag[0] === 8 ? [8, layer] : tag));
}

/** The right half of a trapezium of 400 and 300 over 300, mirrored at x = 0, on the numbered layer of outlines. */
export const halfTrapezium: Tag[] = onLayer(
  lwpolyline(
    [
      [0, 0, 0],
      [200, 0, 0],
      [150, 300, 0],
      [0, 300, 0],
    ],
    true,
  ),
  '1',
);
