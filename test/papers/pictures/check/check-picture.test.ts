import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding, Severity } from '../../../../src/base/findings.ts';
import { areaOf } from '../../../../src/geometry/paths/area.ts';
import type { Point } from '../../../../src/geometry/paths/point.ts';
import { distance } from '../../../../src/geometry/paths/point.ts';
import { checkPicture } from '../../../../src/papers/pictures/check/check-picture.ts';
import { listedWords, listFindings } from '../../../../src/papers/pictures/check/finding-list.ts';
import type { PatternSet } from '../../../../src/pattern/set.ts';
import { contourArea } from '../../../support/contours.ts';
import { feature, line, oblong, patternSet, piece } from '../../../handing/fixtures.ts';
import { randomSet } from '../../../handing/random-set.ts';
import { xmlFaults, xmlReader } from '../../python-readers.ts';
import type { Element } from '../../markup.ts';
import { childrenNamed, elementsIn, readMarkup, textOf } from '../../markup.ts';
import { contoursOfPath } from '../../path-data.ts';

/** A number in a ring. */
interface Ring extends Point {
  readonly number: string;
  readonly look: string;
}

interface Seen {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly { readonly words: string; readonly x: number; readonly y: number }[];
  readonly rings: readonly Ring[];
  /** Where findings lie, and the outlines of pieces. */
  readonly spots: readonly Point[];
  readonly outlines: readonly ReturnType<typeof contoursOfPath>[number][];
}

function seen(markup: string): Seen {
  const [svg] = childrenNamed(readMarkup(markup), 'svg');
  const all = elementsIn(svg!);
  const [, , width, height] = svg!.attributes['viewBox']!.split(' ').map(Number);
  const circles = all.filter(({ name }) => name === 'circle');
  const place = ({ attributes }: Element): Point => {
    return { x: Number(attributes['cx']), y: Number(attributes['cy']) };
  };
  return {
    width: width!,
    height: height!,
    texts: all
      // Those of the legend stand where their group does.
      .filter(({ name, attributes }) => name === 'text' && attributes['y'] !== undefined)
      .map((text) => ({
        words: textOf(text),
        x: Number(text.attributes['x']),
        y: Number(text.attributes['y']),
      })),
    rings: circles
      .filter(({ attributes }) => attributes['r'] === '2.5')
      .map((circle) => ({
        ...place(circle),
        number: textOf(all[all.indexOf(circle) + 1]!),
        look: `${circle.attributes['fill']} ${circle.attributes['stroke-dasharray'] ?? 'full'}`,
      })),
    spots: circles.filter(({ attributes }) => attributes['r'] === '0.7').map(place),
    outlines: all
      .filter(({ attributes }) => attributes['fill'] === '#eef0ee')
      .map(({ attributes }) => contoursOfPath(attributes['d']!)[0]!),
  };
}

/** Without what stands in the head: one ring for each severity. */
const marks = ({ rings }: Seen): readonly Ring[] => rings.slice(3);

function found(severity: Severity, where: Finding['where'], message = 'wrong.'): Finding {
  return { severity, rule: 'rule', message, todo: 'Mend it.', where };
}

/** Findings on the corners of pieces, on pieces, and on the set. */
const findingsOn = (set: PatternSet): fc.Arbitrary<Finding[]> => {
  const corners = set.pieces.flatMap((one) =>
    one.outline.vertices.map(({ x, y }) => ({ piece: one.name, at: { x, y } })),
  );
  const where = fc.oneof(
    { weight: 5, arbitrary: fc.constantFrom<Finding['where']>(...corners) },
    fc.constantFrom<Finding['where']>({}, { piece: set.pieces[0]!.name }),
  );
  const one = fc
    .tuple(fc.constantFrom<Severity>('error', 'warning', 'note'), where, fc.nat())
    .map(([severity, there, n]) => found(severity, there, `number ${n}.`));
  return fc.uniqueArray(one, { maxLength: 25, selector: ({ message }) => message });
};
const checked = randomSet.chain((set) => findingsOn(set).map((findings) => ({ set, findings })));

