import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseDocument } from 'yaml';
import { readDrawing } from '../../src/drawing/read.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { pathLength } from '../../src/geometry/paths/path.ts';
import type { PatternSet } from '../../src/pattern/set.ts';
import { readSet } from '../../src/pattern/set.ts';
import type { Tag } from '../drawing/dxf.ts';
import { dxf, inMm, line, lwpolyline, onLayer, text } from '../drawing/dxf.ts';
import { checkedAfter, imported, rectangle } from '../support/imported.ts';

/** A mat of 600 x 400 on `Cut`, and beside it all round, `off` mm further out, a line on `Tape`. */
const mat = (off: number): Tag[][] => [
  rectangle(-off, -off, 600 + 2 * off, 400 + 2 * off, 'Tape'),
  rectangle(0, 0, 600, 400, 'Cut'),
  text('MAT', 200, 200, 20),
];

/** A piece of 600 x 300 with nothing but its outline. */
const back = (y: number, layer = 'Cut'): Tag[][] => [
  rectangle(0, y, 600, 300, layer),
  text('BACK', 200, y + 100, 20),
];

/** The set that was made, read with an answer for its layers. */
function answer(root: string, layers: Readonly<Record<string, string>>): PatternSet {
  const file = join(root, 'patterns/customer/set.yaml');
  const document = parseDocument(readFileSync(file, 'utf8'));
  document.set('layers', layers);
  writeFileSync(file, document.toString());
  return readSet(join(root, 'patterns/customer'), join(root, 'shared'));
}

/** What is drawn on each piece with each role, and how long it is. */
function drawn({ pieces }: PatternSet): unknown[] {
  return pieces.map(({ name, outline, features }) => [
    name,
    areaOf(outline),
    ...features.map(({ role, path }) => [role, Math.round(pathLength(path))]),
  ]);
}

const made = (entities: readonly (readonly Tag[])[]): string => dxf({ header: inMm, entities });

describe('a line traced all round a piece', () => {
  it.each([
    ['closed', rectangle(0, 0, 600, 400, 'Tape')],
    [
      'that comes back to where it began',
      onLayer(
        lwpolyline(
          [
            [0, 0, 0],
            [600, 0, 0],
            [600, 400, 0],
            [0, 400, 0],
            [0, 0, 0],
          ],
          false,
        ),
        'Tape',
      ),
    ],
  ])('%s survives, is asked about, and traces the edge once it is said', async (_, tape) => {
    const entities = [rectangle(0, 0, 600, 400, 'Cut'), tape, text('MAT', 200, 200, 20)];
    await imported(made([...entities, ...back(1000)]), (_set, root) => {
      const before = readSet(join(root, 'patterns/customer'), join(root, 'shared'));
      const asked = before.findings.filter(({ rule }) => rule === 'unknown-layer');
      expect(asked.map(({ message }) => message.split('"')[1])).toEqual(['TAPE']);
      expect(asked[0]!.todo).toContain('BOUND, SEAM');
      // It makes no difference which of the two is the outline: that is not asked.
      expect(before.content.open).not.toHaveProperty('layers');
      expect(drawn(answer(root, { CUT: 'OUTLINE', TAPE: 'BOUND' }))).toEqual([
        ['mat', 240_000, ['BOUND', 2000]],
        ['back', 180_000],
      ]);
    });
  });

  it('survives beside an outline on OUTLINE too', async () => {
    const entities = [rectangle(0, 0, 600, 400, 'OUTLINE'), rectangle(0, 0, 600, 400, 'Tape')];
    await imported(made(entities), (_, root) => {
      expect(drawn(answer(root, { TAPE: 'SEAM' }))).toEqual([['drawing', 240_000, ['SEAM', 2000]]]);
    });
  });

  it('is one of lines of every layer that all come through', async () => {
    const entities = [
      ...mat(0),
      ...back(1000),
      rectangle(100, 100, 90, 90, 'Loch'),
      rectangle(100, 100, 90, 90, 'Tape'),
      line(0, 1000, 600, 1000, 'Tape'),
      line(600, 1000, 600, 1300, 'Tape'),
      line(0, 1000, 0, 1300, 'Seam line'),
      line(5000, 0, 5100, 0, 'Cut'),
    ];
    const linesOf = (file: string): Map<string, number> => {
      const counts = new Map<string, number>();
      for (const { kind, layer } of readDrawing(file, { setUnits: 'mm' }).entities) {
        const name = layer.toUpperCase().replace(' ', '-');
        if (kind === 'path') counts.set(name, (counts.get(name) ?? 0) + 1);
      }
      return counts;
    };
    await imported(made(entities), (_, root) => {
      const out = linesOf(join(root, 'patterns/customer/customer.dxf'));
      const outlines = out.get('OUTLINE')!;
      out.delete('OUTLINE');
      out.set('CUT', out.get('CUT')! + outlines);
      expect(Object.fromEntries(out)).toEqual(
        Object.fromEntries(linesOf(join(root, 'customer.dxf'))),
      );
    });
  });
});

