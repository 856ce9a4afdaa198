import { describe, expect, it } from 'vitest';
import { rulerMarks } from '../../../../src/web/page/roll-picture/drawing/ruler.ts';
import { defectBetween } from '../../../../src/web/page/roll-picture/places/defect.ts';
import { canGlide, gliding } from '../../../../src/web/page/roll-picture/places/glide.ts';
import { isInside, partAt, labelRoom } from '../../../../src/web/page/roll-picture/places/hit.ts';
import {
  placeBetween,
  inPart,
  layOut,
  layOutTried,
  nextTurn,
  onRoll,
  placePart,
  placeWith,
  lengthReached,
} from '../../../../src/web/page/roll-picture/places/placing.ts';
import {
  boxWords,
  placedWords,
  walkFrom,
} from '../../../../src/web/page/roll-picture/places/walk.ts';
import { chosen } from '../../../../src/web/page/roll-picture/selecting.ts';
import { picturedPart } from './parts.ts';

const parts = ['a', 'b', 'c'].map((label) => picturedPart(label));
const placed = layOut(parts, [
  { label: 'b', x: 300, y: 0, rotation: 0 },
  { label: 'a', x: 100, y: 0, rotation: 90 },
  { label: 'c', x: 300, y: 200, rotation: 180 },
  { label: 'nobody', x: 0, y: 0, rotation: 0 },
]);

describe('parts on the roll', () => {
  it('lie turned counter-clockwise about their origins, and moved', () => {
    const [b, a, c] = placed;
    expect(placed).toHaveLength(3);
    expect(b!.box).toEqual([300, 0, 400, 60]);
    expect(a!.box.map(Math.round)).toEqual([40, 0, 100, 100]);
    expect(c!.box.map(Math.round)).toEqual([200, 140, 300, 200]);
    expect(lengthReached(placed)).toBe(400);
  });

  it('are placed as a search tries them', () => {
    const tried = layOutTried(parts, { labels: ['a', 'b'], places: [1, 2, 0, 3, 4, 90] });
    expect(tried.map(({ place }) => place)).toEqual([
      { x: 1, y: 2, rotation: 0 },
      { x: 3, y: 4, rotation: 90 },
    ]);
  });

  it('are found where they lie, the topmost first', () => {
    expect(partAt(placed, { x: 310, y: 10 })?.part.label).toBe('b');
    expect(partAt(placed, { x: 90, y: 95 })?.part.label).toBe('a');
    expect(partAt(placed, { x: 110, y: 10 })).toBeNull();
    const twice = layOut(parts, [
      { label: 'a', x: 0, y: 0, rotation: 0 },
      { label: 'b', x: 0, y: 0, rotation: 0 },
    ]);
    expect(partAt(twice, { x: 5, y: 5 })?.part.label).toBe('b');
  });

  it('are missed in their bays', () => {
    const bay = [0, 0, 100, 0, 100, 100, 60, 100, 60, 20, 40, 20, 40, 100, 0, 100];
    expect(isInside(bay, { x: 50, y: 50 })).toBe(false);
    expect(isInside(bay, { x: 50, y: 10 })).toBe(true);
    expect(isInside(bay, { x: 20, y: 50 })).toBe(true);
  });

  it('have room for upright text as they are turned', () => {
    const flat = labelRoom(placePart(parts[0]!, { x: 0, y: 0, rotation: 0 }));
    const upright = labelRoom(placePart(parts[0]!, { x: 0, y: 0, rotation: 90 }));
    expect([flat.width, flat.height].map(Math.round)).toEqual([100, 60]);
    expect([upright.width, upright.height].map(Math.round)).toEqual([60, 100]);
    const aside = picturedPart('d', { at: [10, 30] });
    expect(labelRoom(placePart(aside, { x: 0, y: 0, rotation: 0 })).width).toBeCloseTo(20);
  });

  it('turn about the spot that is held', () => {
    const place = { x: 100, y: 50, rotation: 30 };
    const own = inPart(place, { x: 120, y: 80 });
    const turned = placeWith(own, 120, { x: 120, y: 80 });
    expect(onRoll(turned, own).x).toBeCloseTo(120);
    expect(onRoll(turned, own).y).toBeCloseTo(80);
  });

  it('turn to the next that is allowed', () => {
    expect(nextTurn([180, 0], 0)).toBe(180);
    expect(nextTurn([0, 180], 180)).toBe(0);
    expect(nextTurn([-90, 90], 100)).toBe(270);
    expect(nextTurn([45], 45)).toBe(45);
    expect(nextTurn([], 30)).toBe(30);
  });
});