describe('the picture of findings', () => {
  it('draws every piece in the order of the set, in its own shape', () => {
    fc.assert(
      fc.property(randomSet, (set) => {
        const { outlines, texts } = seen(checkPicture(set, []));
        expect(outlines).toHaveLength(set.pieces.length);
        for (const [i, { name, outline }] of set.pieces.entries()) {
          const shown = outlines[i]!;
          const scale = scaleOf(shown, outline.vertices);
          expect(Math.sqrt(contourArea(shown) / areaOf(outline)) / scale).toBeCloseTo(1, 1);
          const left = Math.min(...shown.map((v) => v.x));
          const top = Math.min(...shown.map((v) => v.y));
          const [xs, ys] = [outline.vertices.map((v) => v.x), outline.vertices.map((v) => v.y)];
          for (const { x, y } of outline.vertices) {
            // y runs down the page.
            const there = {
              x: left + scale * (x - Math.min(...xs)),
              y: top + scale * (Math.max(...ys) - y),
            };
            expect(Math.min(...shown.map((v) => distance(v, there)))).toBeLessThan(0.1);
          }
          expect(texts.map(({ words }) => words)).toContain(name);
        }
      }),
      { numRuns: 30 },
    );
  });

  it('has every finding once in the list, and once with its piece unless it is the set’s', () => {
    fc.assert(
      fc.property(checked, ({ set, findings }) => {
        const shown = seen(checkPicture(set, findings));
        const listed = listFindings(set, findings).flatMap((group) =>
          group.findings.map((one) => ({ ...one, isOnPiece: group.piece !== null })),
        );
        const meant = listed.flatMap(({ number, isOnPiece }) =>
          isOnPiece ? [String(number), String(number)] : [String(number)],
        );
        expect(
          marks(shown)
            .map(({ number }) => number)
            .sort(),
        ).toEqual(meant.sort());
        const words = shown.texts.map((text) => text.words).join(' ');
        for (const one of listed) {
          expect(words).toContain(`${one.finding.severity}: ${listedWords(one)}`);
        }
      }),
      { numRuns: 30 },
    );
  });

  it('points at the place itself, one dot for each finding that has one', () => {
    const mat = piece('mat', {}, oblong(0, 0, 400, 300));
    const set = patternSet('RHD', [mat]);
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 0, max: 300 }))),
        (places) => {
          const findings = places.map(([x, y], i) =>
            found('error', { piece: 'mat', at: { x, y } }, `number ${i}.`),
          );
          const { outlines, spots } = seen(checkPicture(set, findings));
          const scale = scaleOf(outlines[0]!, mat.outline.vertices);
          const left = Math.min(...outlines[0]!.map((v) => v.x));
          const bottom = Math.max(...outlines[0]!.map((v) => v.y));
          expect(spots).toHaveLength(places.length);
          for (const [i, [x, y]] of places.entries()) {
            const there = { x: left + scale * x, y: bottom - scale * y };
            expect(distance(spots[i]!, there)).toBeLessThan(0.05);
          }
        },
      ),
      { numRuns: 30 },
    );
  });

  it('lets no ring lie on another or on a place, as long as there is room', () => {
    const mat = piece('mat', {}, oblong(0, 0, 1000, 800));
    const places = [0, 10, 20, 500, 505, 1000].map((x) => ({ x, y: x * 0.8 }));
    const findings = places.map((at, i) => found('warning', { piece: 'mat', at }, `number ${i}.`));
    const shown = seen(checkPicture(patternSet('RHD', [mat]), findings));
    const rings = marks(shown).slice(0, places.length);
    expect(rings).toHaveLength(places.length);
    expect(shown.spots).toHaveLength(places.length);
    for (const [i, ring] of rings.entries()) {
      for (const other of rings.slice(i + 1)) expect(distance(ring, other)).toBeGreaterThan(5);
      for (const spot of shown.spots) expect(distance(ring, spot)).toBeGreaterThan(2.5);
      expect(distance(ring, shown.spots[i]!)).toBeLessThan(20);
    }
  });

  it('hides none of many findings at one place', () => {
    const mat = piece('mat', {}, oblong(0, 0, 1000, 800));
    const at = { x: 500, y: 400 };
    const findings = Array.from({ length: 14 }, (_, i) =>
      found('error', { piece: 'mat', at }, `number ${i}.`),
    );
    const rings = marks(seen(checkPicture(patternSet('RHD', [mat]), findings))).slice(0, 14);
    for (const [i, ring] of rings.entries()) {
      for (const other of rings.slice(0, i)) expect(distance(ring, other)).toBeGreaterThan(5);
    }
  });

  it('has figures by which a place is found, where something is found', () => {
    const mat = piece('mat', {}, oblong(-300, 1200, 500, 1800));
    const set = patternSet('RHD', [mat]);
    const figures = (findings: readonly Finding[]): Element[] => {
      const all = elementsIn(readMarkup(checkPicture(set, findings)));
      const group = all.find(({ attributes }) => attributes['font-size'] === '2.5');
      return group === undefined ? [] : childrenNamed(group, 'text');
    };
    expect(figures([])).toEqual([]);
    const findings = [found('error', { piece: 'mat', at: { x: 130, y: 1410 } })];
    const [spot] = seen(checkPicture(set, findings)).spots;
    // What the figures say by the rule of three.
    const read = (anchor: string, axis: 'x' | 'y', on: number): number => {
      const [first, ...more] = figures(findings)
        .filter(({ attributes }) => attributes['text-anchor'] === anchor)
        .map((text) => ({ value: Number(textOf(text)), at: Number(text.attributes[axis]) }));
      const last = more.at(-1)!;
      return (
        first!.value + ((on - first!.at) / (last.at - first!.at)) * (last.value - first!.value)
      );
    };
    expect(read('middle', 'x', spot!.x)).toBeCloseTo(130, -1);
    // A figure stands a little below its tick.
    expect(Math.abs(read('end', 'y', spot!.y) - 1410)).toBeLessThan(15);
  });

  it('says which edges have their kind from "edge:" alone, and which options are usual', () => {
    const traced = [feature('BOUND', line(0, 0, 400, 0))];
    const said = (edge: 'tuck' | undefined, traces = traced): string => {
      const mat = piece('mat', { edge }, oblong(0, 0, 400, 300), traces);
      const options = { drain: { words: 'a drain', default: false } };
      const { texts } = seen(checkPicture(patternSet('RHD', [mat], { options }), []));
      return texts.map(({ words }) => words).join('; ');
    };
    expect(said('tuck')).toContain('without a line: tuck edge');
    expect(said(undefined)).not.toContain('without a line');
    expect(said('tuck', [feature('RAW', oblong(0, 0, 400, 300))])).not.toContain('without a line');
    expect(said('tuck')).toContain('options that are usual: no a drain');
  });

  it('brings what is found on a mirrored part back to the drawn half', () => {
    const mat = piece('mat', { side: 'pair', drawnSide: 'right' }, oblong(100, 0, 500, 300));
    const set = patternSet('RHD', [mat]);
    const place = (part: string, x: number): Point =>
      seen(checkPicture(set, [found('error', { piece: 'mat', part, at: { x, y: 0 } })])).spots[0]!;
    expect(place('mat-left', -500)).toEqual(place('mat-right', 500));
  });

  it('tells errors, warnings and notes apart without colour', () => {
    const { rings } = seen(
      checkPicture(patternSet('RHD', [piece('a', {}, oblong(0, 0, 9, 9))]), []),
    );
    const looks = rings.map(({ look }) => look);
    expect(new Set(looks).size).toBe(3);
    const [error, warning, note] = looks;
    // Dark inside; white inside; white inside with a broken ring.
    expect(error).toMatch(/^#[0-9a-f]{6} full$/);
    expect(brightness(error!)).toBeLessThan(0.3);
    expect(warning).toBe('#ffffff full');
    expect(note).toMatch(/^#ffffff \d/);
  });

  it('draws each kind of edge with the stroke that the legend shows', () => {
    const traced = [
      feature('BOUND', line(0, 0, 400, 0)),
      feature('SEAM', line(400, 0, 400, 300)),
      feature('TUCK', line(400, 300, 0, 300)),
    ];
    const mat = piece('mat', { edge: undefined }, oblong(0, 0, 400, 300), traced);
    const markup = checkPicture(patternSet('RHD', [mat]), []);
    const [svg] = childrenNamed(readMarkup(markup), 'svg');
    const all = elementsIn(svg!);
    const lookOf = ({ attributes }: Element): string =>
      [attributes['stroke'], attributes['stroke-width'], attributes['stroke-dasharray']].join(' ');
    const legend = new Map(
      all.flatMap((one, i) => {
        const next = all[i + 1];
        const isEntry = next?.name === 'text' && next.attributes['y'] === undefined;
        return isEntry ? [[textOf(next), lookOf(one)] as const] : [];
      }),
    );
    expect([...legend.keys()]).toEqual([
      'bound edge',
      'seam',
      'tuck edge',
      'turned edge',
      'raw edge',
      'edge not said yet',
    ]);
    expect(new Set(legend.values()).size).toBe(6);
    const [outline] = seen(markup).outlines;
    const xs = outline!.map(({ x }) => x);
    const ys = outline!.map(({ y }) => y);
    const drawnAs = (words: string): Point[] =>
      all
        .filter((one) => one.attributes['d'] !== undefined && lookOf(one) === legend.get(words))
        .flatMap(({ attributes }) => contoursOfPath(attributes['d']!).flat())
        .filter(({ x, y }) => x >= Math.min(...xs) - 0.01 && y >= Math.min(...ys) - 0.01);
    // y runs down the page: the bound edge is the lowest, the seam the rightmost, the tuck the highest.
    for (const { y } of drawnAs('bound edge')) expect(y).toBeCloseTo(Math.max(...ys), 1);
    for (const { x } of drawnAs('seam')) expect(x).toBeCloseTo(Math.max(...xs), 1);
    for (const { y } of drawnAs('tuck edge')) expect(y).toBeCloseTo(Math.min(...ys), 1);
    for (const words of ['bound edge', 'seam', 'tuck edge']) expect(drawnAs(words)).toHaveLength(2);
    expect(drawnAs('raw edge')).toEqual([]);
    for (const { x } of drawnAs('edge not said yet')) expect(x).toBeCloseTo(Math.min(...xs), 1);
    expect(drawnAs('edge not said yet')).toHaveLength(2);
  });

  it('names a piece that could not be read, with what was found on it', () => {
    const set = patternSet('RHD', [piece('mat', {}, oblong(0, 0, 400, 300))]);
    const unread = {
      ...set,
      content: {
        ...set.content,
        pieces: { ...set.content.pieces, lid: set.content.pieces['mat']! },
      },
    };
    const findings = [found('error', { piece: 'lid', at: { x: 1, y: 1 } })];
    const shown = seen(checkPicture(unread, findings));
    expect(shown.texts.map(({ words }) => words)).toContain('could not be read');
    expect(marks(shown).map(({ number }) => number)).toEqual(['1', '1']);
    const name = shown.texts.find(({ words }) => words === 'lid')!;
    expect(Math.abs(marks(shown)[0]!.y - name.y)).toBeLessThan(3);
  });

  it('has nothing outside its page', () => {
    const path = '/very/long/way/'.repeat(30);
    fc.assert(
      fc.property(checked, ({ set, findings }) => {
        const far = findings.map((one) => ({ ...one, todo: `${one.todo} ${path}` }));
        const { width, height, texts, rings, outlines } = seen(checkPicture(set, far));
        expect(rings.length).toBeGreaterThanOrEqual(findings.length);
        expect(outlines.length).toBeGreaterThan(0);
        for (const { x, y } of [...rings, ...outlines.flat()]) {
          expect(x).toBeGreaterThan(0);
          expect(x).toBeLessThan(width);
          expect(y).toBeGreaterThan(0);
          expect(y).toBeLessThan(height);
        }
        for (const { words, x, y } of texts) {
          // A letter of a regular sans serif is about half as wide as its size of 3.2.
          if (words.length > 3) expect(x + words.length * 1.6).toBeLessThan(width);
          expect(y).toBeLessThan(height);
        }
      }),
      { numRuns: 30 },
    );
  });

  it('is the same for the same findings', () => {
    fc.assert(
      fc.property(checked, ({ set, findings }) => {
        expect(
          checkPicture(
            structuredClone({ content: set.content, pieces: set.pieces, leftOut: set.leftOut }),
            findings,
          ),
        ).toBe(checkPicture(set, findings));
      }),
      { numRuns: 5 },
    );
  });

  it.skipIf(xmlReader.missing)(`is XML whatever is said${xmlReader.note}`, () => {
    const words = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 12 }),
      fc.constantFrom('<b>', '&amp;', `"'`, ']]>', '<!--', '三角', '\u0000\u000B\uFFFE\uD800', ''),
    );
    const mat = piece('mat', {}, oblong(0, 0, 400, 300), [feature('HOLE', oblong(9, 9, 20, 20))]);
    const pictures = fc.sample(fc.tuple(words, words), { numRuns: 60, seed: 3 }).map(([a, b]) => {
      const set = patternSet('RHD', [mat]);
      const titled = { ...set, content: { ...set.content, title: a } };
      return checkPicture(titled, [found('error', { file: b, piece: 'mat', part: a }, b)]);
    });
    expect(xmlFaults(pictures)).toEqual(pictures.map(() => null));
  });
});

