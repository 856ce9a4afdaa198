/**
 * A program of a million lines and more, written piece by piece to a file: `npm run bench:program`.
 * Against it the same text joined in memory first.
 */
import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readCutter } from '../../src/knife/cutter.ts';
import type { KnifePath, Move } from '../../src/knife/moves.ts';
import { programText } from '../../src/program/writing/write.ts';

const { cutter } = readCutter(join(import.meta.dirname, '../../shared'), 'long-bay');
const header = { run: 'bench', material: 'loop', thickness: 8, face: 'the pile', lines: [] };

/** Zigzags of a hundred strokes between two lifts. */
function zigzags(strokes: number): KnifePath {
  const moves: Move[] = [];
  for (let i = 0; i < strokes; i++) {
    const to = { x: (i % 100) * 30.123, y: ((i * 7) % 2000) + 0.456 };
    if (i % 100 === 0)
      moves.push({ kind: 'lift' }, { kind: 'travel', to }, { kind: 'lower', z: -0.5 });
    else moves.push({ kind: 'line', to, deg: (i % 90) + 0.5 });
  }
  return { moves, cutLength: 0, travelLength: 0, minutes: 0, bites: 1, begun: [] };
}

function megabytes(): number {
  return process.memoryUsage().rss / 2 ** 20;
}

const folder = mkdtempSync(join(tmpdir(), 'pileway-bench-'));
try {
  const path = zigzags(1_000_000);
  const before = megabytes();
  let peak = before;
  const timed = (name: string, work: () => number): number => {
    const start = performance.now();
    const lines = work();
    const seconds = (performance.now() - start) / 1000;
    console.log(
      `${name.padEnd(16)} ${lines} lines  ${seconds.toFixed(2)} s  ${peak.toFixed(0)} MB at most, ${before.toFixed(0)} before`,
    );
    return seconds;
  };
  const file = join(folder, 'long.nc');
  const streamed = timed('piece by piece', () => {
    const handle = openSync(file, 'w');
    let [block, lines] = ['', 0];
    for (const piece of programText(path, cutter, header, 'cut')) {
      block += piece;
      lines++;
      if (block.length < 1 << 20) continue;
      writeFileSync(handle, block);
      block = '';
      peak = Math.max(peak, megabytes());
    }
    writeFileSync(handle, block);
    closeSync(handle);
    return lines;
  });
  console.log(`${(statSync(file).size / 2 ** 20).toFixed(1)} MB of text`);
  const joined = timed('joined first', () => {
    const pieces = [...programText(path, cutter, header, 'cut')];
    const text = pieces.join('');
    peak = Math.max(peak, megabytes());
    writeFileSync(file, text);
    return pieces.length;
  });
  console.log(`ratio of the times ${(streamed / joined).toFixed(2)}`);
} finally {
  rmSync(folder, { recursive: true });
}
