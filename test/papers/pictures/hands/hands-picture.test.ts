import { join } from 'node:path';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf } from '../../../../src/geometry/paths/area.ts';
import type { Box } from '../../../../src/geometry/paths/box.ts';
import { boxesOverlap, boxOfPoints, growBox } from '../../../../src/geometry/paths/box.ts';
import { boxOfPath, polyline } from '../../../../src/geometry/paths/path.ts';
import { transformPath } from '../../../../src/geometry/paths/transform.ts';
import type { Change } from '../../../../src/handing/redrawing/changes.ts';
import { changesOf } from '../../../../src/handing/redrawing/changes.ts';
import { centrelineMirror } from '../../../../src/handing/frame.ts';
import { handsPicture } from '../../../../src/papers/pictures/hands/hands-picture.ts';
import { readSet } from '../../../../src/pattern/set.ts';
import type { Hand } from '../../../../src/pattern/words.ts';
import { hands } from '../../../../src/pattern/words.ts';
import type { Contour } from '../../../support/contours.ts';
import { contourArea, holds } from '../../../support/contours.ts';
import { feature, oblong, piece } from '../../../handing/fixtures.ts';
import { randomSet } from '../../../handing/random-set.ts';
import { xmlFaults, xmlReader } from '../../python-readers.ts';
import type { Element } from '../../markup.ts';
import { childrenNamed, elementsIn, readMarkup, textOf } from '../../markup.ts';
import { contoursOfPath } from '../../path-data.ts';

const project = join(import.meta.dirname, '../../../..');
interface SeenPiece {
  readonly name: string;
  readonly outline: Contour;
  readonly isHatched: boolean;
  readonly isDashed: boolean;
}

/** A panel as its reader sees it: x from its centreline, y down the page. */
interface Panel {
  readonly middle: number;
  readonly pieces: readonly SeenPiece[];
  readonly labels: readonly { readonly words: string; readonly box: Box }[];
  readonly driverX: number;
}

interface Seen {
  readonly all: readonly Element[];
  readonly texts: readonly string[];
  readonly page: Box;
  readonly panels: readonly Panel[];
}

function seen(markup: string): Seen {
  const [svg] = childrenNamed(readMarkup(markup), 'svg');
  const all = elementsIn(svg!);
  const [, , width, height] = svg!.attributes['viewBox']!.split(' ').map(Number);
  const middles = all
    .filter(({ attributes }) => attributes['stroke-dasharray'] === '6 1.5 1 1.5')
    .map(({ attributes }) => Number(/^M([\d.]+)/.exec(attributes['d']!)![1]));
  const border = (middles[0]! + middles[1]!) / 2;
  const here = (x: number, i: number): boolean => x < border === (i === 0);
  const pieces = all.filter(({ name, children }) => {
    const [first] = children;
    return name === 'g' && typeof first === 'object' && first.name === 'title';
  });
  const labels = all
    .filter(({ name, attributes }) => name === 'g' && attributes['text-anchor'] === 'middle')
    .map(labelOf);
  const wheels = all.filter(
    ({ name, attributes }) => name === 'circle' && attributes['r'] === '5.5',
  );
  return {
    all,
    texts: all.filter(({ name }) => name === 'text').map(textOf),
    page: { minX: 0, minY: 0, maxX: width!, maxY: height! },
    panels: middles.map((middle, i) => ({
      middle,
      pieces: pieces.map(pieceOf).filter(({ outline }) => here(outline[0]!.x, i)),
      labels: labels.filter(({ box }) => here(box.minX, i)),
      driverX: Number(wheels[i]!.attributes['cx']) - middle,
    })),
  };
}

function pieceOf(group: Element): SeenPiece {
  const [filled] = childrenNamed(group, 'g');
  const fills = childrenNamed(filled!, 'path');
  const outline = childrenNamed(group, 'path').at(-1)!;
  return {
    name: textOf(childrenNamed(group, 'title')[0]!),
    outline: contoursOfPath(outline.attributes['d']!)[0]!,
    isHatched: fills.length > 1,
    isDashed: outline.attributes['stroke-dasharray'] !== undefined,
  };
}

