#!/usr/bin/env node
import { main } from './main.ts';
import type { Terminal } from './terminal.ts';

/** The program: the only file that touches the process, its streams and its exit code. */

const { stdout, stderr } = process;

// A reader that has seen enough, as `head` has, closes the pipe. What is under way is finished in silence.
for (const stream of [stdout, stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
}

const terminal: Terminal = {
  say: (text) => void stdout.write(`${text}\n`),
  warn: (text) => void stderr.write(`${text}\n`),
  progress: stderr.isTTY ? (text) => void stderr.write(`\r${text.padEnd(70)}\r`) : null,
  onSignal(signals, heed) {
    for (const signal of signals) process.on(signal, heed);
  },
  endAtOnce: () => process.exit(),
};

process.exitCode = await main(process.argv.slice(2), terminal);
