import { describe, expect, it } from 'vitest';
import { begunInProgram } from '../../../src/web/tasks/begun-in-program.ts';

describe('the parts that a program cuts', () => {
  it('are those that its comments announce, in their order, each once', () => {
    const text = [
      '(RUN week, MATERIAL loop)',
      '(b.1.7 inner)',
      'G1 X1',
      '(b.1.7 outline)',
      'N40 (a.1.7 outline)',
      '(registration mark)',
      '(c.1.7x outline)',
    ].join('\r\n');
    const begun = begunInProgram(text, ['a.1.7', 'b.1.7', 'c.1.7']);
    expect([...begun]).toEqual([
      ['b.1.7', 2],
      ['a.1.7', 5],
    ]);
  });

  it('are found too where a label is longer than a line', () => {
    const label = `${'long-'.repeat(20)}1.7`;
    const text = `(${label.slice(0, 78)})\n(${label.slice(78)} outline)\n`;
    expect([...begunInProgram(text, [label]).keys()]).toEqual([label]);
  });
});
