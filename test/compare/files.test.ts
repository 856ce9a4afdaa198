import { mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { basename, join, relative } from 'node:path';
import * as fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Comparison } from '../../src/compare/compare.ts';
import { compareFiles } from '../../src/compare/compare.ts';
import { overlayPicture } from '../../src/papers/pictures/compare/overlay.ts';
import { comparisonLines } from '../../src/compare/table.ts';
import { cut } from '../../src/jobs/cut.ts';
import type { Entity } from '../../src/drawing/drawing.ts';
import { writeR12 } from '../../src/drawing/writing/write-r12.ts';
import { Refusal } from '../../src/base/findings.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { circle } from '../../src/geometry/paths/path.ts';
import { transformPath, translation } from '../../src/geometry/paths/transform.ts';
import type { RunRecord } from '../../src/program/record/run-record.ts';
import { elementsIn, readMarkup, textOf } from '../papers/markup.ts';
import type { Random } from '../support/random.ts';
import { randomFrom } from '../support/random.ts';
import {
  drawingFile,
  drawingText,
  inFolder,
  openWorkshop,
  replaced,
  runFile,
  setFile,
  wren,
  wrenBlocks,
} from '../support/wren.ts';
import { dxf, lwpolyline, onLayer } from '../drawing/dxf.ts';
import { drawnOtherwise, handedOutline } from './shapes.ts';

const { root, close } = openWorkshop(wren);
const run = join(root, 'out/week');

beforeAll(async () => {
  const sharedFolder = join(root, 'shared');
  await cut({ runFile: join(root, runFile), sharedFolder, out: run, force: false });
});

afterAll(close);

function compared(before: string, after: string, tolerance = 0.01): Comparison {
  return compareFiles(before, after, {
    tolerance,
    map: new Map(),
    sharedFolder: join(root, 'shared'),
  }).comparison;
}

/** The lines that tell differences: in capitals what has become of what. */
function linesIn(lines: readonly string[]): string[] {
  return lines.filter((line) => /^[A-Z]{3,} {2}/.test(line));
}

let count = 0;
/** A file of the workshop with this in it. */
function written(text: string, ending: string): string {
  const file = join(root, `file-${count++}.${ending}`);
  writeFileSync(file, text);
  return file;
}

function kindsOf({ differences }: Comparison): string[] {
  return differences.map(({ kind }) => kind);
}

function refusal(step: () => unknown): string {
  try {
    step();
  } catch (error) {
    expect(error).toBeInstanceOf(Refusal);
    return (error as Refusal).message;
  }
  throw new Error('nothing was refused');
}

const seed = fc.integer({ min: 0, max: 2 ** 31 });

interface DrawnPart {
  readonly name: string;
  readonly outline: Path;
  readonly hole: Path;
}

function someParts(random: Random): DrawnPart[] {
  return Array.from({ length: 4 }, (_, i) => {
    const outline = transformPath(translation({ x: 4000 * i, y: 0 }), handedOutline(random));
    const { x, y } = outline.vertices[0]!;
    return { name: `part-${i}`, outline, hole: circle({ x: x + 90, y: y + 90 }, 15) };
  });
}

/** As a drawing whose outlines are loose lines and arcs in any order, or whole. */
function drawingOf(parts: readonly DrawnPart[], random: Random, loose: boolean): string {
  const entities = parts.flatMap(({ name, outline, hole }): Entity[] => {
    const { x, y } = outline.vertices[0]!;
    const sides = outline.vertices.map((v, i): Path => {
      const next = outline.vertices[(i + 1) % outline.vertices.length]!;
      return { closed: false, vertices: [v, { x: next.x, y: next.y, bulge: 0 }] };
    });
    const drawn = loose ? sides : [drawnOtherwise(outline, random)];
    return [
      ...drawn.map((path): Entity => ({ kind: 'path', layer: 'OUTER', line: 0, path })),
      { kind: 'path', layer: 'INNER', line: 0, path: hole },
      {
        kind: 'text',
        layer: 'LABEL',
        line: 0,
        at: { x: x + 60, y: y + 60 },
        text: name,
        height: 10,
        deg: 0,
      },
    ];
  });
  const ordered = entities
    .map((entity) => ({ entity, key: random.below(1e9) }))
    .sort((a, b) => a.key - b.key)
    .map(({ entity }) => entity);
  const layers = ['OUTER', 'INNER', 'LABEL'].map((name) => ({ name, colour: 7 }));
  return writeR12({ layers, entities: ordered });
}

