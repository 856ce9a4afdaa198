#!/usr/bin/env node
import yargs from 'yargs';
import { hideBin } from 'yargs/helpers';
import { checkCommand } from './check.ts';
import { compareCommand } from './compare.ts';
import { cutCommand } from './cut.ts';
import { printFailure, warn } from './print.ts';
import { deriveCommand } from './derive.ts';
import { importCommand } from './import.ts';
import { nestCommand } from './nest.ts';
import { proveCommand } from './prove.ts';
import { recutCommand } from './recut.ts';
import { readCommand } from './read.ts';
import { serveCommand } from './serve.ts';

/** Exit codes: 0 fine, 1 errors found, 2 unusable input or arguments, 130 stopped by Ctrl-C. */
const badArguments = 2;

const parser = yargs(hideBin(process.argv))
  .scriptName('pileway')
  .usage(
    '$0 <command>\n\nTurns pattern outlines of vehicle carpet into files that a knife cutter runs.',
  )
  .command(cutCommand)
  .command(recutCommand)
  .command(compareCommand)
  .command(proveCommand)
  .command(checkCommand)
  .command(deriveCommand)
  .command(nestCommand)
  .command(readCommand)
  .command(importCommand)
  .command(serveCommand)
  .demandCommand(1, 'Name a command.')
  .option('debug', {
    type: 'boolean',
    default: false,
    describe: 'show where in the program a failure arose',
  })
  .strictCommands()
  .strict()
  .wrap(100)
  .exitProcess(false)
  .fail((message, error) => {
    // A failure inside a command is worded further down. Here are only the arguments that yargs itself
    // refuses.
    if (error && error.name !== 'YError') throw error;
    throw new ArgumentError(sentence(message));
  });

class ArgumentError extends Error {}

/** The message as one line that ends with a full stop. */
function sentence(message: string): string {
  return message
    .trim()
    .replaceAll(/\s*\n\s*/g, ' ')
    .replace(/\.?$/, '.');
}

try {
  await parser.parseAsync();
} catch (error) {
  if (error instanceof ArgumentError) {
    warn(`${error.message} See pileway --help.`);
    process.exitCode = badArguments;
  } else {
    const code = printFailure(error, process.argv.includes('--debug'));
    process.exitCode ??= code;
  }
}