describe('lines of two layers beside each other all round', () => {
  it.each([3, -3])('make no outline of the wrong one: %f mm further out', async (off) => {
    const { findings, patterns } = await checkedAfter([...mat(off), ...back(1000)]);
    expect(patterns.pieces.map(({ outline }) => areaOf(outline))).toEqual([240_000, 180_000]);
    const [question, ...rest] = findings.filter(({ message }) => message.includes('"layers: '));
    expect(rest).toEqual([]);
    expect(question).toMatchObject({ severity: 'error', rule: 'open-question' });
    expect(question!.message).toContain('a closed line of 600 by 400 mm on Cut');
    expect(question!.message).toContain(`of ${600 + 2 * off} by ${400 + 2 * off} mm on Tape`);
    const tape = findings.find(({ rule }) => rule === 'unknown-layer');
    expect(tape!.todo).toContain('ROLE is OUTLINE, BOUND');
  });

  it('can be answered either way, and the drawing stays as it is', async () => {
    const inner = rectangle(100, 100, 100, 100, 'Cut');
    await imported(made([...back(1000), ...mat(3), inner]), (_, root) => {
      expect(drawn(answer(root, { CUT: 'OUTLINE', TAPE: 'NOTE', 'CUT-INNER': 'CUTOUT' }))).toEqual([
        ['back', 180_000],
        ['mat', 240_000, ['CUTOUT', 400]],
      ]);
    });
    await imported(made([...back(1000), ...mat(3), inner]), (_, root) => {
      expect(drawn(answer(root, { CUT: 'NOTE', TAPE: 'OUTLINE', 'CUT-INNER': 'CUTOUT' }))).toEqual([
        ['back', 180_000],
        ['mat', 606 * 406, ['CUTOUT', 400]],
      ]);
    });
  });

  it('are asked about where nothing else tells, with the outermost taken', async () => {
    const { findings, patterns } = await checkedAfter(mat(10));
    expect(patterns.pieces.map(({ outline }) => areaOf(outline))).toEqual([620 * 420]);
    expect(findings.some(({ message }) => message.includes('"layers: {"TAPE":"OUTLINE"}'))).toBe(
      true,
    );
  });

  it('leave what lies in both a thing on the piece', async () => {
    const { patterns } = await checkedAfter([...mat(3), rectangle(100, 100, 90, 90, 'Loch')]);
    expect(patterns.pieces.map(({ unknown }) => unknown.map(({ layer }) => layer))).toEqual([
      ['CUT', 'LOCH'],
    ]);
  });

  it.each([
    ['far apart', rectangle(100, 100, 400, 200, 'Tape')],
    ['of one layer', rectangle(3, 3, 594, 394, 'Cut')],
  ])('are no question where they are %s', async (_, other) => {
    const { findings } = await checkedAfter([rectangle(0, 0, 600, 400, 'Cut'), other]);
    expect(findings.filter(({ message }) => message.includes('"layers: '))).toEqual([]);
  });

  it('are an outline on OUTLINE and a line beside it, on either side', async () => {
    const { findings, patterns } = await checkedAfter([
      rectangle(0, 0, 600, 400, 'OUTLINE'),
      rectangle(-3, -3, 606, 406, 'Tape'),
    ]);
    expect(patterns.pieces.map(({ outline }) => areaOf(outline))).toEqual([240_000]);
    expect(findings.filter(({ message }) => message.includes('"layers: '))).toEqual([]);
  });
});

