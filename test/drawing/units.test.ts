import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import type { Drawing, Units } from '../../src/drawing/drawing.ts';
import { readDrawingText } from './read-text.ts';
import type { Tag } from './dxf.ts';
import { block, dxf, insert, line } from './dxf.ts';

const header = (code: number): Tag[] => [
  [9, '$INSUNITS'],
  [70, code],
];
const read = (tags: Tag[], options?: { units?: Units; setUnits?: Units }): Drawing =>
  readDrawingText(dxf({ header: tags, entities: [line(0, 0, 412, 830)] }), 'case.dxf', options);
const endOf = ({ entities: [entity] }: Drawing): number =>
  entity?.kind === 'path' ? entity.path.vertices[1]!.x : Number.NaN;

describe('units', () => {
  // $INSUNITS 1 inch, 4 mm, 5 cm, 6 m; an inch is 25.4 mm [S: DXF reference].
  it.each<[number, Units, number]>([
    [1, 'in', 412 * 25.4],
    [4, 'mm', 412],
    [5, 'cm', 4120],
    [6, 'm', 412_000],
  ])('of header code %d are %s', (code, units, x) => {
    const drawing = read(header(code));
    expect(drawing).toMatchObject({ units, unitsFrom: 'header', findings: [] });
    expect(endOf(drawing)).toBeCloseTo(x, 9);
  });

  it.each([[[]], [header(0)]])('that nothing states are mm, with the size both ways', (tags) => {
    const { units, unitsFrom, findings } = read(tags);
    expect({ units, unitsFrom }).toEqual({ units: 'mm', unitsFrom: 'assumed' });
    expect(findings).toMatchObject([{ severity: 'warning', rule: 'units-assumed' }]);
    // 412 and 830 times 25.4: 10464.8 and 21082.
    expect(findings[0]!.message).toContain('412 x 830 mm, or 10464.8 x 21082 mm if inches');
  });

  it('come from the set where the header is silent', () => {
    expect(read([], { setUnits: 'cm' })).toMatchObject({
      units: 'cm',
      unitsFrom: 'set',
      findings: [],
    });
  });

  it('that header and set give differently are an error with both sizes', () => {
    const { findings } = read(header(1), { setUnits: 'mm' });
    expect(findings).toMatchObject([{ severity: 'error', rule: 'units-conflict' }]);
    expect(findings[0]!.message).toContain('The header states inches');
    expect(findings[0]!.message).toContain('10464.8 x 21082 mm or 412 x 830 mm');
  });

  it('given as an option outdo all', () => {
    const drawing = read(header(1), { units: 'mm', setUnits: 'cm' });
    expect(drawing).toMatchObject({ units: 'mm', unitsFrom: 'option', findings: [] });
    expect(endOf(drawing)).toBe(412);
  });

  it.each([
    [2, /feet/],
    [21, /\$INSUNITS 21/],
  ])('of header code %d are refused', (code, words) => {
    expect(() => read(header(code))).toThrow(Refusal);
    expect(() => read(header(code))).toThrow(words);
    expect(read(header(code), { units: 'mm' }).unitsFrom).toBe('option');
  });

  it('reach into blocks: base point, spacing and all', () => {
    const text = dxf({
      header: header(1),
      blocks: [block('TUB', [line(1, 1, 2, 1)], [1, 1])],
      entities: [
        insert('TUB', 10, 0, [
          [70, 2],
          [44, 5],
        ]),
      ],
    });
    const ends = readDrawingText(text, 'case.dxf').entities.map((entity) =>
      entity.kind === 'path' ? entity.path.vertices.map(({ x }) => x / 25.4) : [],
    );
    expect(ends.flat().map((x) => Math.round(x * 1e9) / 1e9)).toEqual([10, 11, 15, 16]);
  });
});
