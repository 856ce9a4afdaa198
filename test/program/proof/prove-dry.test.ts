import { describe, expect, it } from 'vitest';
import { longBay, smallTable } from '../../knife/sample-parts.ts';
import { changed, goodRun, rulesFound } from '../good-run.ts';

type Fault = readonly [name: string, change: (text: string) => string, rule: string];

const faults: readonly Fault[] = [
  [
    'that lowers the knife',
    (text) => text.replace(/^(G0 X.*)$/m, '$1\nG1 Z-0.5 F3000'),
    'knife-down',
  ],
  ['that never lifts it', (text) => text.replace(/^G0 Z.*\n/m, ''), 'knife-down'],
  ['that switches it on', (text) => text.replace(/^(G0 X.*)$/m, 'M3\n$1'), 'oscillating'],
  ['with a line less', (text) => text.replace(/G1 X.*\nM2/, 'M2'), 'dry-way'],
  ['with a line more', (text) => text.replace(/^M2$/m, 'G0 X0 Y0\nM2'), 'dry-way'],
  ['that goes elsewhere', (text) => text.replace(/^G0 X\d/m, 'G0 X9'), 'dry-way'],
  ['that cuts a corner', (text) => text.replace(/^G3 (X\S+ Y\S+) I\S+ J\S+/m, 'G1 $1'), 'dry-way'],
  ['in inches', (text) => text.replace('G21', 'G20'), 'units'],
  ['that feeds another length', (text) => text.replace(/FEED \d/, 'FEED 9'), 'dry-way'],
  ['that does not stop for a feed', (text) => text.replace(/^M0\n/m, ''), 'dry-way'],
  ['without an end', (text) => text.replace(/^M2\n/m, ''), 'program'],
];

describe.each([longBay, smallTable])('the proof of a dry program for $name', (cutter) => {
  const good = goodRun(cutter);
  it.each(faults)('finds one %s', (name, change, rule) => {
    const rules = rulesFound(changed(good, 'loop.dry.nc', change));
    // In inches, or after another way, an arc that follows may fail already as an arc.
    const mayFailAsArc = ['in inches', 'that cuts a corner', 'that goes elsewhere'].includes(name);
    expect(rules).toContain(mayFailAsArc && rules.includes('program') ? 'program' : rule);
  });

  it('finds that it is not there', () => {
    const others = Object.entries(good).filter(([name]) => name !== 'loop.dry.nc');
    expect(rulesFound(Object.fromEntries(others))).toEqual(['file']);
  });
});
