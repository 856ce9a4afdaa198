import { describe, expect, it } from 'vitest';
import type { RunContent } from '../../../src/run/run-file.ts';
import { runSchema } from '../../../src/run/run-file.ts';
import type { PartMove } from '../../../src/web/api/lay.ts';
import type { PicturedLay } from '../../../src/web/api/pictured.ts';
import { withLays, withMove, withoutLaid } from '../../../src/web/workshop/lays-in-run.ts';

function contentOf(rolls: unknown): RunContent {
  const orders = [{ order: 'A1', set: 'wren', hand: 'RHD' }];
  return runSchema.parse({ title: 'a week', cutter: 'long-bay', orders, rolls });
}

function pin(part: string, x: number, y = 0, rotation = 0) {
  return { part, at: [x, y], rotation };
}

function layOf(material: string, roll: string | null, ...labels: string[]): PicturedLay {
  const placements = labels.map((label, i) => ({ label, x: 100 * (i + 1), y: 50, rotation: 90 }));
  return {
    material,
    colour: null,
    roll,
    placements,
    pinned: [],
    length: 1000,
    density: 0.5,
    bites: [],
  };
}

describe('lays in a run file', () => {
  it('take the place of what was laid of their material, and of nothing else', () => {
    const content = contentOf({
      loop: { length: 9000, laid: [pin('old', 1)] },
      rubber: { laid: [pin('pad', 1)] },
    });
    const { rolls, ...rest } = withLays(content, [layOf('loop', null, 'a', 'b')]);
    expect(rolls).toEqual(
      contentOf({
        loop: { length: 9000, laid: [pin('a', 100, 50, 90), pin('b', 200, 50, 90)] },
        rubber: { laid: [pin('pad', 1)] },
      }).rolls,
    );
    expect({ ...rest, rolls: {} }).toEqual({ ...content, rolls: {} });
  });

  it('leave pins as they are: a pinned part is not laid as well', () => {
    const content = contentOf({ loop: { pins: [pin('a', 7, 8, 180)] } });
    expect(withLays(content, [layOf('loop', null, 'a', 'b')]).rolls).toEqual(
      contentOf({ loop: { pins: [pin('a', 7, 8, 180)], laid: [pin('b', 200, 50, 90)] } }).rolls,
    );
  });

  it('are kept for a roll that the file does not speak of', () => {
    expect(withLays(contentOf({}), [layOf('loop', null, 'a')]).rolls).toEqual(
      contentOf({ loop: { laid: [pin('a', 100, 50, 90)] } }).rolls,
    );
  });

  it('go each to its own of several rolls, by name or by number; one without a lay is emptied', () => {
    const content = contentOf({
      loop: [{ name: 'end', length: 900 }, { length: 5000 }, { length: 70, laid: [pin('z', 1)] }],
    });
    const lays = [layOf('loop', '2', 'b'), layOf('loop', 'end', 'a')];
    expect(withLays(content, lays).rolls).toEqual(
      contentOf({
        loop: [
          { name: 'end', length: 900, laid: [pin('a', 100, 50, 90)] },
          { length: 5000, laid: [pin('b', 100, 50, 90)] },
          { length: 70 },
        ],
      }).rolls,
    );
  });

  it('find a roll that is alone and has a name', () => {
    const content = contentOf({ loop: { name: 'end' } });
    expect(withLays(content, [layOf('loop', 'end', 'a')]).rolls).toEqual(
      contentOf({ loop: { name: 'end', laid: [pin('a', 100, 50, 90)] } }).rolls,
    );
  });

  it('none of them change nothing', () => {
    const content = contentOf({ loop: { laid: [pin('a', 1)] } });
    expect(withLays(content, [])).toEqual(content);
  });
});

describe('parts that no order has any more', () => {
  it('are forgotten where they lie, and nowhere else', () => {
    const content = contentOf({
      loop: [
        { name: 'a', laid: [pin('gone', 1), pin('kept', 2)], pins: [pin('gone', 3)] },
        { name: 'b' },
      ],
      board: { laid: [pin('gone', 1)] },
    });
    const labels = ['gone', 'never'];
    const { rolls } = withoutLaid(content, [{ material: 'loop', colour: null, labels }]);
    expect(rolls).toEqual(
      contentOf({
        loop: [{ name: 'a', laid: [pin('kept', 2)], pins: [pin('gone', 3)] }, { name: 'b' }],
        board: { laid: [pin('gone', 1)] },
      }).rolls,
    );
  });
});

describe('a part moved by hand', () => {
  const move = (more: Partial<PartMove>): PartMove => ({
    version: '',
    material: 'loop',
    colour: null,
    roll: null,
    label: 'a',
    to: { x: 10, y: 20, rotation: 180 },
    dry: false,
    ...more,
  });
  const there = pin('a', 10, 20, 180);

  it.each<[string, unknown, unknown]>([
    ['from where a search laid it', { laid: [pin('a', 1), pin('b', 2)] }, { laid: [pin('b', 2)] }],
    [
      'from where it was pinned',
      { pins: [pin('a', 1)], laid: [pin('b', 2)] },
      { laid: [pin('b', 2)] },
    ],
    ['that lay nowhere', {}, {}],
  ])('is pinned there, %s', (_, before, left) => {
    expect(withMove(contentOf({ loop: before }), move({})).rolls).toEqual(
      contentOf({ loop: { ...(left as object), pins: [there] } }).rolls,
    );
  });

  it('stays in its place among the pins, and leaves those of others', () => {
    const content = contentOf({ loop: { pins: [pin('b', 1), pin('a', 2), pin('c', 3)] } });
    const { loop } = withMove(content, move({})).rolls;
    expect([loop!].flat()[0]!.pins).toEqual([pin('b', 1), there, pin('c', 3)]);
  });

  it('to another roll lies on that one alone', () => {
    const content = contentOf({
      loop: [{ name: 'end', pins: [pin('a', 1)] }, { laid: [pin('a', 5), pin('b', 2)] }, {}],
      rubber: { pins: [pin('a', 9)] },
    });
    expect(withMove(content, move({ roll: '3' })).rolls).toEqual(
      contentOf({
        loop: [{ name: 'end' }, { laid: [pin('b', 2)] }, { pins: [there] }],
        rubber: { pins: [pin('a', 9)] },
      }).rolls,
    );
  });

  it('is let go: it lies where it lay, and a search may move it', () => {
    const content = contentOf({
      loop: { pins: [pin('a', 1, 2, 180), pin('b', 3)], laid: [pin('c', 4)] },
    });
    expect(withMove(content, move({ to: null })).rolls).toEqual(
      contentOf({ loop: { pins: [pin('b', 3)], laid: [pin('c', 4), pin('a', 1, 2, 180)] } }).rolls,
    );
  });

  it.each<[string, unknown, Partial<PartMove>]>([
    ['never pinned', { loop: { laid: [pin('a', 1)] } }, {}],
    ['pinned on another roll', { loop: [{ pins: [pin('a', 1)] }, {}] }, { roll: '2' }],
    ['of a material that the file does not speak of', { rubber: {} }, {}],
    ['of what is no material', {}, { material: 'constructor' }],
  ])('let go, but %s, changes nothing', (_, rolls, more) => {
    const content = contentOf(rolls);
    expect(withMove(content, move({ to: null, ...more }))).toEqual(content);
  });
});
