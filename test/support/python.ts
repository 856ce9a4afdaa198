import { spawnSync } from 'node:child_process';
import type { Outside } from './outside.ts';
import { outside } from './outside.ts';

/** Python with one of its libraries, as an independent judge of what the product writes. */
export interface Python extends Outside {
  /** What a script answers: it gets `input` as JSON on stdin and prints JSON. Throws where it fails. */
  readonly ask: (script: string, input: unknown, ...args: string[]) => unknown;
}

/** Debian's Python is asked first, since its libraries are packages of Debian. */
export function pythonWith(library: string, calledBy = library): Python {
  const command = ['/usr/bin/python3', 'python3'].find(
    (candidate) => spawnSync(candidate, ['-c', `import ${library}`]).status === 0,
  );
  return {
    ...outside(calledBy, command !== undefined),
    ask: (script, input, ...args) => {
      const { status, stdout, stderr } = spawnSync(command!, ['-c', script, ...args], {
        input: JSON.stringify(input),
        encoding: 'utf8',
        maxBuffer: 1 << 28,
      });
      if (status !== 0) throw new Error(stderr);
      return JSON.parse(stdout);
    },
  };
}