describe('two drawings', () => {
  it('are equal where one is loose lines in any order and the other begins its outlines elsewhere', () => {
    fc.assert(
      fc.property(seed, (n) => {
        const parts = someParts(randomFrom(n));
        const [a, b] = [true, false].map((loose) =>
          written(drawingOf(parts, randomFrom(n + 1), loose), 'dxf'),
        );
        expect(compared(a!, b!).differences).toEqual([]);
      }),
      { numRuns: 15 },
    );
  });

  it('are equal where two layers have one outline, whichever stands first', () => {
    const layers = ['CUT', 'OUTLINE'].map((name) => ({ name, colour: 7 }));
    const files = [layers, layers.toReversed()].map((inTurn) => {
      const entities = inTurn.map(({ name }): Entity => ({
        kind: 'path',
        layer: name,
        line: 0,
        path: circle({ x: 90, y: 40 }, 30),
      }));
      return written(writeR12({ layers, entities }), 'dxf');
    });
    expect(compared(files[0]!, files[1]!).differences).toEqual([]);
  });

  it('differ by what was changed in one of them, under the name of the part', () => {
    fc.assert(
      fc.property(seed, fc.constantFrom('moved', 'outline', 'removed', 'detail'), (n, kind) => {
        const parts = someParts(randomFrom(n));
        const k = randomFrom(n + 1).below(4);
        const change = (part: DrawnPart): DrawnPart[] => {
          const move = (path: Path): Path => transformPath(translation({ x: 12, y: 5 }), path);
          switch (kind) {
            case 'moved':
              return [{ ...part, outline: move(part.outline), hole: move(part.hole) }];
            case 'outline':
              return [
                {
                  ...part,
                  outline: {
                    ...part.outline,
                    vertices: part.outline.vertices.map((v, i) =>
                      i === 4 ? { ...v, y: v.y + 3 } : v,
                    ),
                  },
                },
              ];
            case 'detail':
              return [{ ...part, hole: move(part.hole) }];
            default:
              return [];
          }
        };
        const after = parts.flatMap((part, i) => (i === k ? change(part) : [part]));
        const [a, b] = [parts, after].map((some, i) =>
          written(drawingOf(some, randomFrom(n + i), true), 'dxf'),
        );
        const found = compared(a!, b!).differences;
        expect(found.map((one) => [one.kind, one.label])).toEqual([[kind, `part-${k}`]]);
      }),
      { numRuns: 20 },
    );
  });

  it('in blocks are compared block by block', () => {
    const before = written(drawingText(wrenBlocks()), 'dxf');
    const blocks = wrenBlocks().map((block) =>
      block.name === 'REST'
        ? { ...block, entities: block.entities.filter(({ layer }) => layer !== 'HOLE') }
        : block,
    );
    const after = written(drawingText(blocks), 'dxf');
    expect(compared(before, after).differences.map(({ kind, label }) => [kind, label])).toEqual([
      ['detail', 'REST'],
    ]);
  });
});

