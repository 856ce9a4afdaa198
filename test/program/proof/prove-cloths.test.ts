import type { z } from 'zod';
import { beforeAll, describe, expect, it } from 'vitest';
import { prove } from '../../../src/program/proof/prove.ts';
import type { Finding } from '../../../src/base/findings.ts';
import { fingerprintOf } from '../../../src/program/record/fingerprint.ts';
import type { runRecordSchema } from '../../../src/program/record/schema.ts';
import { colouredWren } from '../../support/coloured-wren.ts';
import { writtenRun } from '../../papers/wren-papers.ts';
import type { RunFiles } from '../run-folder.ts';
import { inFolder } from '../run-folder.ts';
import { withFingerprint } from '../single-changes.ts';

let files: RunFiles;

beforeAll(async () => {
  const run = await writtenRun(colouredWren);
  const machine = [...run.files.keys()].filter((name) => /\.(json|nc|dxf)$/.test(name));
  files = Object.fromEntries(machine.map((name) => [name, run.text(name)]));
});

/** The record as a person could change it who forgets nothing else: the heads of the programs agree. */
function found(change: (record: Changeable) => void): Finding[] {
  const record = JSON.parse(files['run.json']!) as Changeable;
  change(record);
  const text = `${JSON.stringify(record)}\n`;
  expect(text).not.toBe(`${JSON.stringify(JSON.parse(files['run.json']!))}\n`);
  const old = fingerprintOf(files['run.json']!);
  return inFolder(withFingerprint({ ...files, 'run.json': text }, old), prove);
}

type Changeable = z.infer<typeof runRecordSchema>;

function part(record: Changeable, label: string): Changeable['parts'][number] {
  return record.parts.find((one) => one.label === label)!;
}

function order(record: Changeable, name: string): Changeable['orders'][number] {
  return record.orders.find((one) => one.order === name)!;
}

function messages(findings: readonly Finding[], rule: string): string[] {
  return findings.filter((one) => one.rule === rule).map(({ message }) => message);
}

describe('the proof of cloths', () => {
  it('finds nothing where nothing was changed', () => {
    expect(inFolder(files, prove)).toEqual([]);
  });

  it('names a part of another colour than its roll and its order', () => {
    const all = found((record) => {
      part(record, 'mat-left.2.A1').colour = 'fawn';
    });
    const said = messages(all, 'colour');
    expect(said).toHaveLength(2);
    expect(said[0]).toBe('it is of fawn, and lies on a roll of claret.');
    expect(said[1]).toBe('it is of fawn; order A1 names claret for loop.');
    for (const one of all.filter(({ rule }) => rule === 'colour')) {
      expect(one.where.part).toBe('mat-left.2.A1');
    }
  });

  it('names a part that has lost its colour', () => {
    const all = found((record) => {
      part(record, 'rest-left.1.A4').colour = undefined;
    });
    expect(messages(all, 'colour')).toContain('it is of no colour, and lies on a roll of fawn.');
  });

  it('names a part with a colour of a material that has none', () => {
    const all = found((record) => {
      part(record, 'rest-board-left.1.A4').colour = 'fawn';
    });
    expect(messages(all, 'colour')).toContain('it is of fawn, and board is kept in no colours.');
  });

  it('names a lay in a colour that its material is not kept in', () => {
    const all = found((record) => {
      record.lays.find(({ colour }) => colour === 'fawn')!.colour = 'slate';
    });
    expect(messages(all, 'colour')).toContain(
      'the lay loop-slate is of slate; loop is kept in claret, fawn.',
    );
  });

  it('names parts of a colour that nobody ordered, though they and their roll agree', () => {
    const all = found((record) => {
      const loop = record.materials.find(({ name }) => name === 'loop')!;
      loop.colours!['slate'] = { sample: '#4a5560' };
      record.lays.find(({ colour }) => colour === 'fawn')!.colour = 'slate';
      for (const one of record.parts) if (one.colour === 'fawn') one.colour = 'slate';
    });
    expect(messages(all, 'colour')).toEqual(['it is of slate; order A4 names fawn for loop.']);
  });

  it('names an order that asks for another colour than was cut', () => {
    const all = found((record) => {
      const { carpet } = order(record, 'A4');
      carpet!.colour = 'claret';
    });
    expect(messages(all, 'colour')).toEqual(['it is of fawn; order A4 names claret for loop.']);
  });

  it('names an order that asks for another colour of its edges than is to be sewn', () => {
    const all = found((record) => {
      const { edge } = order(record, 'A2');
      edge!.colour = 'claret';
    });
    expect(messages(all, 'next')[0]).toMatch(/^"Overlock" says \d+ mm in sand, which /);
  });

  it('names a part that is bound where the others of its finish are overlocked', () => {
    const all = found((record) => {
      const { next } = part(record, 'rest-left.1.A2');
      next.find(([verb]) => verb === 'Overlock')![0] = 'Bind';
    });
    expect(messages(all, 'next')).toHaveLength(1);
    expect(messages(all, 'next')[0]).toContain('"Bind" is its step, and "Overlock" that of');
  });

  it('names a finish that was never read, and a bench that was not', () => {
    const finish = found((record) => {
      const { edge } = order(record, 'A2');
      edge!.finish = 'tape-30';
    });
    expect(messages(finish, 'input')).toEqual([
      'these inputs are not named: bindings/tape-30.yaml.',
    ]);
    const bench = found((record) => {
      record.inputs = record.inputs.filter(({ file }) => !file.endsWith('/bench.yaml'));
    });
    expect(messages(bench, 'input')).toEqual(['these inputs are not named: bench.yaml.']);
  });

  it('holds parts of one piece to one material only where orders choose the same', () => {
    const all = found((record) => {
      const { carpet } = order(record, 'A2');
      carpet!.material = undefined;
    });
    expect(messages(all, 'alike').length).toBeGreaterThan(0);
  });

  it('names a material that an order chooses and nobody has read', () => {
    const all = found((record) => {
      const { carpet } = order(record, 'A2');
      carpet!.material = 'velvet';
    });
    expect(messages(all, 'material')).toEqual([
      'order A2 chooses velvet for its carpet, and run.json says nothing of it.',
    ]);
  });

  it('names a part that its order does not want', () => {
    const said = 'order A3 says that it does not want it.';
    const without = found((record) => {
      order(record, 'A3').without = ['mat-left'];
    });
    expect(messages(without, 'order')).toEqual([said]);
    const alone = found((record) => {
      order(record, 'A3').alone = ['floor'];
    });
    expect(messages(alone, 'order')[0]).toContain(said);
  });

  it('takes a name that may be a group at its word', () => {
    const group = found((record) => {
      order(record, 'A3').alone = ['cab'];
    });
    expect(group).toEqual([]);
  });
});
