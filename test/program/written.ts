import { programText } from '../../src/program/writing/write.ts';

/** A program as one text. */
export function writeProgram(...given: Parameters<typeof programText>): string {
  return [...programText(...given)].join('');
}