describe('two drawings in different units', () => {
  /** A tub with a hole, its numbers as if drawn in these units, each mm so many of them. */
  const tub = (insUnits: number, perMm: number, holeAt = 100): string => {
    const corners = [
      [0, 0],
      [500, 0],
      [500, 300],
      [0, 300],
    ].map(([x, y]) => [x! * perMm, y! * perMm, 0] as const);
    const square = [
      [holeAt, 100],
      [holeAt + 40, 100],
      [holeAt + 40, 140],
      [holeAt, 140],
    ].map(([x, y]) => [x! * perMm, y! * perMm, 0] as const);
    const words = dxf({
      header: [
        [9, '$INSUNITS'],
        [70, insUnits],
      ],
      entities: [
        onLayer(lwpolyline(corners, true), 'OUTLINE'),
        onLayer(lwpolyline(square, true), 'CUTOUT'),
      ],
    });
    return written(words, 'dxf');
  };
  const [mm, inches] = [4, 1];
  const words = (a: string, b: string): string[] =>
    compared(a, b).differences.map(({ message }) => message);

  it('of the same size are not called equal', () => {
    expect(words(tub(mm, 1), tub(inches, 1 / 25.4))).toEqual([
      'the unit of length in the drawing was "mm" and is "in".',
    ]);
    expect(words(tub(mm, 1), tub(mm, 1, 100.001))).toEqual([]);
  });

  it('of the same numbers are told by the factor, and what differs besides', () => {
    expect(words(tub(mm, 1), tub(inches, 1))).toEqual([
      expect.stringContaining('everything is 25.4 times as large'),
      'the unit of length in the drawing was "mm" and is "in".',
    ]);
    expect(words(tub(inches, 1), tub(mm, 1))[0]).toContain('everything is 25.4 times smaller');
    const moved = compared(tub(mm, 1), tub(inches, 1, 120));
    expect(kindsOf(moved)).toEqual(['scale', 'words', 'detail']);
    // 20 inches.
    expect(moved.differences[2]!.distance).toBeCloseTo(508, 3);
  });

  it('are nothing to tell between a drawing that says mm and one that says nothing', () => {
    expect(words(tub(mm, 1), tub(0, 1))).toEqual([]);
  });

  it('are told of sets too', async () => {
    const set =
      'title: Tub\ndrawn: RHD\ndrawing: tub.dxf\npieces:\n  tub: { file: tub.dxf, side: centre, material: loop }\n';
    const folders = [tub(mm, 1), tub(inches, 1), tub(inches, 1 / 25.4)].map((file, i) => {
      const folder = join(root, 'patterns', `tub-${i}`);
      mkdirSync(folder, { recursive: true });
      writeFileSync(join(folder, 'set.yaml'), set);
      writeFileSync(join(folder, 'tub.dxf'), readFileSync(file));
      return folder;
    });
    const units = 'the unit of length in the drawing was "mm" and is "in".';
    expect(words(folders[0]!, folders[1]!)).toEqual([
      expect.stringContaining('everything is 25.4 times as large'),
      units,
    ]);
    expect(words(folders[0]!, folders[2]!)).toEqual([units]);
  });
});

