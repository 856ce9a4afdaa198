import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../../src/base/findings.ts';
import { findingWords } from '../../../../src/web/page/controls/finding-words.ts';

const finding: Finding = {
  severity: 'warning',
  rule: 'repeated',
  message: 'a contour is the same as another.',
  todo: 'Delete one.',
  where: {},
};

describe('a finding on the page', () => {
  it('says where it is: line, piece and point', () => {
    const at = { x: 1280, y: 100 };
    expect(findingWords({ ...finding, where: { line: 7, at } })).toBe(
      'line 7, at 1280.0, 100.0: A contour is the same as another. Delete one.',
    );
    expect(findingWords({ ...finding, where: { file: 'a.dxf', line: 7, piece: 'mat', at } })).toBe(
      "a.dxf:7, piece mat, at 1280.0, 100.0 in the piece's drawing: A contour is the same as another. Delete one.",
    );
    expect(findingWords(finding)).toBe('A contour is the same as another. Delete one.');
  });
});