/** Of a colour #rrggbb as a grey, 0 to 1, by the weights of ITU-R BT.601 [M]. */
function brightness(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => Number.parseInt(colour.slice(i, i + 2), 16) / 255);
  return 0.299 * r! + 0.587 * g! + 0.114 * b!;
}

/** mm on the page to a mm of the piece, by how far its corners spread. */
function scaleOf(shown: readonly Point[], drawn: readonly Point[]): number {
  const spread = (points: readonly Point[]): number => {
    const xs = points.map(({ x }) => x);
    return Math.max(...xs) - Math.min(...xs);
  };
  return spread(shown) / spread(drawn);
}

it('shows what lies in no outline, while the set asks about it', () => {
  const set = patternSet('RHD', [piece('mat', {}, oblong(0, 0, 400, 300))]);
  const words = (leftOut: PatternSet['leftOut']): string[] =>
    seen(checkPicture({ ...set, leftOut }, [])).texts.map((one) => one.words);
  expect(words([]).filter((one) => one.startsWith('In no outline'))).toEqual([]);
  const stray = { kind: 'path', layer: 'DIMS', line: 1, path: oblong(900, 0, 990, 40) } as const;
  const text = {
    kind: 'text',
    layer: 'NOTE',
    line: 1,
    at: { x: 900, y: 90 },
    text: 'to scale',
    height: 5,
    deg: 0,
  } as const;
  expect(words([stray, text])).toEqual(
    expect.arrayContaining(['In no outline: 2', 'DIMS', 'to scale']),
  );
});