describe('two programs', () => {
  const program = (): string => readFileSync(join(run, 'loop.nc'), 'utf8');
  const against = (change: (lines: string[]) => string[]): Comparison => {
    const text = program();
    const changed = change(text.split('\n')).join('\n');
    expect(changed).not.toBe(text);
    return compared(written(text, 'nc'), written(changed, 'nc'));
  };
  const stroke = (lines: readonly string[]): number =>
    lines.findIndex((line) => line.startsWith('G1 X'));

  it('differ by a line that goes elsewhere', () => {
    const { differences } = against((lines) => {
      const k = lines.findIndex(
        (line, i) => /^G1 X[\d.]+ Y[\d.]+ C/.test(line) && lines[i + 1]!.startsWith('G0'),
      );
      return lines.map((line, i) =>
        i === k
          ? line.replace(/X([\d.]+)/, (_, x: string) => `X${(Number(x) + 1.5).toFixed(3)}`)
          : line,
      );
    });
    expect(differences.map(({ kind }) => kind)).toEqual(['outline']);
    expect(differences[0]!.distance).toBeGreaterThan(0.2);
    expect(differences[0]!.distance).toBeLessThanOrEqual(1.5 + 1e-6);
  });

  it.each<[string, (lines: string[]) => string[], RegExp]>([
    [
      'a comment',
      (lines) => lines.map((line) => line.replace('(CUTTING PROGRAM)', '(CUTTING  PROGRAMME)')),
      /CUTTING/,
    ],
    [
      'a feed',
      (lines) => {
        const k = stroke(lines);
        return lines.map((line, i) => (i === k ? `${line.replace(/ F\d+/, '')} F9000` : line));
      },
      /feed/,
    ],
    [
      'a heading',
      (lines) => {
        const k = lines.findIndex((line) => /^G1 X.* C/.test(line));
        return lines.map((line, i) =>
          i === k ? line.replace(/C(-?[\d.]+)/, (_, c: string) => `C${Number(c) + 7}`) : line,
        );
      },
      /heading/,
    ],
    ['a depth', (lines) => lines.map((line) => line.replace('Z-0.5', 'Z-0.7')), /height/],
    ['a stop left out', (lines) => lines.filter((line) => line !== 'M0'), /stops/],
    [
      'a message',
      (lines) => lines.map((line) => line.replace('pull the roll on', 'push the roll on')),
      /message/,
    ],
  ])('differ in words alone by %s', (_, change, words) => {
    const { differences } = against(change);
    expect(new Set(differences.map(({ kind }) => kind))).toEqual(new Set(['words']));
    expect(differences.map(({ message }) => message).join()).toMatch(words);
  });

  it('differ by the order in which two contours are cut', () => {
    const { differences } = against((lines) => {
      // The first two strokes under comments of their own, each with all its lines, in each other's place.
      const starts = lines.flatMap((line, i) =>
        /^\(.*(inner|notch|outline)\)$/.test(line) ? [i] : [],
      );
      const [a, b, c] = starts.slice(3, 6) as [number, number, number];
      return [...lines.slice(0, a), ...lines.slice(b, c), ...lines.slice(a, b), ...lines.slice(c)];
    });
    expect(differences.map(({ kind }) => kind)).toContain('order');
    expect(
      differences.some(({ kind }) => kind === 'outline' || kind === 'moved' || kind === 'removed'),
    ).toBe(false);
  });

  it('are equal but for where a contour is begun', () => {
    // A square cut from one corner and from another, both with 2 mm cut again.
    const square = (points: readonly string[]): string =>
      [
        'G17 G21 G40 G49 G54 G61 G80 G90 G94',
        'G0 Z18',
        '(mat outline)',
        `G0 ${points[0]!}`,
        'M3',
        'G1 Z-0.5 F3000',
        ...points.slice(1).map((p, i) => `G1 ${p}${i === 0 ? ' F9000' : ''}`),
        'G0 Z18',
        'M5',
        'M2',
        '',
      ].join('\n');
    const one = written(square(['X0 Y0', 'X100 Y0', 'X100 Y80', 'X0 Y80', 'X0 Y0', 'X2 Y0']), 'nc');
    const two = written(
      square(['X100 Y80', 'X0 Y80', 'X0 Y0', 'X100 Y0', 'X100 Y80', 'X98 Y80']),
      'nc',
    );
    const { differences } = compared(one, two);
    expect(differences.map(({ message }) => message)).toEqual([
      'the place where the knife is lowered was X 0, Y 0 and is X 100, Y 80.',
    ]);
  });
});

describe('two sets', () => {
  it('differ by what is drawn and by what is said', () => {
    const set = join(root, 'patterns/wren');
    const other = join(root, 'patterns/other');
    const files = replaced(wren, setFile, 'covered: the wing', 'covered: the arch');
    return inFolder(files, (made) => {
      const there = join(made, 'patterns/wren');
      const { differences } = compared(set, there);
      expect(differences.map(({ kind, label, message }) => [kind, label, message])).toEqual([
        ['words', 'cover', 'what covers the raw edge was "the wing" and is "the arch".'],
      ]);
      expect(refusal(() => compared(set, other))).toContain('other');
    });
  });

  it('say which hand a piece is now', () =>
    inFolder(
      {
        ...wren,
        [drawingFile]: drawingText(
          wrenBlocks().map((block) =>
            block.name === 'REST'
              ? {
                  ...block,
                  entities: block.entities.map((one) =>
                    one.kind === 'path'
                      ? {
                          ...one,
                          path: transformPath({ a: -1, b: 0, c: 0, d: 1, e: 0, f: 0 }, one.path),
                        }
                      : one,
                  ),
                }
              : block,
          ),
        ),
      },
      (made) => {
        const { differences } = compared(join(root, 'patterns/wren'), join(made, 'patterns/wren'));
        // Drawn for right-hand drive, the driver's rest is the right one.
        expect(differences[0]).toMatchObject({
          kind: 'mirrored',
          label: 'rest',
          message: 'is mirrored: now the left hand.',
        });
      },
    ));
});