/** A letter of a bold sans serif is about two thirds as wide as its size, and three quarters as high. */
function labelOf(group: Element): { words: string; box: Box } {
  const size = Number(group.attributes['font-size']);
  const boxes = childrenNamed(group, 'text').map((text) => {
    const [x, y] = [Number(text.attributes['x']), Number(text.attributes['y'])];
    const half = (textOf(text).length * size) / 3;
    return boxOfPoints([
      { x: x - half, y: y - 0.75 * size },
      { x: x + half, y },
    ]);
  });
  const corners = boxes.flatMap(({ minX, minY, maxX, maxY }) => [
    { x: minX, y: minY },
    { x: maxX, y: maxY },
  ]);
  return {
    words: childrenNamed(group, 'text').map(textOf).join(''),
    box: boxOfPoints(corners),
  };
}

const boxOf = (contour: Contour): Box =>
  boxOfPath({ closed: true, vertices: contour.map(({ x, y, bulge = 0 }) => ({ x, y, bulge })) });

const otherHand = (hand: Hand): Hand => (hand === 'RHD' ? 'LHD' : 'RHD');

/** Some set and the changes for either hand. */
const derived = fc.tuple(randomSet, fc.constantFrom(...hands)).map(([set, hand]) => ({
  drawn: set.content.drawn,
  hand,
  changes: changesOf(set, { hand, heelPads: 'driver' }),
}));

const fenlark = readSet(join(project, 'patterns/fenlark'), join(project, 'shared'));
const fenlarkPictures = (['driver', 'both', 'none'] as const).map((heelPads) => {
  const changes = changesOf(fenlark, { hand: 'LHD', heelPads });
  return seen(handsPicture(changes, 'RHD', 'LHD', fenlark.content.title));
});

/** A centre piece that goes with the driver, a mat that stays with a pad that does not, and one for RHD only. */
const dash = piece('dash', { outline: 'driver' }, oblong(-500, 800, 700, 1100), [
  feature('CUTOUT', oblong(300, 900, 400, 1000)),
  feature('HOLE', oblong(100, 900, 120, 920)),
]);
const mat = piece('mat', { side: 'pair', drawnSide: 'right' }, oblong(100, 0, 600, 600), [
  feature('PAD', oblong(200, 100, 500, 400), 'DRIVER'),
  feature('CUTOUT', oblong(200, 450, 300, 550)),
  feature('HOLE', oblong(540, 20, 580, 60), 'LEFT'),
]);
const rest = piece('rest', { side: 'right' }, oblong(300, 650, 400, 780), [
  feature('HOLE', oblong(320, 660, 340, 680), 'DRIVER'),
]);
const key = piece('key', { side: 'right', only: 'RHD' }, oblong(700, 100, 900, 300));
const small: Change[] = changesOf(
  { ...fenlark, pieces: [dash, mat, rest, key] },
  { hand: 'LHD', heelPads: 'driver' },
);

