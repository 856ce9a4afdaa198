import { join } from 'node:path';
import { expect, it } from 'vitest';
import { conveyorBed, longBay, smallTable } from '../knife/sample-parts.ts';
import { expectSameMotions } from '../program/another-reader.ts';
import { madeRun } from '../support/made-run.ts';

const root = join(import.meta.dirname, '../..');

// The demo's programs, those of single bites and the dry ones too, as gcode-toolpath reads them.
it.each([longBay, smallTable, conveyorBed])(
  'another reader reads every program of the demo on $name alike',
  async ({ name, knife, program }) => {
    const { files } = await madeRun(
      {
        runFile: join(root, 'patterns/fenlark-week.yaml'),
        sharedFolder: join(root, 'shared'),
        cutter: name,
        limit: { rounds: 1 },
      },
      'fenlark-week',
    );
    const axis = knife.kind === 'tangential' ? knife.axis.letter : undefined;
    const programs = [...files].filter(([file]) => file.endsWith('.nc'));
    expect(programs.length).toBeGreaterThan(8);
    for (const [file, text] of programs) {
      expect(expectSameMotions(text, axis, program.units), file).toBeGreaterThan(20);
    }
  },
);