describe('what a layer means on one piece alone', () => {
  it('wins over what it means in the set', async () => {
    await imported(made([...back(1000), ...mat(3)]), (_, root) => {
      const file = join(root, 'patterns/customer/set.yaml');
      const document = parseDocument(readFileSync(file, 'utf8'));
      document.setIn(['pieces', 'mat', 'layers'], { CUT: 'NOTE', TAPE: 'OUTLINE' });
      writeFileSync(file, document.toString());
      expect(drawn(readSet(join(root, 'patterns/customer'), join(root, 'shared')))).toEqual([
        ['back', 180_000],
        ['mat', 606 * 406],
      ]);
    });
  });

  it('is offered where the layer lies on several pieces', async () => {
    const offered = async (...more: Tag[][]): Promise<boolean> => {
      const { findings } = await checkedAfter([...back(0), ...back(1000), ...more]);
      const asked = findings.find(({ rule }) => rule === 'unknown-layer')!;
      return asked.todo.includes('under "layers:" of that piece');
    };
    expect(await offered(line(9, 9, 90, 9, 'N'))).toBe(false);
    expect(await offered(line(9, 9, 90, 9, 'N'), line(9, 1009, 90, 1009, 'N'))).toBe(true);
  });
});

describe('lines of a layer that says nothing', () => {
  it('stay as drawn where they meet at a corner, and trace a stretch each', async () => {
    const seams = [line(0, 0, 0, 300, 'Naht'), line(0, 300, 600, 300, 'Naht')];
    await imported(made([...back(0), ...seams]), (_, root) => {
      expect(drawn(answer(root, { NAHT: 'SEAM' }))).toEqual([
        ['back', 180_000, ['SEAM', 300], ['SEAM', 600]],
      ]);
    });
    const { findings } = await checkedAfter([...back(0), ...seams.map((one) => onLayer(one, 'N'))]);
    expect(findings.find(({ rule }) => rule === 'unknown-layer')!.message).toContain(
      '2 things are on it: an open line 300 mm long in back at 0, 0; an open line 600 mm long',
    );
  });

  it('are joined where they close, and a gap is told only there', async () => {
    const { made: set, patterns } = await checkedAfter([
      line(0, 0, 600, 0, 'Cut'),
      line(600, 0.02, 600, 400, 'Cut'),
      line(600, 400, 0, 400, 'Cut'),
      line(0, 400, 0, 0, 'Cut'),
      line(2000, 0, 2000, 300, 'Cut'),
      line(2000.04, 300, 2300, 300, 'Cut'),
    ]);
    expect(patterns.pieces.length).toBe(1);
    const gaps = set.findings.filter(({ rule }) => rule === 'gap-bridged');
    expect(gaps.map(({ message }) => message)).toEqual([
      'a gap of 0.02 mm on layer Cut is bridged.',
    ]);
  });

  it('are told where they nearly close', async () => {
    const { made: set } = await checkedAfter([
      ...back(1000),
      line(0, 0.5, 0, 400, 'Cut'),
      line(0, 400, 600, 400, 'Cut'),
      line(600, 400, 600, 0, 'Cut'),
      line(600, 0, 0, 0, 'Cut'),
    ]);
    expect(set.findings.map(({ rule }) => rule)).toContain('open-contour');
  });
});
