import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { cut } from '../../src/jobs/cut.ts';
import { conveyorBed, longBay, smallTable } from '../knife/sample-parts.ts';
import { expectSameMotions } from '../program/another-reader.ts';

const root = join(import.meta.dirname, '../..');

// The demo's programs, those of single bites and the dry ones too, as gcode-toolpath reads them.
it.each([longBay, smallTable, conveyorBed])(
  'another reader reads every program of the demo on $name alike',
  { timeout: 120_000 },
  async ({ name, knife, program }) => {
    const folder = mkdtempSync(join(tmpdir(), 'fenlark-'));
    try {
      const out = join(folder, 'week');
      await cut({
        runFile: join(root, 'patterns/fenlark-week.yaml'),
        sharedFolder: join(root, 'shared'),
        out,
        cutter: name,
        force: false,
        limit: { rounds: 1 },
      });
      const axis = knife.kind === 'tangential' ? knife.axis.letter : undefined;
      const programs = readdirSync(out).filter((file) => file.endsWith('.nc'));
      expect(programs.length).toBeGreaterThan(8);
      for (const file of programs) {
        const text = readFileSync(join(out, file), 'utf8');
        expect(expectSameMotions(text, axis, program.units), file).toBeGreaterThan(20);
      }
    } finally {
      rmSync(folder, { recursive: true });
    }
  },
);
