import { describe, expect, it } from 'vitest';
import { readDrawingBytes } from '../../src/drawing/read.ts';
import { Refusal } from '../../src/base/findings.ts';
import { describeDrawing } from '../../src/pattern/first-look/describe.ts';
import type { Sight } from '../../src/pattern/first-look/sight.ts';
import type { Tag } from './dxf.ts';
import { dxf, inMm } from './dxf.ts';
import { hostileDrawing, sound } from './hostile.ts';
import { tries } from '../support/thorough.ts';

const seeds = Array.from({ length: tries(200, 600) }, (_, i) => i);

/** Refusals or what was seen; anything else that is thrown is a fault of the program. */
function reading(bytes: Uint8Array): Refusal | Sight {
  try {
    return describeDrawing(readDrawingBytes(bytes, 'hostile.dxf'), new Map(), { gap: 0.05 });
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
}

const whole = reading(new TextEncoder().encode(sound));

describe('hostile drawings', () => {
  it('begin from a sound one', () => {
    if (whole instanceof Refusal) throw whole;
    expect(whole.report.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    // Two in PAIR, six in the array, a POLYLINE with the loose ellipse in it, one of lines and an arc.
    expect(whole.pieces.length).toBe(10);
  });

  it(
    'of 200 MB are refused at once, with the line they are too long from',
    { timeout: 20_000 },
    () => {
      const entity = '0\nLINE\n8\nOUTLINE\n10\n1.5\n20\n2.5\n11\n3.5\n21\n4.5\n';
      const head = '0\nSECTION\n2\nENTITIES\n';
      const text = head + entity.repeat(200e6 / entity.length);
      const refusal = reading(Buffer.from(text, 'latin1'));
      if (!(refusal instanceof Refusal)) throw new Error('read');
      expect(refusal.findings).toMatchObject([{ rule: 'too-long', where: { line: 12_000_001 } }]);
    },
  );

  it('of curves without end are refused', { timeout: 20_000 }, () => {
    const wild = Array.from({ length: 400 }, (_, i): Tag[] => [
      [10, (i % 2 ? 1 : -1) * 9e8],
      [20, ((i * 7) % 11) * 8e7],
    ]);
    const knots = [0, 0, 0, ...Array.from({ length: 398 }, (_, i) => i), 397, 397, 397];
    const spline: Tag[] = [
      [0, 'SPLINE'],
      [8, 'OUTLINE'],
      [70, 8],
      [71, 3],
      ...knots.map((knot): Tag => [40, knot]),
      ...wild.flat(),
    ];
    const refusal = reading(Buffer.from(dxf({ header: inMm, entities: [spline] })));
    if (!(refusal instanceof Refusal)) throw new Error('read');
    expect(refusal.findings).toMatchObject([
      { rule: 'curve-too-long', where: { file: 'hostile.dxf' } },
    ]);
  });

  it('are many of which some must be refused and some can be read', () => {
    const forced = seeds.filter((seed) => hostileDrawing(seed).mustRefuse);
    expect(forced.length).toBeGreaterThan(seeds.length / 20);
    expect(forced.length).toBeLessThan(seeds.length);
  });

  // The limit is no measure of speed: beyond it a file counts as one that hangs.
  it.each(seeds)('of seed %i are refused in words or read in full', { timeout: 20_000 }, (seed) => {
    const { bytes, how, mustRefuse } = hostileDrawing(seed);
    const read = reading(bytes);
    if (!(read instanceof Refusal)) {
      expect(mustRefuse, `${how}: read as if it were whole`).toBe(false);
      return;
    }
    expect(read.findings.length).toBeGreaterThan(0);
    for (const { message, todo, where } of read.findings) {
      expect(todo, how).not.toBe('');
      expect(where.file).toBe('hostile.dxf');
      // What is no DXF at all has no lines; all else names its line and the group.
      if (/^this (is|file is)/.test(message)) continue;
      expect(where.line, `${how}: ${message}`).toBeGreaterThan(0);
      expect(message, how).toMatch(/group|block/i);
    }
  });
});