it('draws what no layer explains broken, with its layer, and a centreline as far as its piece goes', () => {
  const plain = piece('mat', {}, oblong(0, 0, 400, 300));
  const red = { kind: 'path', layer: 'RED', line: 1, path: oblong(50, 50, 90, 90) } as const;
  const axis = { from: { x: 200, y: -5000 }, to: { x: 200, y: 5000 } };
  const markup = (one: typeof plain): string => checkPicture(patternSet('RHD', [one]), []);
  const drawn = (one: typeof plain): Element[] =>
    elementsIn(childrenNamed(readMarkup(markup(one)), 'svg')[0]!);
  const isBroken = ({ attributes }: Element): boolean =>
    attributes['stroke-dasharray'] === '1.2 0.6';
  expect(drawn(plain).filter(isBroken)).toEqual([]);
  const unclear = { ...plain, axis, unknown: [red] };
  const all = drawn(unclear);
  const [broken, ...more] = all.filter(isBroken);
  expect(more).toEqual([]);
  expect(all.map(textOf)).toContain('RED');
  const [outline] = seen(markup(unclear)).outlines;
  // 40 mm of 400, at the scale of its piece.
  const width = (points: readonly Point[]): number =>
    Math.max(...points.map(({ x }) => x)) - Math.min(...points.map(({ x }) => x));
  const shown = contoursOfPath(broken!.attributes['d']!)[0]!;
  expect(width(shown) / width(outline!)).toBeCloseTo(0.1, 2);
  const axisLine = all.find(({ attributes }) => attributes['stroke-dasharray'] === '4 1 0.8 1');
  const ys = [...axisLine!.attributes['d']!.matchAll(/[ML][\d.-]+ ([\d.-]+)/g)].map(([, y]) =>
    Number(y),
  );
  const edges = outline!.map(({ y }) => y);
  expect(Math.max(...ys)).toBeCloseTo(Math.max(...edges), 1);
  expect(Math.min(...ys)).toBeCloseTo(Math.min(...edges), 1);
});
