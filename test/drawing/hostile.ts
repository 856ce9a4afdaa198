import type { Random } from '../support/random.ts';
import { randomFrom } from '../support/random.ts';
import type { Tag } from './dxf.ts';
import { arc, block, dxf, inMm, insert, line, lwpolyline, polyline } from './dxf.ts';

/** Damaged and hostile drawings, each by its seed. */

export interface Hostile {
  readonly bytes: Uint8Array;
  readonly how: string;
  /** Whether the damage cannot be read over: it must be refused. */
  readonly mustRefuse: boolean;
}

const square: readonly (readonly [number, number, number])[] = [
  [0, 0, 0],
  [400, 0, 0.3],
  [400, 300, 0],
  [0, 300, 0],
];

const spline: Tag[] = [
  [0, 'SPLINE'],
  [8, 'MARK'],
  [70, 8],
  [71, 3],
  [72, 8],
  [73, 4],
  ...[0, 0, 0, 0, 1, 1, 1, 1].map((knot): Tag => [40, knot]),
  ...[0, 100, 200, 300].flatMap((x, i): Tag[] => [
    [10, x],
    [20, (i % 2) * 80],
    [30, 0],
  ]),
];

const ellipse: Tag[] = [
  [0, 'ELLIPSE'],
  [8, 'CUTOUT'],
  [10, 200],
  [20, 150],
  [11, 60],
  [21, 0],
  [40, 0.5],
  [41, 0],
  [42, 6.283185307179586],
];

const label: Tag[] = [
  [0, 'TEXT'],
  [8, 'NOTE'],
  [10, 50],
  [20, 50],
  [40, 10],
  [1, 'Piece Name: TUB'],
];

/** A drawing with something of everything. */
export const sound = dxf({
  header: [[9, '$ACADVER'], [1, 'AC1015'], ...inMm],
  tables: [
    [
      [0, 'LAYER'],
      [2, 'OUTLINE'],
      [70, 0],
      [62, 7],
    ],
  ],
  blocks: [
    block('TUB', [lwpolyline(square, true), ellipse, label], [10, 10]),
    block('PAIR', [
      insert('TUB', 0, 0),
      insert('TUB', 900, 0, [
        [41, -1],
        [50, 30],
      ]),
    ]),
  ],
  entities: [
    insert('PAIR', 100, 100, [[42, 1.5]]),
    insert('TUB', 0, 3000, [
      [70, 3],
      [71, 2],
      [44, 600],
      [45, 500],
    ]),
    polyline(square, 1),
    line(5000, 0, 5100, 0),
    line(5000, 100, 5000, 0),
    arc([5000, 0], 100, 0, 90),
    spline,
    [...ellipse],
  ],
});

const file = sound.split('\n').slice(0, -1);

type Mutation = (random: Random) => Hostile;

const mutations: readonly Mutation[] = [
  function truncated(random) {
    // Up to the line before EOF: what ends there has lost its end.
    const cut = random.below(sound.length - 'EOF\n'.length);
    return hostile(sound.slice(0, cut), `cut off after ${cut} characters`, true);
  },
  function deletedLine(random) {
    const at = random.below(file.length);
    return hostile(join(file.toSpliced(at, 1)), `line ${at + 1} deleted`, true);
  },
  function deletedGroup(random) {
    const at = 2 * random.below(file.length / 2);
    return hostile(join(file.toSpliced(at, 2)), `the group at line ${at + 1} deleted`, false);
  },
  function swapped(random) {
    const [a, b] = [random.below(file.length), random.below(file.length)];
    const lineA = file[a]!;
    return hostile(
      join(file.with(a, file[b]!).with(b, lineA)),
      `lines ${a + 1} and ${b + 1} swapped`,
      false,
    );
  },
  function spoiltValue(random) {
    const at = 2 * random.below(file.length / 2) + 1;
    const value = random.pick([
      'NaN',
      'Infinity',
      '1e999',
      '-1',
      '1e300',
      '52O.000',
      '',
      '\0',
      '2147483647',
      '9'.repeat(400),
    ]);
    return hostile(join(file.with(at, value)), `line ${at + 1} is ${value.slice(0, 12)}`, false);
  },
  function spoiltCount(random) {
    const counts = file.flatMap((code, i) =>
      i % 2 === 0 && /^(7[0-4]|90)$/.test(code.trim()) ? [i + 1] : [],
    );
    const at = random.pick(counts);
    return hostile(
      join(file.with(at, random.pick(['99999999', '-7', '0', '123456']))),
      `the count at line ${at + 1} changed`,
      false,
    );
  },
  function spoiltByte(random) {
    const bytes = new TextEncoder().encode(sound);
    const at = random.below(bytes.length);
    bytes[at] = random.below(256);
    return { bytes, how: `byte ${at} changed`, mustRefuse: false };
  },
  function repeatedStretch(random) {
    const from = random.below(file.length);
    const stretch = file.slice(from, from + 1 + random.below(60));
    return hostile(
      join(file.toSpliced(from, 0, ...stretch)),
      `${stretch.length} lines from ${from + 1} twice`,
      false,
    );
  },
  function nested(random) {
    const depth = 2 + random.below(400);
    const blocks = Array.from({ length: depth }, (_, i) =>
      block(`B${i}`, [i + 1 < depth ? insert(`B${i + 1}`, 1, 1) : lwpolyline(square, true)]),
    );
    return hostile(
      dxf({ header: inMm, blocks, entities: [insert('B0', 0, 0)] }),
      `${depth} blocks in each other`,
      depth > 100,
    );
  },
  function looped(random) {
    const size = 1 + random.below(5);
    const blocks = Array.from({ length: size }, (_, i) =>
      block(`B${i}`, [insert(`B${(i + 1) % size}`, 1, 1)]),
    );
    return hostile(
      dxf({ header: inMm, blocks, entities: [insert('B0', 0, 0)] }),
      `${size} blocks in a ring`,
      true,
    );
  },
  function multiplied(random) {
    const depth = 6 + random.below(6);
    const blocks = Array.from({ length: depth }, (_, i) =>
      block(`B${i}`, [
        i + 1 < depth
          ? insert(`B${i + 1}`, 1, 1, [
              [70, 30],
              [71, 30],
              [44, 5],
              [45, 5],
            ])
          : lwpolyline(square, true),
      ]),
    );
    return hostile(
      dxf({ header: inMm, blocks, entities: [insert('B0', 0, 0)] }),
      `arrays ${depth} deep`,
      true,
    );
  },
  function stranger(random) {
    const start = random.pick([
      '\u0089PNG\r\n\u001a\n',
      'PK\u0003\u0004',
      '%PDF-1.7\n',
      'AC1032\0',
      '<svg xmlns="x"/>',
      '',
      ' \n\n',
      '{"a":1}',
      'AutoCAD Binary DXF\r\n\u001a\0',
    ]);
    const noise = Array.from({ length: random.below(200) }, () => random.below(256));
    const bytes = Uint8Array.from([...start].map((sign) => sign.charCodeAt(0)).concat(noise));
    return { bytes, how: `a file that begins with ${JSON.stringify(start)}`, mustRefuse: true };
  },
];

function hostile(text: string, how: string, mustRefuse: boolean): Hostile {
  return { bytes: new TextEncoder().encode(text), how, mustRefuse };
}

function join(all: readonly string[]): string {
  return `${all.join('\n')}\n`;
}

/** The drawing of a seed; kinds of damage take turns. */
export function hostileDrawing(seed: number): Hostile {
  return mutations[seed % mutations.length]!(randomFrom(seed));
}
