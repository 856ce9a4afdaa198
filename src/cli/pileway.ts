#!/usr/bin/env node
import { main } from './main.ts';
import type { Terminal } from './terminal.ts';

/** The program: the only file that touches the process, its streams and its exit code. */

const { stdout, stderr } = process;

let isUnheard = false;

// A reader that has seen enough, as `head` has, closes the pipe. What is under way is finished in silence.
stdout.on('error', ({ code }: NodeJS.ErrnoException) => {
  if (code === 'EPIPE' || isUnheard) return;
  isUnheard = true;
  process.exitCode = 2;
  stderr.write(`What pileway says cannot be written (${code}): the disk may be full.\n`);
});
stderr.on('error', () => {});

const terminal: Terminal = {
  say: (text) => void stdout.write(`${text}\n`),
  warn: (text) => void stderr.write(`${text}\n`),
  progress: stderr.isTTY ? (text) => void stderr.write(`\r${text.padEnd(70)}\r`) : null,
  onSignal(signals, heed) {
    for (const signal of signals) process.on(signal, heed);
  },
  endAtOnce: () => process.exit(),
};

const code = await main(process.argv.slice(2), terminal);
process.exitCode = isUnheard ? 2 : code;
