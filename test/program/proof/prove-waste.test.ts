import { describe, expect, it } from 'vitest';
import type { LayRecord, RunRecord } from '../../../src/program/record/run-record.ts';
import { variedCutters } from '../../knife/sample-cutters.ts';
import { changed, goodRun, rulesFound } from '../good-run.ts';
import type { RunFiles } from '../run-folder.ts';

const led = goodRun(variedCutters.find(({ name }) => name.includes('led in'))!);
const conveyor = goodRun(variedCutters.find(({ name }) => name === 'conveyor-bed')!);

type Bite = LayRecord['bites'][number];

/** The run with its first bite recorded otherwise. */
function recorded(files: RunFiles, change: (bite: Bite) => Partial<Bite>): RunFiles {
  return changed(files, 'run.json', (text) => {
    const record = JSON.parse(text) as RunRecord;
    const [lay] = record.lays as [LayRecord];
    const [first, ...others] = lay.bites as [Bite, ...Bite[]];
    const bites = [{ ...first, ...change(first) }, ...others];
    return JSON.stringify({ ...record, lays: [{ ...lay, bites }] });
  });
}

function program(files: RunFiles, change: (text: string) => string): RunFiles {
  return changed(files, 'loop.nc', change);
}

describe('the proof of what is cut in waste', () => {
  it('finds nothing in what was written', () => {
    expect(rulesFound(led)).toEqual([]);
    expect(rulesFound(conveyor)).toEqual([]);
    // There is something to be found at all.
    expect(led['loop.nc']).toMatch(/\(lead-in\)[^]*\(registration mark\)[^]*CHECK/);
  });

  // Face down, the mat lies near the far edge of the roll.
  it('finds a mark or a lead-in that lies on a part', () => {
    expect(rulesFound(recorded(led, () => ({ mark: [300, 1700] })))).toContain('waste');
    const leadIn = [
      [300, 1700],
      [348, 1700],
    ] as const;
    expect(rulesFound(recorded(led, () => ({ leadIn })))).toContain('waste');
  });

  it('finds a mark beyond the edge of a remnant, whichever side of it is up', () => {
    const faces = new Set<string>();
    for (const files of variedCutters.map(goodRun)) {
      const { lays, cutter } = JSON.parse(files['run.json']!) as RunRecord;
      const { rollWidth, bites } = lays[0]!;
      const { mark } = bites[0]!;
      if (mark === null) continue;
      faces.add(cutter.face);
      const [x, onBed] = mark;
      const y = cutter.face === 'down' ? rollWidth - onBed : onBed;
      // The whole roll, but for a bay from the nearer edge that reaches past the mark, or just not to it.
      const bay = (past: number): [number, number][] => {
        const [edge, tip] = y < rollWidth / 2 ? [0, y + past] : [rollWidth, y - past];
        const far = rollWidth - edge;
        return [
          [0, edge],
          [x - 7, edge],
          [x - 7, tip],
          [x + 7, tip],
          [x + 7, edge],
          [9e5, edge],
          [9e5, far],
          [0, far],
        ];
      };
      const within = (rollOutline: [number, number][]): RunFiles =>
        changed(files, 'run.json', (text) => {
          const record = JSON.parse(text) as RunRecord;
          return JSON.stringify({ ...record, lays: [{ ...record.lays[0]!, rollOutline }] });
        });
      expect(rulesFound(within(bay(6)))).toContain('waste');
      expect(rulesFound(within(bay(-6)))).not.toContain('waste');
    }
    expect([...faces].sort()).toEqual(['down', 'up']);
  });

  it('finds a mark that the bite after it has not on its bed', () => {
    expect(rulesFound(recorded(led, ({ mark }) => ({ mark: [40, mark![1]] })))).toContain('waste');
  });

  it('finds a mark that is not cut, or cut where none is meant', () => {
    expect(rulesFound(recorded(conveyor, () => ({ mark: null })))).toContain('extra-cut');
    const uncut = program(led, (text) =>
      text.replace(/\(registration mark\)\n[^]*?(?=\(MSG, FEED)/, ''),
    );
    expect(rulesFound(uncut)).toContain('missing-cut');
  });

  it('finds a mark that is not looked for, or looked for elsewhere', () => {
    const unseen = program(led, (text) =>
      text.replace(/[^\n]*\n\(MSG, CHECK[^\n]*\n[^\n]*M0\n/, ''),
    );
    expect(rulesFound(unseen)).toContain('mark');
    const elsewhere = program(led, (text) =>
      text.replace(
        /(G0 X)(\d+)([^\n]*\n\(MSG, CHECK)/,
        (_, g0: string, x: string, rest: string) => `${g0}${Number(x) + 3}${rest}`,
      ),
    );
    expect(rulesFound(elsewhere)).toContain('mark');
  });

  it('finds a program that does not lead its knife in', () => {
    const unled = program(led, (text) => text.replace(/\(lead-in\)\n(?:[^\n]*\n){4}/, ''));
    expect(rulesFound(unled)).toContain('lead-in');
  });
});