describe('the picture of both hands', () => {
  it('shows every outline once for each hand, all at one scale', () => {
    fc.assert(
      fc.property(derived, ({ drawn, hand, changes }) => {
        const { panels } = seen(handsPicture(changes, drawn, hand, 'a set'));
        const outlines = changes.filter((one) => one.feature === null);
        const scales: number[] = [];
        for (const [i, when] of (['before', 'after'] as const).entries()) {
          const meant = outlines.flatMap((one) => one[when].map((path) => ({ ...one, path })));
          expect(panels[i]!.pieces.map(({ name }) => name).sort()).toEqual(
            meant.map((one) => one.piece.name).sort(),
          );
          const areas = (some: readonly number[]): number[] => some.toSorted((a, b) => a - b);
          const shown = areas(panels[i]!.pieces.map(({ outline }) => contourArea(outline)));
          const real = areas(meant.map(({ path }) => areaOf(path)));
          scales.push(...shown.map((area, k) => area / real[k]!));
        }
        expect(Math.max(...scales) / Math.min(...scales)).toBeLessThan(1.02);
      }),
      { numRuns: 30 },
    );
  });

  it('shows each on its side of the centreline, what is further forward higher up', () => {
    fc.assert(
      fc.property(derived, ({ drawn, hand, changes }) => {
        const { panels } = seen(handsPicture(changes, drawn, hand, 'a set'));
        for (const [i, when] of (['before', 'after'] as const).entries()) {
          const { middle, pieces } = panels[i]!;
          expect(pieces.length).toBeGreaterThan(0);
          const scale = scaleOf(changes, panels);
          const meant = changes
            .filter((one) => one.feature === null)
            .flatMap((one) => one[when].map(boxOfPath));
          // Where the front of what lies foremost comes to stand.
          const front = Math.min(...pieces.map(({ outline }) => boxOf(outline).minY));
          const foremost = Math.max(...meant.map(({ maxY }) => maxY));
          for (const { outline } of pieces) {
            const at = boxOf(outline);
            const off = meant.map(({ minX, maxX, minY, maxY }) =>
              Math.max(
                Math.abs(at.minX - middle - scale * minX),
                Math.abs(at.maxX - middle - scale * maxX),
                Math.abs(at.minY - front - scale * (foremost - maxY)),
                Math.abs(at.maxY - front - scale * (foremost - minY)),
              ),
            );
            expect(Math.min(...off)).toBeLessThan(0.5);
          }
        }
      }),
      { numRuns: 30 },
    );
  });

  it('hatches what moved and nothing else, and breaks the line of what is there for one hand only', () => {
    fc.assert(
      fc.property(derived, ({ drawn, hand, changes }) => {
        const outlines = changes.filter((one) => one.feature === null);
        for (const { pieces } of seen(handsPicture(changes, drawn, hand, 'a set')).panels) {
          for (const { name, isHatched, isDashed } of pieces) {
            const change = outlines.find((one) => one.piece.name === name)!;
            expect(isHatched).toBe(change.moved);
            expect(isDashed).toBe(change.before.length === 0 || change.after.length === 0);
          }
        }
      }),
      { numRuns: 30 },
    );
    const [left, right] = seen(handsPicture(small, 'RHD', 'LHD', 'small')).panels;
    const marks = ({ pieces }: Panel): string[] =>
      pieces.map((one) => `${one.name} ${one.isHatched} ${one.isDashed}`).sort();
    expect(marks(left!)).toEqual([
      'dash true false',
      'key true true',
      'mat false false',
      'mat false false',
      'rest false false',
    ]);
    expect(marks(right!)).toEqual(marks(left!).filter((one) => !one.startsWith('key')));
  });

  it('draws each kind of edge in its stroke for both hands, with a key, and says what is usual', () => {
    const half = piece(
      'half',
      { side: 'pair', drawnSide: 'right', edge: 'tuck' },
      oblong(100, 0, 600, 600),
      [
        feature(
          'SEAM',
          polyline(
            [
              { x: 600, y: 600 },
              { x: 100, y: 600 },
            ],
            false,
          ),
        ),
        feature(
          'TURNED',
          polyline(
            [
              { x: 100, y: 0 },
              { x: 600, y: 0 },
            ],
            false,
          ),
          'DRIVER',
        ),
      ],
    );
    const changes = changesOf({ ...fenlark, pieces: [half] }, { hand: 'LHD', heelPads: 'none' });
    const { all, texts } = seen(handsPicture(changes, 'RHD', 'LHD', 'edges'));
    const drawn = (broken: string): Contour[] =>
      all
        .filter(({ attributes }) => attributes['stroke-dasharray'] === broken)
        .flatMap(({ attributes }) => contoursOfPath(attributes['d']!));
    // Two halves for each hand, and the key.
    expect(drawn('2 0.8')).toHaveLength(5);
    // What goes with the driver is there on one half of each hand.
    expect(drawn('2.6 0.8 0.5 0.8')).toHaveLength(3);
    // The front edges are higher up on the page than the rear ones.
    const height = (contours: Contour[]): number =>
      Math.min(...contours.map(([at]) => at!.y).filter((y) => y > 0));
    expect(height(drawn('2 0.8'))).toBeLessThan(height(drawn('2.6 0.8 0.5 0.8')));
    for (const words of ['seam', 'tuck edge', 'turned edge']) expect(texts).toContain(words);
    expect(texts).not.toContain('raw edge');
    expect(texts.join(' ')).toContain('Edges without a line are as "edge:" says: half.');
  });

  it('has the wheel on the driver’s side, and says which hand is which', () => {
    for (const drawn of hands) {
      const changes = changesOf(
        { ...fenlark, content: { ...fenlark.content, drawn } },
        { hand: otherHand(drawn), heelPads: 'driver' },
      );
      const { panels, texts } = seen(handsPicture(changes, drawn, otherHand(drawn), 'a set'));
      // RHD: the driver sits on the right.
      expect(panels.map(({ driverX }) => driverX > 0)).toEqual(
        drawn === 'RHD' ? [true, false] : [false, true],
      );
      expect(texts).toContain(`${drawn} as drawn`);
      expect(texts).toContain(`${otherHand(drawn)} as derived`);
      expect(texts.filter((text) => text === 'FRONT')).toHaveLength(2);
    }
  });

  it('counts each thing once in the legend', () => {
    const { texts } = seen(handsPicture(small, 'RHD', 'LHD', 'small'));
    // The dash with its cutout and hole; the mat and the rest; the pad; the mat's cutout and its
    // hole on the left; the key, and the rest's hole, which is there where the driver sits right.
    expect(texts).toContain('1 piece moved, 2 features with them');
    expect(texts).toContain('2 pieces and 2 features stay');
    expect(texts).toContain('1 feature moved, the piece stays');
    expect(texts).toContain('2 pieces or features for one hand only');
  });

  it('marks a feature that moved by itself in both panels, and rings a small one', () => {
    const { all, panels } = seen(handsPicture(small, 'RHD', 'LHD', 'small'));
    const marks = all.filter(
      ({ name, attributes }) => name === 'path' && attributes['stroke'] === '#6b2604',
    );
    const closed = marks
      .filter(({ attributes }) => attributes['d']!.endsWith('Z') && attributes['fill'] === 'none')
      .map(({ attributes }) => boxOf(contoursOfPath(attributes['d']!)[0]!));
    const scale = scaleOf(small, panels);
    const pads = closed.filter(({ minX, maxX }) => Math.abs(maxX - minX - 300 * scale) < 0.1);
    const middles = pads.map(({ minX, maxX }, i) => (minX + maxX) / 2 - panels[i]!.middle);
    expect(middles[0]).toBeCloseTo(350 * scale, 1);
    expect(middles[1]).toBeCloseTo(-350 * scale, 1);
    // The rest's hole, 20 mm of the vehicle.
    const rings = all.filter(
      ({ name, attributes }) => name === 'circle' && attributes['stroke'] === '#6b2604',
    );
    expect(rings).toHaveLength(1);
    expect(rings[0]!.attributes['stroke-dasharray']).toBeDefined();
  });

  it('names every outline on itself, or numbers it and explains the number', () => {
    const random = fc
      .sample(derived, { numRuns: 20, seed: 7 })
      .map(({ drawn, hand, changes }) => seen(handsPicture(changes, drawn, hand, 'a set')));
    for (const { panels, texts } of [...fenlarkPictures, ...random]) {
      expect(panels).toHaveLength(2);
      for (const { pieces, labels } of panels) {
        expect(labels).toHaveLength(pieces.length);
        for (const { words, box } of labels) {
          const [x, y] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
          const name = /^\d+$/.test(words) ? texts[texts.lastIndexOf(words) + 1] : words;
          const on = pieces.filter(({ outline }) => holds(outline, x, y));
          expect(on.map((one) => one.name)).toContain(name);
        }
      }
    }
  });

  it('lets no two names lie on each other', () => {
    for (const { panels } of fenlarkPictures) {
      for (const { labels } of panels) {
        expect(labels.length).toBeGreaterThan(0);
        for (const [i, { box }] of labels.entries()) {
          const covered = labels.slice(i + 1).filter((other) => boxesOverlap(box, other.box));
          expect(covered.map(({ words }) => words)).toEqual([]);
        }
      }
    }
  });

  it('has nothing outside its page', () => {
    const longTitle = 'Van of a name that goes on and on, '.repeat(8);
    const many = Array.from({ length: 300 }, (_, i) =>
      piece(`extension-number-${i}`, { side: 'right' }, oblong(i * 20, 0, i * 20 + 15, 15)),
    );
    const pictures = [
      handsPicture(small, 'RHD', 'LHD', longTitle),
      handsPicture(
        changesOf({ ...fenlark, pieces: many }, { hand: 'LHD', heelPads: 'none' }),
        'RHD',
        'LHD',
        'many',
      ),
    ].map(seen);
    for (const { all, page, panels } of [...fenlarkPictures, ...pictures]) {
      expect(page.maxX / page.maxY).toBeLessThan(1.42);
      for (const { pieces, labels } of panels) {
        const boxes = [...pieces.map(({ outline }) => boxOf(outline)), ...labels.map((l) => l.box)];
        for (const box of boxes) expect(boxesInside(box, page)).toBe(true);
      }
      for (const { name, attributes, children } of all) {
        if (name !== 'text' || attributes['text-anchor'] === 'middle') continue;
        if (attributes['x'] === undefined || attributes['y'] === undefined) continue;
        const size = Number(attributes['font-size'] ?? 3.6);
        const end = Number(attributes['x']) + children.join('').length * 0.5 * size;
        expect(end).toBeLessThan(page.maxX);
        expect(Number(attributes['y'])).toBeLessThan(page.maxY);
      }
    }
  });

  it('is the same for the same set', () => {
    fc.assert(
      fc.property(derived, ({ drawn, hand, changes }) => {
        const picture = (): string => handsPicture(structuredClone(changes), drawn, hand, 'a set');
        expect(picture()).toBe(picture());
      }),
      { numRuns: 5 },
    );
  });

  it.skipIf(xmlReader.missing)(`is XML whatever the title${xmlReader.note}`, () => {
    const title = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 12 }),
      fc.constantFrom('<b>', '&amp;', `"'`, ']]>', '<!--', '三角', '\u0000\u000B\uFFFE\uD800', ''),
    );
    const pictures = fc
      .sample(title, { numRuns: 40, seed: 3 })
      .map((words) => handsPicture(small, 'RHD', 'LHD', words));
    expect(xmlFaults(pictures)).toEqual(pictures.map(() => null));
  });

  it('draws a piece that changed side as the mirror image of itself', () => {
    const [left, right] = seen(handsPicture(small, 'RHD', 'LHD', 'small')).panels;
    const [before, after] = [left!, right!].map(({ pieces, middle }) => {
      const { minX, maxX } = boxOf(pieces.find(({ name }) => name === 'dash')!.outline);
      return [minX - middle, maxX - middle];
    });
    const image = boxOfPath(transformPath(centrelineMirror, dash.outline));
    expect(after![0]! / image.minX).toBeCloseTo(before![1]! / 700, 2);
    expect(after![0]).toBeCloseTo(-before![1]!, 1);
    expect(after![1]).toBeCloseTo(-before![0]!, 1);
  });
});

/** mm on the page to a mm of the vehicle, from the largest outline. */
function scaleOf(changes: readonly Change[], panels: readonly Panel[]): number {
  const real = changes.flatMap((one) =>
    one.feature === null ? [...one.before, ...one.after].map(areaOf) : [],
  );
  const shown = panels.flatMap(({ pieces }) => pieces.map(({ outline }) => contourArea(outline)));
  return Math.sqrt(Math.max(...shown) / Math.max(...real));
}

function boxesInside(inner: Box, outer: Box): boolean {
  const { minX, minY, maxX, maxY } = growBox(outer, 1e-6);
  return inner.minX >= minX && inner.minY >= minY && inner.maxX <= maxX && inner.maxY <= maxY;
}
