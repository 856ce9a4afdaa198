import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxOfPath } from '../../../../src/geometry/paths/path.ts';
import { transformPath } from '../../../../src/geometry/paths/transform.ts';
import type { Part } from '../../../../src/handing/part.ts';
import type { Lay } from '../../../../src/lay/lay.ts';
import { placementTransform } from '../../../../src/lay/lay.ts';
import { layPicture, rowsOf } from '../../../../src/papers/pictures/lay/lay-picture.ts';
import type { Row } from '../../../../src/papers/pictures/lay/roll-picture.ts';
import { drawEmptyRow } from '../../../../src/papers/pictures/lay/roll-picture.ts';
import type { Contour } from '../../../support/contours.ts';
import { contourArea, holds } from '../../../support/contours.ts';
import {
  laidInARow,
  longBay,
  part,
  rectangle,
  smallTable,
  somePartsArbitrary,
} from '../../../knife/sample-parts.ts';
import { xmlFaults, xmlReader } from '../../python-readers.ts';
import type { Element } from '../../markup.ts';
import { childrenNamed, elementsIn, readMarkup, textOf } from '../../markup.ts';
import { contoursOfPath } from '../../path-data.ts';

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
  return rowsOf(lay, parts).map((row) => seen(layPicture(lay, parts, [row])));
}

