import { spawnSync } from 'node:child_process';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Part } from '../../src/handing/part.ts';
import { layPicture, rowsOf } from '../../src/papers/lay-picture.ts';
import type { Contour } from '../contours.ts';
import { contourArea, holds } from '../contours.ts';
import {
  laidInARow,
  longBay,
  part,
  rectangle,
  smallTable,
  somePartsArbitrary,
} from '../knife/sample-parts.ts';
import { outside } from '../outside.ts';
import type { Element } from './markup.ts';
import { childrenNamed, elementsIn, readMarkup, textOf } from './markup.ts';
import { contoursOfPath } from './path-data.ts';

const python = '/usr/bin/python3';
const xmlReader = outside(python, spawnSync(python, ['-c', 'import xml.sax']).status === 0);

/** A picture as its reader sees it. */
interface Seen {
  readonly svg: Element;
  readonly parts: readonly { label: string; outline: Contour; inner: readonly Contour[] }[];
  /** What stands on parts, line by line, and where. */
  readonly labels: readonly { lines: string[]; x: number; y: number; size: number }[];
  /** What numbers mean. */
  readonly key: ReadonlyMap<string, string>;
}

function seen(markup: string): Seen {
  const [svg] = childrenNamed(readMarkup(markup), 'svg');
  const all = elementsIn(svg!);
  const titled = all.filter(
    ({ name, children }) => name === 'g' && nameOf(children[0]) === 'title',
  );
  const entries = all
    .filter(({ name }) => name === 'g')
    .map((group) => childrenNamed(group, 'text'))
    .filter(
      (texts) =>
        texts.length === 2 &&
        /^\d+$/.test(textOf(texts[0]!)) &&
        texts[0]!.attributes['x'] === undefined,
    );
  return {
    svg: svg!,
    parts: titled.map((group) => {
      const contours = contoursOfPath(childrenNamed(group, 'path')[0]!.attributes['d']!);
      const label = textOf(childrenNamed(group, 'title')[0]!);
      return { label, outline: contours[0]!, inner: contours.slice(1) };
    }),
    labels: all
      .filter(({ name, attributes }) => name === 'g' && attributes['text-anchor'] === 'middle')
      .map((group) => {
        const texts = childrenNamed(group, 'text');
        const { x, y } = texts[0]!.attributes;
        const size = Number(group.attributes['font-size']);
        return { lines: texts.map(textOf), x: Number(x), y: Number(y), size };
      }),
    key: new Map(entries.map(([number, words]) => [textOf(number!), textOf(words!)])),
  };
}

function nameOf(child: Element | string | undefined): string | undefined {
  return typeof child === 'object' ? child.name : undefined;
}

/** A picture of each bite of some parts, with the labels that lie in it. */
function pictures(parts: readonly Part[], cutter = longBay): Seen[] {
  const lay = laidInARow(parts, cutter);
  return rowsOf(lay).map((row) => seen(layPicture(lay, parts, [row])));
}