describe('two runs', () => {
  const record = (): RunRecord =>
    JSON.parse(readFileSync(join(run, 'run.json'), 'utf8')) as RunRecord;
  const against = (change: (record: RunRecord) => unknown): Comparison => {
    const folder = join(root, `run-${count++}`);
    return compareCopy(folder, { 'run.json': JSON.stringify(change(record())) });
  };
  const compareCopy = (folder: string, instead: Record<string, string>): Comparison => {
    copyRun(folder);
    for (const [name, text] of Object.entries(instead)) writeFileSync(join(folder, name), text);
    return compared(run, folder);
  };
  const copyRun = (folder: string): void => {
    mkdir(folder);
    for (const name of readdirSync(run))
      writeFileSync(join(folder, name), readFileSync(join(run, name)));
  };

  it('are equal byte for byte, or in another order of parts', () => {
    const same = compareCopy(join(root, `run-${count++}`), {});
    expect(same.sameBytes).toBe(true);
    // However the way to a folder is written, what lies in it is called the same.
    expect(compared(`${root}/../${basename(root)}/${relative(root, run)}/`, run)).toEqual(
      expect.objectContaining({ sameBytes: true, differences: [] }),
    );
    const turned = against((one) => ({
      ...one,
      parts: one.parts.toReversed(),
      lays: one.lays.map((lay) => ({ ...lay, placements: lay.placements.toReversed() })),
    }));
    expect(turned.sameBytes).toBe(false);
    expect(turned.differences).toEqual([]);
  });

  it('differ by a part that lies elsewhere, is turned, or has gone', () => {
    const placed = (
      change: (p: RunRecord['lays'][number]['placements'][number]) => object[],
    ): Comparison =>
      against((one) => ({
        ...one,
        lays: one.lays.map((lay) => ({
          ...lay,
          placements: lay.placements.flatMap((p) =>
            p.label === 'rest-left.1.A2' ? change(p) : [p],
          ),
        })),
      }));
    const moved = placed((p) => [{ ...p, x: p.x + 3 }]);
    expect(
      moved.differences.map(({ kind, label, distance }) => [kind, label, distance!.toFixed(3)]),
    ).toEqual([['moved', 'rest-left.1.A2', '3.000']]);
    const turned = placed((p) => [{ ...p, rotation: (p.rotation + 180) % 360 }]);
    expect(kindsOf(turned)).toEqual(['turned']);
    expect(Math.abs(turned.differences[0]!.turnDeg!)).toBeCloseTo(180, 2);
    expect(kindsOf(placed(() => []))).toEqual(['removed']);
  });

  it('differ in words by a dye lot, a hand, a feed of the cutter, and each is told once', () => {
    const lot = against((one) => ({
      ...one,
      lays: one.lays.map((lay) => (lay.dyeLot === null ? lay : { ...lay, dyeLot: '8' })),
    }));
    expect(lot.differences.map(({ message }) => message)).toEqual(['the dye lot was 7 and is 8.']);
    const feed = against((one) => ({
      ...one,
      cutter: { ...one.cutter, feeds: { ...one.cutter.feeds, cut: 9000 } },
    }));
    expect(feed.differences.map(({ message }) => message)).toEqual([
      expect.stringMatching(/^the feed of the cut was \d+ mm\/min and is 9000 mm\/min\.$/),
    ]);
  });

  it('differ by a program that was changed though the record was not', () => {
    const text = readFileSync(join(run, 'board.nc'), 'utf8');
    const changed = text.replace(/ F18000/, ' F17000');
    const found = compareCopy(join(root, `run-${count++}`), { 'board.nc': changed });
    expect(found.differences.map(({ kind, file }) => [kind, file])).toEqual([
      ['words', 'board.nc'],
    ]);
    expect(found.differences[0]!.message).toContain('17000');
  });
});

