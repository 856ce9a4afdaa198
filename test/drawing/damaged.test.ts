import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../src/drawing/drawing.ts';
import { readDrawingText } from './read-text.ts';
import { Refusal } from '../../src/base/findings.ts';
import { block, dxf, inMm, insert, line, lwpolyline, polyline } from './dxf.ts';

const own = dxf({
  header: [[9, '$ACADVER'], [1, 'AC1009'], ...inMm],
  tables: [
    [
      [0, 'LAYER'],
      [2, 'OUTLINE'],
      [70, 0],
      [62, 1],
    ],
  ],
  blocks: [
    block('TUB', [
      lwpolyline(
        [
          [0, 0, 0.5],
          [90, 0, 0],
          [90, 60, 0],
        ],
        true,
      ),
      line(0, 0, 5, 5, 'FOLD'),
    ]),
    block('PAIR', [insert('TUB', 0, 0), insert('TUB', 200, 0, [[41, -1]])]),
  ],
  entities: [
    insert('PAIR', 10, 10, [
      [50, 30],
      [70, 2],
      [44, 500],
    ]),
    polyline(
      [
        [0, 0, 0],
        [50, 0, -0.3],
        [50, 50, 0],
        [0, 50, 0],
      ],
      1,
    ),
    [
      [0, 'TEXT'],
      [8, 'NOTE'],
      [10, 1],
      [20, 2],
      [40, 5],
      [1, 'TUB'],
    ],
    [
      [0, 'CIRCLE'],
      [8, 'HOLE'],
      [10, 20],
      [20, 20],
      [40, 5],
    ],
  ],
});

const samples = join(import.meta.dirname, '../data/drawings');
const texts: [string, string][] = [['own.dxf', own]];
for (const name of ['r12-polyline-bulge.dxf', 'r2010-nested-insert-negative.dxf']) {
  texts.push([name, readFileSync(join(samples, name), 'utf8')]);
}

/** Places below a limit, the same in every run: a linear congruential generator (Knuth's constants). */
function places(count: number, limit: number): number[] {
  let state = 12_345n;
  return Array.from({ length: count }, () => {
    state = (state * 6_364_136_223_846_793_005n + 1_442_695_040_888_963_407n) % 2n ** 64n;
    return Number((state >> 33n) % BigInt(limit));
  });
}

/** Only a Refusal counts as refused; any other error fails the test. */
function readOrRefuse(text: string): Drawing | Refusal {
  try {
    return readDrawingText(text, 'damaged.dxf');
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
}

function shapesOf({ units, blocks, entities }: Drawing): unknown {
  return JSON.parse(
    JSON.stringify({ units, blocks, entities }, (key, value: unknown) =>
      key === 'line' ? undefined : value,
    ),
  );
}

function expectRefusedOrWhole(damaged: string, whole: Drawing): void {
  const result = readOrRefuse(damaged);
  if (result instanceof Refusal) {
    expect(result.findings[0]!.where).toMatchObject({
      file: 'damaged.dxf',
      line: expect.any(Number),
    });
  } else {
    expect(shapesOf(result)).toEqual(shapesOf(whole));
  }
}

describe.each(texts)('%s damaged', (_, text) => {
  const whole = readDrawingText(text, 'whole.dxf');

  it('by cutting it off is refused with the line', () => {
    for (const at of places(50, text.length)) expectRefusedOrWhole(text.slice(0, at), whole);
  });

  it('by losing a line is refused with the line', () => {
    const lines = text.split('\n');
    for (const at of places(50, lines.length)) {
      expectRefusedOrWhole(lines.toSpliced(at, 1).join('\n'), whole);
    }
  });

  it('by losing a tag is refused, or read with finite figures', () => {
    const lines = text.split('\n');
    for (const at of places(50, lines.length >> 1)) {
      expectSound(readOrRefuse(lines.toSpliced(2 * at, 2).join('\n')));
    }
  });

  it('by strange values is refused, or read with finite figures', () => {
    const strange = ['', '-1', '0', '1e308', '-1e-320', '999999999', 'EOF', '*', 'BLOCK', 'INSERT'];
    const lines = text.split('\n');
    for (const [i, at] of places(200, lines.length).entries()) {
      expectSound(readOrRefuse(lines.with(at, strange[i % strange.length]!).join('\n')));
    }
  });
});

function expectSound(result: Drawing | Refusal): void {
  if (result instanceof Refusal) {
    expect(result.findings).not.toHaveLength(0);
    return;
  }
  // JSON writes null for what is not finite.
  expect(JSON.stringify([result.blocks, result.entities])).not.toContain('null');
}
