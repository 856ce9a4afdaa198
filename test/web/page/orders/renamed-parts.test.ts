import { describe, expect, it } from 'vitest';
import type { Pin, RunContent } from '../../../../src/run/run-file.ts';
import { runSchema } from '../../../../src/run/run-file.ts';
import { withPartsRenamed } from '../../../../src/web/page/orders/renamed-parts.ts';

function pin(part: string): Pin {
  return { part, at: [100, 200], rotation: 90 };
}

function runOf(
  names: readonly string[],
  pins: readonly string[],
  laid: readonly string[],
): RunContent {
  return runSchema.parse({
    title: 'x',
    cutter: 'y',
    orders: names.map((order) => ({ order, set: 'wren', hand: 'RHD' })),
    rolls: {
      loop: [{ name: 'a', pins: pins.map(pin), laid: laid.map(pin) }, { name: 'b' }],
      board: { laid: laid.map(pin) },
    },
  });
}

/** What lies on the first roll of loop after the orders get these names. */
function after(
  names: readonly string[],
  next: readonly string[],
  labels: readonly string[],
): string[] {
  const before = runOf(names, labels.slice(0, 1), labels.slice(1));
  const orders = next.map((order, i) => ({ ...(before.orders[i] ?? before.orders[0]!), order }));
  const { rolls } = withPartsRenamed(before, { ...before, orders });
  const [roll] = [rolls['loop']!].flat();
  return [...roll!.pins, ...roll!.laid].map(({ part }) => part);
}

describe('an order that is called otherwise', () => {
  it('keeps its parts where they are pinned and laid, on every roll, and no other moves', () => {
    const labels = ['floor.1.A', 'floor.2.A', 'mat-left.1.B', 'floor.1.AA'];
    expect(after(['A', 'B', 'AA'], ['C', 'B', 'AA'], labels)).toEqual([
      'floor.1.C',
      'floor.2.C',
      'mat-left.1.B',
      'floor.1.AA',
    ]);
    const before = runOf(['A'], [], ['floor.1.A']);
    const changed = withPartsRenamed(before, {
      ...before,
      orders: [{ ...before.orders[0]!, order: 'C' }],
    });
    expect(changed.rolls['board']).toMatchObject({ laid: [{ part: 'floor.1.C', at: [100, 200] }] });
  });

  it('is not taken for one where orders come, go or change places, or the name is taken', () => {
    const labels = ['floor.1.A', 'floor.1.B'];
    for (const next of [['A'], ['A', 'B', 'C'], ['B', 'A'], ['C', 'D'], ['B', 'B']]) {
      expect(after(['A', 'B'], next, labels)).toEqual(labels);
    }
  });
});
