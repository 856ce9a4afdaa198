import { describe, expect, it } from 'vitest';
import type { Cutter } from '../../../src/knife/cutter.ts';
import { conveyorBed, longBay, smallTable } from '../../knife/sample-parts.ts';
import { changed, goodRun, rulesFound } from '../good-run.ts';

const files = goodRun(longBay);
const modes = ['G17', 'G21', 'G40', 'G49', 'G54', 'G61', 'G80', 'G90', 'G94'];
const programs = ['loop.nc', 'loop.dry.nc', 'loop.bite-2.nc'];

function found(name: string, change: (text: string) => string): string[] {
  return rulesFound(changed(files, name, change));
}

// The modes are those that NISTIR 6556 has for the plane, the unit, offsets, paths, cycles, distances and feeds.
describe.each(programs)('the modes of %s', (name) => {
  it.each(modes)('lack %s', (mode) => {
    // Without some of them the program cannot even be read.
    expect(
      found(name, (text) => text.replace(`${mode} `, '').replace(` ${mode}\n`, '\n')),
    ).toContain(['G17', 'G21', 'G90', 'G94'].includes(mode) ? 'program' : 'modes');
  });

  it.each(modes)('are said again by %s', (mode) => {
    expect(found(name, (text) => text.replace('\nG0 X', `\n${mode}\nG0 X`))).toContain('modes');
  });
});

describe.each(programs)('a line of %s', (name) => {
  it.each([
    ['with a word more', (text: string) => text.replace(/^(G0 X.*)$/m, '$1 F100'), 'words'],
    ['with a speed', (text: string) => text.replace(/^(G0 X.*)$/m, '$1\nS1200'), 'words'],
    ['with a word less', (text: string) => text.replace(/^G0 X(\S+) Y\S+$/m, 'G0 X$1'), 'words'],
    [
      'with a note beside words',
      (text: string) => text.replace(/^(G0 X.*)$/m, '$1 (here)'),
      'words',
    ],
    [
      'that stops if a switch is set',
      (text: string) => text.replace(/^M0$|^M2$/m, 'M1\nM2'),
      'words',
    ],
  ])('%s', (_, change, rule) => {
    // A short program of one bite has no stop: M1 then stands before its end.
    expect(found(name, change).some((one) => one === rule || one === 'program')).toBe(true);
  });

  it('may have its words in another order, and small', () => {
    const change = (text: string): string => text.replace(/^G0 X(\S+) Y(\S+)$/m, 'g0 y$2 x$1');
    expect(found(name, change)).toEqual([]);
  });
});

describe.each([longBay, smallTable, conveyorBed])('lines of the profile of $name', (cutter) => {
  const program: Cutter['program'] = {
    ...cutter.program,
    before: ['M0', 'S1200', '(our bed)'],
    after: ['G4 P1', 'G0 X0 Y0'],
  };
  const own = goodRun({ ...cutter, program });

  it('stand where the profile puts them', () => {
    expect(rulesFound(own)).toEqual([]);
  });

  it.each(['loop.nc', 'loop.dry.nc'])('are missed in %s', (name) => {
    expect(rulesFound(changed(own, name, (text) => text.replace(/.*S1200\n/, '')))).toContain(
      'own-lines',
    );
    expect(rulesFound(changed(own, name, (text) => text.replace('G4 P1\n', 'G4 P2\n')))).toContain(
      'own-lines',
    );
  });
});

describe('what a program does besides cutting', () => {
  it.each([
    ['a wait that is too long', /^G4 P\S+$/m, 'G4 P7', 'wait'],
    ['a wait for nothing', /^(G0 X.*)$/m, '$1\nG4 P1', 'wait'],
    ['a lift that is too high', /^G0 Z\S+\n\(/m, 'G0 Z40\n(', 'height'],
    ['a knife that is switched on twice', /^M3$/m, 'M3\nM3', 'oscillating'],
    [
      'a knife that is lowered before it is at speed',
      /^(G4 P\S+)\n(G1 Z.*)$/m,
      '$2\n$1',
      'oscillating',
    ],
    ['a message of its own', /^(G0 X.*)$/m, '(MSG, go)\n$1', 'message'],
    ['a message worded otherwise', 'pull the roll on', 'push the roll on', 'message'],
  ])('%s', (_, what, instead, rule) => {
    expect(found('loop.nc', (text) => text.replace(what, instead))).toContain(rule);
  });

  it('is lifted no higher in the dry program', () => {
    expect(found('loop.dry.nc', (text) => text.replace(/^G0 Z\S+$/m, 'G0 Z40'))).toContain(
      'height',
    );
  });
});