describe('what cannot be compared', () => {
  it.each<[string, () => [string, string], RegExp]>([
    [
      'a drawing and a program',
      () => [join(run, 'loop.dxf'), join(run, 'loop.nc')],
      /is a drawing, and .* is a program/,
    ],
    ['a run and a set', () => [run, join(root, 'patterns/wren')], /is a run, and .* is a set/],
    [
      'what is not there',
      () => [join(root, 'none.dxf'), join(run, 'loop.dxf')],
      /none\.dxf.*there is no file to compare/,
    ],
    [
      'a folder of nothing',
      () => [join(root, 'shared'), run],
      /neither a run \(run\.json\) nor a set/,
    ],
    [
      'a drawing cut short',
      () => [
        written(readFileSync(join(run, 'loop.dxf'), 'utf8').slice(0, 5000), 'dxf'),
        join(run, 'loop.dxf'),
      ],
      /file-\d+\.dxf/,
    ],
    [
      'a program with a word that no cutter knows',
      () => [written('G17\nG99 X1\nM2\n', 'nc'), join(run, 'loop.nc')],
      /file-\d+\.nc:2/,
    ],
    [
      'garbage',
      () => [written('\u0001\u0002garbage\u0003', 'bin'), join(run, 'loop.nc')],
      /file-\d+\.bin/,
    ],
    [
      'a record that is none',
      () => {
        const folder = join(root, `broken-${count++}`);
        mkdir(folder);
        writeFileSync(join(folder, 'run.json'), '{"format": 3}');
        return [folder, run];
      },
      /run\.json/,
    ],
  ])('is refused in words: %s', (_, make, words) => {
    const [a, b] = make();
    expect(refusal(() => compared(a, b)).replaceAll(/\s+/g, ' ')).toMatch(words);
  });
});

describe('the picture of a comparison', () => {
  it('is sound whatever the names, rings every place and lists what is there', () => {
    const parts = someParts(randomFrom(7)).map((part, i) =>
      i === 0 ? { ...part, name: `<b>&"'` } : part,
    );
    const after = parts.map((part) => ({
      ...part,
      hole: transformPath(translation({ x: 9, y: 0 }), part.hole),
    }));
    const [a, b] = [parts, after].map((some) =>
      written(drawingOf(some, randomFrom(8), false), 'dxf'),
    );
    const options = { tolerance: 0.01, map: new Map(), sharedFolder: root };
    const { comparison, inputs } = compareFiles(a!, b!, options);
    const svg = overlayPicture(comparison, ...inputs!);
    const elements = elementsIn(readMarkup(svg));
    const texts = elements.filter(({ name }) => name === 'text').map(textOf);
    expect(texts).toEqual(
      expect.arrayContaining([
        'the same in both',
        'as it was, dashed',
        'as it is, solid',
        '4 differences',
      ]),
    );
    for (let n = 1; n <= 4; n++)
      expect(texts.filter((text) => text === String(n)).length).toBeGreaterThanOrEqual(2);
    expect(texts.join(' ')).toContain(`<b>&"'`);
    // 190 units on 190 mm of paper: type in mm; 8 points are 2.82 mm.
    const sizes = [...svg.matchAll(/font-size="([\d.]+)"/g)].map(([, size]) => Number(size));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(2.82);
  });

  it('has a table that says once what became of several', () => {
    const parts = someParts(randomFrom(9));
    const move = (path: Path): Path => transformPath(translation({ x: -7.5, y: 3 }), path);
    const after = parts.map((part) => ({
      ...part,
      outline: move(part.outline),
      hole: move(part.hole),
    }));
    const [a, b] = [parts, after].map((some) =>
      written(drawingOf(some, randomFrom(8), false), 'dxf'),
    );
    const lines = comparisonLines(compared(a!, b!));
    // What has moved as one is one difference.
    expect(linesIn(lines)).toEqual([
      'MOVED  the whole  everything is moved by 7.5 mm to the left and 3 mm up.',
    ]);
    expect(lines[0]).toMatch(/^The shapes are the same, and everything is moved by 7\.5 mm/);
    expect(lines.at(-1)).toContain('differ: 1 moved;');
  });

  it('has a table that says the same', () => {
    const before = written(drawingText(wrenBlocks()), 'dxf');
    const after = written(drawingText(wrenBlocks().slice(1)), 'dxf');
    const lines = comparisonLines(compared(before, after));
    expect(lines[0]).toBe('1 outline is gone.');
    expect(lines[2]).toBe('Gone and new');
    expect(lines[3]).toMatch(/^GONE\s+FLOOR\s+is gone; it was at X 0, Y 450\.$/);
    expect(lines.at(-1)).toMatch(/differ: 1 gone; geometry to 0\.01 mm\.$/);
  });
});

function mkdir(folder: string): void {
  mkdirSync(folder, { recursive: true });
}
