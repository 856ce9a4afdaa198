import { describe, expect, it } from 'vitest';
import { variedCutters } from '../../knife/sample-cutters.ts';
import { longBay, smallTable } from '../../knife/sample-parts.ts';
import { changed, goodRun, inHead, rulesFound } from '../good-run.ts';
import type { RunFiles } from '../run-folder.ts';
import { tries } from '../../support/thorough.ts';

const good = goodRun(longBay);

function withHead(files: RunFiles, name: string, change: (line: string) => string[]): RunFiles {
  return changed(files, name, (text) => inHead(text, change));
}

describe.each(variedCutters)('the head of a program for $name', (cutter) => {
  const files = goodRun(cutter);
  const names = Object.keys(files).filter((name) => name.endsWith('.nc'));

  it('is the same as record and moves say', () => {
    expect(rulesFound(files)).toEqual([]);
  });

  it.each(names)('of %s misses every line that it lacks, or has twice', (name) => {
    const count = files[name]!.split('\n').findIndex((line) => !line.startsWith('('));
    expect(count).toBeGreaterThan(15);
    // Everyday runs look at some of the lines, others in each file.
    const step = tries(7, 4);
    for (let i = names.indexOf(name) % step; i < count; i += step) {
      for (const copies of [0, 2]) {
        let at = 0;
        const broken = withHead(files, name, (line) =>
          Array.from({ length: at++ === i ? copies : 1 }, () => line),
        );
        expect(rulesFound(broken), `line ${i + 1}, ${copies} times`).toContain('head');
      }
    }
  });
});

describe('the head of a program', () => {
  it.each([
    ['the run', 'RUN demo', 'RUN other', 'head'],
    ['the fingerprint', /RUN demo [0-9a-f]{4}/, 'RUN demo 0123', 'fingerprint'],
    ['the material', 'MATERIAL loop', 'MATERIAL felt', 'head'],
    ['the thickness', ' 8 mm thick', ' 9 mm thick', 'head'],
    ['the cutter', 'CUTTER', 'CUTTER not', 'head'],
    ['the width of the roll', 'Roll 2000', 'Roll 2030', 'head'],
    ['the length', / (\d+\.\d\d) m needed/, ' 9.99 m needed', 'head'],
    ['the parts', 'Lay of 4 parts', 'Lay of 5 parts', 'head'],
    ['the bites', 'here 2 bites', 'here 3 bites', 'head'],
    ['what is cut', /, ([\d.]+) m to cut/, ', 99.9 m to cut', 'head'],
    ['what is travelled', /, ([\d.]+) m between/, ', 99.9 m between', 'head'],
    ['the time', /(under 1|\d+) min/, '55 min', 'head'],
    ['the axis', 'turned by C', 'turned by A', 'head'],
    ['the oscillation', 'oscillating', 'still', 'head'],
    ['the blade', 'blade 6 mm', 'blade 8 mm', 'head'],
    ['the depth', 'tip 0.5', 'tip 0.8', 'head'],
    ['the unit', 'Millimetres', 'Inches', 'head'],
    ['the reach', /mm: X \S+ to/, 'mm: X 99 to', 'head'],
    ['the reach in inches', /inches: X \S+ to/, 'inches: X 99 to', 'head'],
    [
      'the face',
      /FACE UP: .*pile up\./,
      'FACE DOWN: the roll lies with the pile on the bed.',
      'head',
    ],
    ['the side that lies up', 'with the pile up', 'with the side that will be seen up', 'head'],
    ['the pile', /, pile leaning[^)]*\)/, ')', 'head'],
    ['a caution', 'no safety function', 'a safety function', 'head'],
    ['what it says besides', '(CUTTING PROGRAM)', '(CUTTING PROGRAM)\n(all is well)', 'head'],
    [
      'that it cuts',
      /CUTTING PROGRAM/,
      'DRY PROGRAM: the way of the cut with the knife up.)\n(Run this first.',
      'head',
    ],
  ])('is wrong in %s', (_, what, instead, rule) => {
    expect(rulesFound(changed(good, 'loop.nc', (text) => text.replace(what, instead)))).toContain(
      rule,
    );
  });

  it('of a dry program is held against the cutting program', () => {
    const change = (text: string): string => text.replace(/, ([\d.]+) m to cut/, ', 9.9 m to cut');
    expect(rulesFound(changed(good, 'loop.dry.nc', change))).toContain('head');
  });

  it.each([
    ['BITE 2 OF 2', 'BITE 1 OF 2'],
    ['BITE 2 OF 2', 'BITE 2 OF 3'],
    [/fed \S+ mm/, 'fed 10 mm'],
    [/mm, \S+ inches/, 'mm, 10 inches'],
  ])('of a single bite is wrong in %s', (what, instead) => {
    const change = (text: string): string => text.replace(what, instead);
    expect(rulesFound(changed(good, 'loop.bite-2.nc', change))).toContain('head');
  });

  it('says how far a trailing knife trails', () => {
    const files = goodRun(smallTable);
    const change = (text: string): string => text.replace('trailing by 6', 'trailing by 5');
    expect(rulesFound(changed(files, 'loop.nc', change))).toContain('head');
  });
});

describe('the notes of a program', () => {
  const note = /^\((mat\S*) outline\)$/m;

  it.each(['loop.nc', 'loop.dry.nc', 'loop.bite-1.nc'])(
    'are in front of their cuts in %s',
    (name) => {
      const found = (change: (text: string) => string): string[] =>
        rulesFound(changed(good, name, change));
      const rule = name === 'loop.dry.nc' ? 'dry-way' : 'note';
      expect(found((text) => text.replace(/^\(pad\S* outline\)\n/m, ''))).toContain(rule);
      expect(found((text) => text.replace(note, '($1 notch)'))).toContain(rule);
      expect(found((text) => text.replace(note, '(mat outline)'))).toContain(rule);
      expect(found((text) => text.replace(note, '($1 outline)\n($1 outline)'))).toContain(rule);
      expect(found((text) => text.replace(/\nM2\n/, '\n(done)\nM2\n'))).toContain(rule);
    },
  );

  it('stand where the knife is up', () => {
    const change = (text: string): string =>
      text.replace(/^(\(pad\S* outline\))\n(G0 X.*\n(?:.*\n)*?G1 Z.*)$/m, '$2\n$1');
    expect(rulesFound(changed(good, 'loop.nc', change))).toContain('note');
  });
});
