import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding, Severity } from '../../../../src/base/findings.ts';
import {
  listedWords,
  listFindings,
  totalWords,
} from '../../../../src/papers/pictures/check/finding-list.ts';
import { feature, line, oblong, patternSet, piece } from '../../../handing/fixtures.ts';

const door = { ...feature('BOUND', line(100, 0, 500, 0)), name: 'door' };
const set = patternSet('RHD', [
  piece('mat', { side: 'pair', drawnSide: 'right' }, oblong(100, 0, 500, 400), [door]),
  piece('floor', {}, oblong(-500, 0, 500, 900)),
]);

function found(severity: Severity, where: Finding['where'], message = 'wrong.'): Finding {
  return { severity, rule: 'rule', message, todo: 'Mend it.', where };
}

const anything: fc.Arbitrary<Finding> = fc
  .record({
    severity: fc.constantFrom<Severity>('error', 'warning', 'note'),
    piece: fc.constantFrom(undefined, 'mat', 'floor', 'stranger'),
    message: fc.integer({ min: 0, max: 1000 }).map((n) => `number ${n}.`),
  })
  .map(({ severity, piece: name, message }) =>
    found(severity, name === undefined ? {} : { piece: name }, message),
  );

describe('the list of findings', () => {
  it('has each once, by piece in the order of the set, the whole set first, the worst first', () => {
    const distinct = fc.uniqueArray(anything, { selector: (one) => JSON.stringify(one) });
    fc.assert(
      fc.property(distinct, (findings) => {
        const groups = listFindings(set, findings);
        const order = [null, 'mat', 'floor'];
        const names = groups.map((group) => group.piece);
        expect(names).toEqual(order.filter((name) => names.includes(name)));
        const all = groups.flatMap((group) => group.findings);
        expect(all.map(({ number }) => number)).toEqual(findings.map((_, i) => i + 1));
        const words = (some: readonly Finding[]): string[] =>
          some.map((one) => JSON.stringify(one)).sort();
        expect(words(all.map(({ finding }) => finding))).toEqual(words(findings));
        for (const { piece: name, findings: own } of groups) {
          for (const { finding } of own) {
            const { piece: meant = null } = finding.where;
            expect(order.includes(meant) ? meant : null).toBe(name);
          }
          const marks = own.map(({ finding }) => 'ewn'.indexOf(finding.severity[0]!));
          expect(marks).toEqual(marks.toSorted());
        }
      }),
    );
  });

  it('joins what is found alike on both halves of a pair, at the place that was drawn', () => {
    const on = (side: string, x: number): Finding =>
      found('error', {
        file: 'a.dxf',
        line: 7,
        piece: 'mat',
        part: `mat-${side}`,
        at: { x, y: 20 },
      });
    const [group] = listFindings(set, [on('left', -300), on('right', 300)]);
    expect(group!.findings).toHaveLength(1);
    expect(listedWords(group!.findings[0]!)).toBe(
      `a.dxf:7, parts mat-left and mat-right, at 300.0, 20.0 in the piece's drawing, 20 mm from edge "door": wrong. Mend it.`,
    );
    const [apart] = listFindings(set, [on('left', -300), on('right', 301)]);
    expect(apart!.findings).toHaveLength(2);
  });

  it('names the hand in which something is so, unless it is so in both', () => {
    const on = (side: string, x: number, hand: 'RHD' | 'LHD'): Finding =>
      found('error', { piece: 'mat', part: `mat-${side}`, hand, at: { x, y: 20 } });
    const words = (...findings: Finding[]): string[] =>
      listFindings(set, findings).flatMap((group) => group.findings.map(listedWords));
    expect(words(on('right', 300, 'LHD'))[0]).toMatch(/^part mat-right, in LHD, at 300.0, 20.0 in/);
    const both = words(on('right', 300, 'LHD'), on('left', -300, 'RHD'));
    expect(both).toHaveLength(1);
    expect(both[0]).toMatch(/^parts mat-right and mat-left, at 300.0, 20.0 in/);
  });

  it('words a finding on the set, and one on a piece that could not be read', () => {
    const unread = { ...set, pieces: [] };
    const findings = [
      found('note', { file: 'set.yaml', line: 3, column: 5 }),
      found('error', { piece: 'mat', at: { x: 1, y: 2 } }),
    ];
    const listed = listFindings(unread, findings).flatMap((group) => group.findings);
    expect(listed.map(listedWords)).toEqual([
      'set.yaml:3:5: wrong. Mend it.',
      "at 1.0, 2.0 in the piece's drawing: wrong. Mend it.",
    ]);
  });

  it('is summed up in a line', () => {
    const total = (...severities: Severity[]): string =>
      totalWords(
        listFindings(
          set,
          severities.map((one, i) => found(one, {}, `${i}`)),
        ),
        14,
      );
    expect(total('warning', 'error', 'error')).toBe('2 errors, 1 warning in 14 pieces');
    expect(total('note')).toBe('1 note in 14 pieces');
    expect(total()).toBe('nothing found in 14 pieces');
  });
});
