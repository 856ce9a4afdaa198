import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Path } from '../../../src/geometry/paths/path.ts';
import type { Change } from '../../../src/handing/redrawing/changes.ts';
import { changesOf } from '../../../src/handing/redrawing/changes.ts';
import { changesCsv, changesTable } from '../../../src/papers/tables/changes-table.ts';
import { feature, line, oblong, piece } from '../../handing/fixtures.ts';
import { randomSet } from '../../handing/random-set.ts';
import { csvReader, csvTables } from '../python-readers.ts';

const mat = piece('mat', { side: 'pair', drawnSide: 'right' }, oblong(100, 0, 500, 400));
const dash = piece('dash', { side: 'centre', outline: 'driver' }, oblong(-300, 500, 300, 600));

function change(of: Partial<Change>, before: Path[], after: Path[]): Change {
  return { piece: mat, feature: null, before, after, moved: true, why: 'because', ...of };
}

describe('the table of changes', () => {
  it('says what, for whom, from where, to where and why', () => {
    const pad = feature('PAD', oblong(200, 100, 300, 200), 'DRIVER');
    const table = changesTable([
      change({ feature: pad }, [pad.path], [oblong(-300, 100, -200, 200)]),
    ]);
    expect(table.header).toEqual(['piece', 'feature', 'follows', 'from', 'to', 'why']);
    expect(table.rows).toEqual([
      ['mat', 'PAD', 'DRIVER', 'right 250, 150', 'left -250, 150', 'because'],
    ]);
  });

  it('names an outline, and an edge that has a name', () => {
    const edge = { ...feature('SEAM', line(100, 0, 500, 0)), name: 'door' };
    const rows = [change({}, [mat.outline], []), change({ feature: edge }, [edge.path], [])];
    expect(changesTable(rows).rows.map(([, what, whom]) => [what, whom])).toEqual([
      ['outline', '-'],
      ['SEAM door', '-'],
    ]);
  });

  it('joins two places, and has a dash for none', () => {
    const both = [oblong(100, 0, 500, 401), oblong(-500, 0, -100, 401)];
    const [row] = changesTable([change({}, both, [])]).rows;
    expect(row!.slice(3, 5)).toEqual(['right 300, 200.5 and left -300, 200.5', '-']);
  });

  it('has the middle of the vehicle for neither side, and says so where a thing is mirrored in it', () => {
    const here = change({ piece: dash }, [dash.outline], [dash.outline]);
    expect(changesTable([here]).rows[0]!.slice(3, 5)).toEqual([
      'centre 0, 550',
      'centre 0, 550, mirrored',
    ]);
    const stays = changesTable([{ ...here, moved: false }]).rows[0]!;
    expect(stays[4]).toBe('centre 0, 550');
  });

  it('has a row for each change, what moved first, in either part in the order of the pieces', () => {
    fc.assert(
      fc.property(randomSet, fc.constantFrom('RHD', 'LHD'), (set, hand) => {
        const changes = changesOf(set, { hand, heelPads: 'driver' });
        const { rows } = changesTable(changes);
        expect(rows).toHaveLength(changes.length);
        const moved = changes.filter((one) => one.moved).length;
        for (const part of [rows.slice(0, moved), rows.slice(moved)]) {
          const names = part.map(([name]) => name!);
          expect(names).toEqual(names.toSorted());
        }
        const said = (from: number, to: number): string[] =>
          rows
            .slice(from, to)
            .map((row) => row[5]!)
            .sort();
        const whys = (wanted: boolean): string[] =>
          changes
            .filter((one) => one.moved === wanted)
            .map(({ why }) => why)
            .sort();
        expect(said(0, moved)).toEqual(whys(true));
        expect(said(moved, rows.length)).toEqual(whys(false));
      }),
    );
  });
});

describe('the same as CSV', () => {
  const hostile = fc.oneof(
    fc.string({ unit: 'grapheme' }).map((text) => text.replaceAll(/[\p{Cc}\p{Surrogate}]/gu, '')),
    fc.constantFrom('a,b', 'a "b" c', '"', ',', 'a\nb', 'a\r\nb', 'the body’s'),
  );

  it.skipIf(csvReader.missing)(`is the table to another reader${csvReader.note}`, () => {
    const whys = fc.sample(fc.array(hostile, { maxLength: 4 }), { numRuns: 60, seed: 3 });
    const tables = whys.map((some) =>
      some.map((why) => change({ why }, [mat.outline], [oblong(-500, 0, -100, 400)])),
    );
    // What a spreadsheet would take for a formula has an apostrophe before it: see csv.test.ts.
    const guarded = (cell: string): string => (/^[=+@]|^-./.test(cell) ? `'${cell}` : cell);
    const meant = tables
      .map(changesTable)
      .map(({ header, rows }) => [header, ...rows.map((row) => row.map(guarded))]);
    expect(csvTables(tables.map((changes) => changesCsv(changes, '')))).toEqual(meant);
  });
});
