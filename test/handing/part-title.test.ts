import { expect, it } from 'vitest';
import { partTitle } from '../../src/handing/part-title.ts';
import type { Part } from '../../src/handing/part.ts';
import type { PatternSet } from '../../src/pattern/set.ts';

const content = {
  pieces: { footrest: { title: 'Foot rest' }, 'wheel-box-2': {} },
} as unknown as PatternSet['content'];

it.each([
  [{ piece: 'footrest', kind: 'piece', side: 'right', name: 'footrest-right' }, 'Foot rest, right'],
  [
    { piece: 'footrest', kind: 'board', side: 'right', name: 'footrest-board-right' },
    'Foot rest board, right',
  ],
  [{ piece: 'wheel-box-2', kind: 'piece', side: null, name: 'wheel-box-2' }, 'Wheel box 2'],
  [
    { piece: 'wheel-box-2', kind: 'pad', side: 'left', name: 'wheel-box-2-pad-left-3' },
    'Wheel box 2 heel pad, left, no. 3',
  ],
] as const)('%o is called %s', (part, title) => {
  expect(partTitle(part as unknown as Part, content)).toBe(title);
});