describe('a glide', () => {
  it('goes the shorter way round', () => {
    const [from, to] = [
      { x: 0, y: 0, rotation: 350 },
      { x: 10, y: 20, rotation: 10 },
    ];
    expect(placeBetween(from, to, 0.5)).toEqual({ x: 5, y: 10, rotation: 360 });
  });

  it('begins and ends where the lays are', () => {
    const moved = layOut(parts, [{ label: 'b', x: 500, y: 10, rotation: 0 }]);
    expect(canGlide(placed, moved)).toBe(true);
    expect(canGlide(placed, placed)).toBe(false);
    expect(canGlide([], moved)).toBe(false);
    expect(gliding(placed, moved, 0)[0]!.place.x).toBe(300);
    expect(gliding(placed, moved, 1)[0]!.place.x).toBe(500);
  });
});

describe('a walk along the roll', () => {
  it('comes to every part and round again', () => {
    const walk = [1, 1, 1, 1].reduce<(string | null)[]>(
      (seen) => [...seen, walkFrom(placed, seen.at(-1)!, 1)?.part.label ?? null],
      [null],
    );
    expect(walk).toEqual([null, 'a', 'c', 'b', 'a']);
    expect(walkFrom(placed, 'a', -1)?.part.label).toBe('b');
    expect(walkFrom(placed, null, -1)?.part.label).toBe('b');
    expect(walkFrom([], null, 1)).toBeNull();
  });

  it('is told in words', () => {
    // Turned, its origin is no corner of where it lies.
    const turned = placePart(picturedPart('d'), { x: 300, y: 0, rotation: 90 });
    expect(boxWords(turned.box)).toBe('240 to 300 mm along, 0 to 100 mm across');
    expect(placedWords(placed[0]!, true, false)).toBe(
      'cab-floor, order 1041, set 1, 300 mm along, 0 mm across, pinned',
    );
  });
});

describe('what is selected', () => {
  it('is picked, added to and taken out again', () => {
    expect([...chosen(new Set(['a']), 'b', false)]).toEqual(['b']);
    expect([...chosen(new Set(['a']), 'b', true)]).toEqual(['a', 'b']);
    expect([...chosen(new Set(['a', 'b']), 'b', true)]).toEqual(['a']);
    expect([...chosen(new Set(['a']), null, false)]).toEqual([]);
    expect([...chosen(new Set(['a']), null, true)]).toEqual(['a']);
  });
});

describe('a defect that is drawn', () => {
  it('is a rectangle of whole mm on the roll', () => {
    expect(
      defectBetween({ x: 50.4, y: 90.6 }, { x: -20, y: 10.2 }, { width: 80, length: null }),
    ).toEqual([
      [0, 10],
      [50, 10],
      [50, 80],
      [0, 80],
    ]);
  });

  it('is none beside the roll', () => {
    expect(defectBetween({ x: 5, y: -10 }, { x: 9, y: -3 }, { width: 80, length: 100 })).toBeNull();
    expect(
      defectBetween({ x: 105, y: 1 }, { x: 190, y: 3 }, { width: 80, length: 100 }),
    ).toBeNull();
  });
});

describe('the ruler', () => {
  it('has figures no closer than they can be read', () => {
    const marks = rulerMarks(0, 2000, 0.2, 80);
    expect(marks.filter(({ figure }) => figure !== null).map(({ figure }) => figure)).toEqual([
      '0.0 m',
      '0.5 m',
      '1.0 m',
      '1.5 m',
      '2.0 m',
    ]);
    expect(marks).toHaveLength(21);
  });

  it('begins with the roll and lies still', () => {
    expect(rulerMarks(-500, 100, 8, 80)[0]).toEqual({ at: 0, figure: '0.00 m' });
    expect(rulerMarks(1234, 1300, 1, 80)[0]!.at).toBe(1240);
  });
});