const rowLook = { width: 4000, showsPile: true, isBare: false };

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
          expect(picture.parts.length).toBeGreaterThan(0);
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

  it('has the numbers of a list on small parts, and a key for those alone that are not in it', () => {
    const parts = [
      part('wide.1.A1', rectangle(900, 400), { name: 'wide' }),
      part('small.1.A1', rectangle(90, 60), { name: 'small' }),
      part('other.1.A1', rectangle(90, 60), { name: 'other' }),
    ];
    const lay = laidInARow(parts, longBay);
    const [row] = rowsOf(lay, parts);
    const numbers = new Map([
      ['wide.1.A1', 1],
      ['small.1.A1', 2],
    ]);
    const look = { width: 190, margin: 5, row: 120, numbers };
    const picture = seen(layPicture(lay, parts, [row!], undefined, look));
    expect([...picture.key]).toEqual([['3', 'other.1.A1']]);
    for (const [number, label] of [
      ['2', 'small.1.A1'],
      ['3', 'other.1.A1'],
    ]) {
      const { x, y, size } = picture.labels.find(({ lines }) => lines[0] === number)!;
      const on = picture.parts.filter(({ outline }) => holds(outline, x, y - 0.3 * size));
      expect(on.map((one) => one.label)).toEqual([label]);
    }
  });

  it('has no type under 8 points when it is printed 190 mm wide', () => {
    fc.assert(
      fc.property(somePartsArbitrary, fc.constantFrom(longBay, smallTable), (parts, cutter) => {
        for (const { svg } of pictures(parts, cutter)) {
          const width = Number(svg.attributes['viewBox']!.split(' ')[2]);
          const sizes = elementsIn(svg).map(({ attributes }) => attributes['font-size']);
          const said = [svg.attributes['font-size'], ...sizes].filter((size) => size !== undefined);
          expect(said.length).toBeGreaterThan(0);
          for (const size of said) {
            // A point is 25.4 / 72 mm.
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
    expect(xmlFaults(all)).toEqual(all.map(() => null));
  });
});

describe('a roll with faults', () => {
  /** A defect across the first bite line, and a remnant with a slanting end, on the long bay. */
  const defect = [
    { x: 3000, y: 500 },
    { x: 3500, y: 500 },
    { x: 3500, y: 700 },
    { x: 3000, y: 700 },
  ];
  const outline = [
    { x: 0, y: 0 },
    { x: 6000, y: 0 },
    { x: 4000, y: 2000 },
    { x: 0, y: 2000 },
  ];
  const one = part('a.1.A1', rectangle(300, 200));
  const lay = (faults: object): Lay => {
    const laid = laidInARow([one], longBay);
    return { ...laid, length: 5000, roll: { ...laid.roll, ...faults } };
  };

  /** The contours on the bare roll of each row that are edges of what is lost. */
  function lostIn(of: Lay, row: Row): Contour[] {
    const drawn = drawEmptyRow(of, row, { ...rowLook, type: 30 });
    expect(drawn).not.toMatch(/NaN|undefined|Infinity/);
    return elementsIn(readMarkup(`<g>${drawn}</g>`))
      .filter(
        ({ name, attributes }) => name === 'path' && /^M[^A-Z]*(L[^A-Z]*)+Z/.test(attributes['d']!),
      )
      .filter(({ attributes }) => attributes['fill'] === 'none' && attributes['stroke'] !== 'none')
      .flatMap(({ attributes }) => contoursOfPath(attributes['d']!));
  }

  const extent = (contours: readonly Contour[], axis: 'x' | 'y'): [number, number] => {
    const values = contours.flat().map((corner) => corner[axis]);
    return [Math.min(...values), Math.max(...values)];
  };
  const rows: Row[] = [
    { from: 0, to: 3200 },
    { from: 3200, to: 5100 },
  ];

  it('shows a defect in each row, as far as it lies in it, upright on the page', () => {
    const [first, second] = rows.map((row) => lostIn(lay({ defects: [defect] }), row));
    expect(first).toHaveLength(1);
    expect(extent(first!, 'x')).toEqual([3000, 3200]);
    expect(extent(second!, 'x')).toEqual([3200, 3500]);
    for (const contours of [first!, second!]) expect(extent(contours, 'y')).toEqual([1300, 1500]);
    expect(lostIn(lay({ defects: [defect] }), { from: 0, to: 2900 })).toEqual([]);
  });

  it('shows what lies past the edge of a remnant, as far as it lies in the row', () => {
    const [first, second] = rows.map((row) => lostIn(lay({ outline }), row));
    expect(first).toEqual([]);
    // The end slants from (4000, 2000) to (6000, 0): at the row's end, 5100, it is 900 from the near edge.
    expect(second).toHaveLength(1);
    expect(extent(second!, 'x')).toEqual([4000, 5100]);
    expect(extent(second!, 'y')).toEqual([0, 1100]);
    expect(Math.abs(contourArea(second![0]!))).toBeCloseTo((1100 * 1100) / 2, 3);
  });

  it('shows nothing lost on a whole roll', () => {
    for (const row of rows) expect(lostIn(lay({ defects: [] }), row)).toEqual([]);
  });

  it('loses in its rows the area of all its defects, wherever they lie, and no more', () => {
    const place = fc.record({
      x: fc.double({ min: -300, max: 5000, noNaN: true }),
      y: fc.double({ min: -200, max: 2100, noNaN: true }),
      radii: fc.array(fc.double({ min: 5, max: 400, noNaN: true }), { minLength: 3, maxLength: 9 }),
    });
    fc.assert(
      fc.property(place, ({ x, y, radii }) => {
        const star = radii.map((radius, i) => {
          const angle = (2 * Math.PI * i) / radii.length;
          return { x: x + radius * Math.cos(angle), y: y + radius * Math.sin(angle) };
        });
        for (const row of rows) {
          const contours = lostIn(lay({ defects: [star] }), row);
          if (contours.length === 0) continue;
          // Two decimals of a mm.
          const [left, right] = extent(contours, 'x');
          expect(left).toBeGreaterThan(row.from - 0.01);
          expect(right).toBeLessThan(row.to + 0.01);
          const [top, bottom] = extent(contours, 'y');
          expect(top).toBeGreaterThan(-0.01);
          expect(bottom).toBeLessThan(2000.01);
        }
        const lies = (a: number, b: number, values: readonly number[]): boolean =>
          values.every((value) => value > a && value < b);
        const within =
          lies(
            0,
            5100,
            star.map((p) => p.x),
          ) &&
          lies(
            0,
            2000,
            star.map((p) => p.y),
          );
        if (!within) return;
        const shown = rows.flatMap((row) => lostIn(lay({ defects: [star] }), row));
        const lost = shown.reduce((sum, contour) => sum + Math.abs(contourArea(contour)), 0);
        const meant = Math.abs(contourArea(star.map((p) => ({ ...p, bulge: 0 }))));
        expect(Math.abs(lost - meant)).toBeLessThan(30);
      }),
      { numRuns: 60 },
    );
  });

  it('keeps name and pile apart above a row however short', () => {
    for (const to of [300, 800, 3200]) {
      const row = { from: 0, to, bite: { number: 12, labels: new Set<string>(), marks: [] } };
      const drawn = drawEmptyRow(lay({ name: 'a-rather-long-name' }), row, {
        ...rowLook,
        type: 50,
      });
      const texts = elementsIn(readMarkup(`<g>${drawn}</g>`)).filter(({ name }) => name === 'text');
      const heading = texts.find((text) => textOf(text).includes('bite 12'))!;
      const pile = texts.find((text) => textOf(text).includes('pile'))!;
      // Bold type is some 0.65 of its height wide, plain type 0.55 (common practice).
      const headingEnd = Number(heading.attributes['x']) + textOf(heading).length * 0.65 * 50;
      const pileStart = Number(pile.attributes['x']) - textOf(pile).length * 0.55 * 50;
      expect(pileStart).toBeGreaterThan(headingEnd);
    }
  });

  it('is a sound picture with the name of its roll', () => {
    const markup = layPicture(lay({ defects: [defect], outline, name: 'B2' }), [one]);
    expect(markup).not.toMatch(/NaN|undefined|Infinity/);
    expect(textOf(readMarkup(markup))).toContain('loop-B2, bite 1');
    expect(seen(markup).parts.map(({ label }) => label)).toEqual(['a.1.A1']);
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
  const rules = { turns: 'any', gap: 5, biteLength: Infinity } as const;

  it('covers a lay without bites from its start, row by row', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 60_000, noNaN: true }), (length) => {
        const rows = rowsOf({ length, rules, placements: [] }, []);
        expect(rows[0]!.from).toBe(0);
        for (const [i, { from, to }] of rows.entries()) {
          if (i > 0) expect(from).toBe(rows[i - 1]!.to);
          expect(to).toBeGreaterThan(from);
        }
        expect(rows.at(-1)!.to).toBeGreaterThan(length - 1e-3);
        if (rows.length > 1) expect(rows.at(-1)!.from).toBeLessThan(length);
      }),
    );
  });

  it('shows the bed in each bite, with all that is cut there', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        const lay = laidInARow(parts, longBay);
        const rows = rowsOf(lay, parts);
        const reaches = new Map(
          lay.placements.map((placement) => {
            const { cut } = parts.find(({ label }) => label === placement.label)!;
            return [
              placement.label,
              boxOfPath(transformPath(placementTransform(placement), cut)),
            ] as const;
          }),
        );
        expect(rows.flatMap(({ bite }) => [...bite!.labels]).sort()).toEqual(
          parts.map(({ label }) => label).sort(),
        );
        for (const [i, { from, to, bite }] of rows.entries()) {
          expect(bite!.number).toBe(i + 1);
          expect(to - from).toBeLessThanOrEqual(longBay.bed.length);
          for (const label of bite!.labels) {
            expect(reaches.get(label)!.minX).toBeGreaterThan(from - 1e-3);
            expect(reaches.get(label)!.maxX).toBeLessThan(to + 1e-3);
          }
        }
      }),
      { numRuns: 20 },
    );
  });

  it('shows what of other bites lies on the bed, white and without a name', () => {
    const parts = [part('a.1.A1', rectangle(2000, 300)), part('b.1.A1', rectangle(2000, 300))];
    const lay: Lay = {
      ...laidInARow(parts, longBay),
      placements: [
        { label: 'a.1.A1', x: 30, y: 30, rotation: 0 },
        { label: 'b.1.A1', x: 1500, y: 400, rotation: 0 },
      ],
    };
    const shown = rowsOf(lay, parts).map((row) => layPicture(lay, parts, [row]));
    expect(shown.map((picture) => seen(picture).parts.map(({ label }) => label))).toEqual([
      ['a.1.A1'],
      ['b.1.A1'],
    ]);
    for (const picture of shown) {
      const inner = elementsIn(readMarkup(picture)).filter(({ name }) => name === 'svg')[1]!;
      const others = childrenNamed(inner, 'path').map(({ attributes }) => attributes);
      expect(others).toHaveLength(1);
      expect(others[0]).toMatchObject({ fill: '#ffffff' });
    }
  });
});