describe('the picture of a lay', () => {
  it('shows every part once, with the areas of its contours', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const shown = pictures(parts).flatMap((picture) => picture.parts);
        expect(shown.map(({ label }) => label).sort()).toEqual(
          parts.map(({ label }) => label).sort(),
        );
        for (const { label, outline, inner } of shown) {
          const meant = parts.find((one) => one.label === label)!;
          const share = contourArea(outline) / contourArea(meant.cut.vertices);
          // Two decimals of a mm.
          expect(share).toBeCloseTo(1, 3);
          expect(inner).toHaveLength(meant.inner.length);
          for (const [i, hole] of inner.entries()) {
            const { vertices } = meant.inner[i]!.path;
            // Small ones feel the two decimals more.
            expect(Math.abs(contourArea(hole) / contourArea(vertices) - 1)).toBeLessThan(0.02);
          }
        }
      }),
      { numRuns: 20 },
    );
  });

  it('shows parts as they lie, seen from above, the far edge of the roll on top', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const lay = laidInARow(parts, longBay);
        const shown = pictures(parts).flatMap((picture) => picture.parts);
        for (const { label, x, y, rotation } of lay.placements) {
          const [c, s] = [
            Math.cos((rotation * Math.PI) / 180),
            Math.sin((rotation * Math.PI) / 180),
          ];
          const { outline } = shown.find((one) => one.label === label)!;
          for (const v of parts.find((one) => one.label === label)!.cut.vertices) {
            const there = { x: x + v.x * c - v.y * s, y: lay.roll.width - (y + v.x * s + v.y * c) };
            const off = outline.map((corner) => Math.hypot(corner.x - there.x, corner.y - there.y));
            expect(Math.min(...off)).toBeLessThan(0.01);
          }
        }
      }),
      { numRuns: 20 },
    );
  });

  it('names every part once, on the part, or numbers it and explains the number', () => {
    fc.assert(
      fc.property(somePartsArbitrary, fc.boolean(), (parts, longNames) => {
        const named = parts.map((one) => {
          const name = longNames ? `left-hand-extension-of-${one.name}` : one.name;
          return { ...one, name, label: `${name}.1.A1` };
        });
        for (const picture of pictures(named)) {
          expect(picture.labels).toHaveLength(picture.parts.length);
          for (const { lines, x, y, size } of picture.labels) {
            const on = picture.parts.filter(({ outline }) => holds(outline, x, y - 0.3 * size));
            const said =
              lines.length === 1
                ? picture.key.get(lines[0]!)
                : `${lines.slice(0, -1).join('')}.${lines.at(-1)}`;
            expect(on.map(({ label }) => label)).toEqual([said]);
          }
        }
      }),
      { numRuns: 20 },
    );
  });

  it('numbers what is too small and no more', () => {
    const parts = [
      part('wide.1.A1', rectangle(900, 400), { name: 'wide' }),
      part('small.1.A1', rectangle(90, 60), { name: 'small' }),
    ];
    const [picture] = pictures(parts);
    expect([...picture!.key]).toEqual([['1', 'small.1.A1']]);
    expect(picture!.labels.map(({ lines }) => lines)).toEqual([['wide', '1.A1'], ['1']]);
  });

  it('has no type under 8 points when it is printed 190 mm wide', () => {
    fc.assert(
      fc.property(somePartsArbitrary, fc.constantFrom(longBay, smallTable), (parts, cutter) => {
        for (const { svg } of pictures(parts, cutter)) {
          const width = Number(svg.attributes['viewBox']!.split(' ')[2]);
          const sizes = elementsIn(svg).map(({ attributes }) => attributes['font-size']);
          for (const size of [svg.attributes['font-size'], ...sizes]) {
            // A point is 25.4 / 72 mm.
            if (size !== undefined)
              expect((Number(size) * 190) / width).toBeGreaterThan((8 * 25.4) / 72);
          }
        }
      }),
      { numRuns: 10 },
    );
  });

  it('leaves room on A4 and Letter for the order of cutting', () => {
    const roll = laidInARow([part('a.1.A1', rectangle(300, 200))], longBay).roll;
    for (const width of [300, 1000, 2030, 4000]) {
      const lay = {
        ...laidInARow([part('a.1.A1', rectangle(300, 200))], longBay),
        roll: { ...roll, width },
      };
      const [, , across, down] = seen(layPicture(lay, [part('a.1.A1', rectangle(300, 200))]))
        .svg.attributes['viewBox']!.split(' ')
        .map(Number);
      expect((190 * down!) / across!).toBeLessThan(160);
    }
  });

  it('has plain decimals for numbers', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        for (const { svg } of pictures(parts)) {
          for (const { attributes } of [svg, ...elementsIn(svg)]) {
            for (const name of [
              'd',
              'x',
              'y',
              'width',
              'height',
              'viewBox',
              'transform',
              'font-size',
              'stroke-width',
              'stroke-dasharray',
            ]) {
              const numbers =
                attributes[name]?.replaceAll(/translate|[MLAHVZmlhv(),\s]/g, ' ') ?? '';
              expect(numbers).toMatch(/^( |-?\d+(\.\d{1,4})?(?![\d.]))*$/);
            }
          }
        }
      }),
      { numRuns: 20 },
    );
  });

  const hostile = fc.oneof(
    fc.string({ unit: 'binary', minLength: 1, maxLength: 12 }),
    fc.constantFrom(
      '<b>',
      '&amp;',
      `"'`,
      ']]>',
      '<!--',
      'Übergröße',
      '三角',
      '\u0000\u000B\uFFFE\uD800',
    ),
  );

  it('is sound markup whatever the names', () => {
    fc.assert(
      fc.property(somePartsArbitrary, hostile, (parts, name) => {
        const renamed = parts.map((one) => ({
          ...one,
          name,
          order: name,
          label: `${name}.${one.label}`,
        }));
        const lay = { ...laidInARow(renamed, longBay), material: name };
        const shown = seen(layPicture(lay, renamed))
          .parts.map(({ label }) => label)
          .sort();
        expect(shown).toEqual(renamed.map(({ label }) => allowed(label)).sort());
      }),
    );
  });

  it.skipIf(xmlReader.missing)(`is XML to another reader${xmlReader.note}`, () => {
    const names = fc.sample(hostile, { numRuns: 100, seed: 3 });
    const all = names.map((name) => {
      const one = part(`${name}.1.A1`, rectangle(300, 200), { name, order: name });
      return layPicture({ ...laidInARow([one], longBay), material: name }, [one]);
    });
    const script =
      'import json, sys, xml.sax\nfor text in json.load(sys.stdin): xml.sax.parseString(text.encode(), xml.sax.ContentHandler())';
    const run = spawnSync(python, ['-c', script], { input: JSON.stringify(all), encoding: 'utf8' });
    expect(run.stderr).toBe('');
  });
});

/** With what XML has no place for replaced. */
function allowed(text: string): string {
  return [...text]
    .map((character) =>
      /[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/u.test(character)
        ? '\uFFFD'
        : character,
    )
    .join('');
}

describe('rowsOf', () => {
  const length = fc.double({ min: 0, max: 60_000, noNaN: true });
  const bite = fc.oneof(fc.constant(Infinity), fc.double({ min: 500, max: 6000, noNaN: true }));

  it('covers the lay from its start, row by row, a bite each', () => {
    fc.assert(
      fc.property(length, bite, (long, biteLength) => {
        const rows = rowsOf({ length: long, rules: { turns: 'any', gap: 5, biteLength } });
        expect(rows[0]!.from).toBe(0);
        for (const [i, { from, to }] of rows.entries()) {
          if (i > 0) expect(from).toBe(rows[i - 1]!.to);
          expect(to).toBeGreaterThan(from);
          if (biteLength < Infinity) {
            expect(from).toBeCloseTo(i * biteLength, 6);
            expect(to).toBeLessThanOrEqual((i + 1) * biteLength);
          }
        }
        expect(rows.at(-1)!.to).toBeGreaterThan(long - 1e-3);
        if (rows.length > 1) expect(rows.at(-1)!.from).toBeLessThan(long);
      }),
    );
  });
});
