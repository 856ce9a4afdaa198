import { describe, expect, it } from 'vitest';
import { readDrawingText } from '../../drawing/read-text.ts';
import { areaOf } from '../../../src/geometry/paths/area.ts';
import { boxOfPath, circle } from '../../../src/geometry/paths/path.ts';
import { distance } from '../../../src/geometry/paths/point.ts';
import type { Cutter } from '../../../src/knife/cutter.ts';
import { planCutting } from '../../../src/knife/plan.ts';
import type { Lay } from '../../../src/lay/lay.ts';
import { cutterDxf } from '../../../src/program/writing/cutter-dxf.ts';
import type { Part } from '../../../src/handing/part.ts';
import { contourArea, outlinesOf } from '../../support/contours.ts';
import { ezdxf, refereeReadings } from '../../drawing/ezdxf.ts';
import { variedCutters } from '../../knife/sample-cutters.ts';
import {
  conveyorBed,
  layOf,
  longBay,
  part,
  point,
  rectangle,
  thickness,
} from '../../knife/sample-parts.ts';
import { goodLay, parts } from '../good-run.ts';
import { parsedDxf } from '../../support/dxf-parser.ts';

function drawingOf(lay: Lay, own: readonly Part[], cutter: Cutter): string {
  const plan = planCutting(lay, own, cutter, thickness);
  return cutterDxf(plan.lay, plan.parts, cutter, plan.bites);
}

const flavours = (['r12', 'r2007'] as const).map((dxf) => ({ ...longBay, dxf }));

describe.each(flavours)('the drawing for the cutter as $dxf', (cutter) => {
  const text = drawingOf(goodLay(cutter), parts, cutter);

  it('has all that is cut in the order of the knife, each part’s label and marks before it', () => {
    const { bites } = planCutting(goodLay(cutter), parts, cutter, thickness);
    const { entities } = readDrawingText(text, 'loop.dxf', { setUnits: 'mm' });
    const paths = entities.flatMap((entity) => (entity.kind === 'path' ? [entity] : []));
    const drawn = paths.filter(({ layer }) => layer !== 'MARK');
    const meant = bites.flatMap(({ cuts }) => cuts);
    expect(drawn).toHaveLength(meant.length);
    for (const [i, { layer, path }] of drawn.entries()) {
      const { kind, path: cut } = meant[i]!;
      expect(layer).toBe(
        { notch: 'NOTCH', inner: 'CUT-INNER', punch: 'PUNCH', outline: 'CUT' }[kind],
      );
      expect(path.closed).toBe(kind !== 'notch');
      expect(distance(path.vertices[0]!, cut.vertices[0]!)).toBeLessThan(1e-6);
    }
    const sets = entities
      .map(({ layer }) => layer)
      .join(' ')
      .split(/(?<= CUT)(?: |$)/);
    expect(sets.filter((set) => set !== '')).toHaveLength(parts.length);
    for (const set of sets)
      expect(set).toMatch(/^(LABEL (MARK )*((NOTCH|CUT-INNER|PUNCH) )*CUT)?$/);
  });

  // A reader that is not ours.
  it('is read alike by another reader, areas to a millionth', () => {
    const drawing = parsedDxf(text);
    const on = (layer: string): number => drawing.entities.filter((e) => e.layer === layer).length;
    expect([on('CUT'), on('CUT-INNER'), on('NOTCH'), on('MARK'), on('LABEL')]).toEqual([
      4, 2, 3, 2, 4,
    ]);
    expect(drawing.header['$ACADVER']).toBe(cutter.dxf === 'r12' ? 'AC1009' : 'AC1021');
    const own = readDrawingText(text, 'loop.dxf', { setUnits: 'mm' }).entities.flatMap((entity) =>
      entity.kind === 'path' && entity.layer === 'CUT' ? [areaOf(entity.path)] : [],
    );
    const others = outlinesOf(text).map(({ contour }) => contourArea(contour));
    expect(others).toHaveLength(own.length);
    for (const [i, area] of others.entries()) expect(area / own[i]!).toBeCloseTo(1, 6);
    const meant = parts.map(({ cut }) => areaOf(cut)).toSorted((a, b) => a - b);
    for (const [i, area] of own.toSorted((a, b) => a - b).entries()) {
      expect(area / meant[i]!).toBeCloseTo(1, 6);
    }
  });

  it('has no number with an exponent', () => {
    expect(text).not.toMatch(/^-?[\d.]+e[+-]?\d+$/im);
  });
});

it.skipIf(ezdxf.missing)(`ezdxf finds nothing to mend in either flavour${ezdxf.note}`, () => {
  const cutters = [...flavours, ...variedCutters];
  const readings = refereeReadings(
    cutters.map((cutter) => drawingOf(goodLay(cutter), parts, cutter)),
  );
  expect(readings).toHaveLength(cutters.length);
  for (const { errors, fixes } of readings) expect([errors, fixes]).toEqual([[], []]);
});

describe('a contour that is cut in several bites', () => {
  it('is drawn once and whole, after all that lies inside it', () => {
    const runner = part('runner', rectangle(4000, 500), {
      inner: [{ role: 'CUTOUT', path: rectangle(200, 200, 3500, 100) }],
    });
    const lay = layOf([runner], [{ label: 'runner', x: 20, y: 30, rotation: 0 }], {
      biteLength: conveyorBed.bed.length,
      joinOverlap: 12,
    });
    const text = drawingOf(lay, [runner], { ...conveyorBed, dxf: 'r12' });
    const [outline, ...others] = outlinesOf(text);
    expect(others).toEqual([]);
    expect(contourArea(outline!.contour)).toBeCloseTo(4000 * 500, 3);
    expect(outline!.inner.map((inner) => contourArea(inner))).toEqual([expect.closeTo(40000, 3)]);
  });
});

it('shows notches that are left to the bench as marks', () => {
  const cutter: Cutter = { ...longBay, notches: { cut: 'mark' } };
  const drawing = parsedDxf(drawingOf(goodLay(cutter), parts, cutter));
  const on = (layer: string): number => drawing.entities.filter((e) => e.layer === layer).length;
  expect([on('NOTCH'), on('MARK')]).toEqual([0, 5]);
});

it.each(['r12', 'r2007'] as const)('draws a punched hole as its circle: %s', (dxf) => {
  const hole = circle(point(60, 40), 3);
  const mat = part('mat', rectangle(300, 200), { inner: [{ role: 'HOLE', path: hole }] });
  const lay = layOf([mat], [{ label: 'mat', x: 20, y: 30, rotation: 0 }]);
  const text = drawingOf(lay, [mat], { ...conveyorBed, face: 'up', dxf });
  const { entities } = readDrawingText(text, 'loop.dxf', { setUnits: 'mm' });
  const [punched, ...others] = entities.filter(({ layer }) => layer === 'PUNCH');
  expect(others).toEqual([]);
  if (punched?.kind !== 'path') throw new Error('nothing is punched');
  expect(areaOf(punched.path)).toBeCloseTo(9 * Math.PI, 6);
  const box = boxOfPath(punched.path);
  expect([box.minX, box.maxX, box.minY, box.maxY].map((mm) => mm.toFixed(5))).toEqual(
    [77, 83, 67, 73].map((mm) => mm.toFixed(5)),
  );
});
