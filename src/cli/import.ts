import { join, resolve } from 'node:path';
import { refuse } from '../base/findings.ts';
import { importSet } from '../jobs/import.ts';
import type { FirstQuestion } from '../pattern/first-look/first-file.ts';
import { questionsAbout, questionsAboutSet } from '../pattern/first-look/first-file.ts';
import type { FirstPiece } from '../pattern/first-look/first-set.ts';
import type { Hand } from '../pattern/words.ts';
import { hands } from '../pattern/words.ts';
import type { Command } from './command.ts';
import type { DrawingArguments } from './drawing-options.ts';
import { checkDrawingNumbers, drawingOptions } from './drawing-options.ts';
import { findingLines } from './print.ts';
import { tableLines } from './table.ts';

interface ImportArguments extends DrawingArguments {
  file: string;
  set: string;
  patterns: string;
  shared: string | undefined;
  drawn: Hand | undefined;
  layer: string[];
  customer: string | undefined;
  'for-customer': boolean;
}

export const importCommand: Command<ImportArguments> = {
  command: 'import <file>',
  describe:
    'make a first set of a drawing: every piece, with what it does not say as open questions',
  builder: (args) =>
    args
      .positional('file', { type: 'string', demandOption: true, describe: 'a DXF drawing' })
      .option('set', { type: 'string', demandOption: true, describe: 'name of the set to be' })
      .option('patterns', {
        type: 'string',
        default: 'patterns',
        describe: 'folder that the set is made in',
      })
      .option('shared', {
        type: 'string',
        describe: 'folder of materials and layers; shared beside that folder if left out',
      })
      .option('drawn', { choices: hands, describe: 'the hand of drive it is drawn for' })
      .option('layer', {
        type: 'string',
        array: true,
        nargs: 1,
        default: [],
        describe: 'what a layer of the drawing means, like RED=PAD; may be given several times',
      })
      .option('customer', {
        type: 'string',
        requiresArg: true,
        describe: 'who drew it: what their layers mean stands in shared/customers',
      })
      .option('for-customer', {
        type: 'boolean',
        default: false,
        describe: 'what --layer says is so in all drawings of that customer',
      })
      .options(drawingOptions)
      .example('$0 import customer.dxf --set coupe', 'then: pileway check patterns/coupe')
      .example('$0 import customer.dxf --set coupe --layer RED=PAD', 'says what is on a layer'),
  run: (
    { file, set, patterns, shared, drawn, layer, customer, forCustomer, units, gap, refit },
    { say, warn },
  ) => {
    checkDrawingNumbers({ units, gap, refit });
    if (/[/\\]/.test(set)) {
      const todo = 'A set is a folder in --patterns: give its name alone.';
      refuse('argument', `--set ${set} is no name for a set.`, todo);
    }
    const folder = join(resolve(patterns), set);
    const sharedFolder = resolve(shared ?? join(patterns, '../shared'));
    const { set: made, findings } = importSet({
      file,
      folder,
      sharedFolder,
      units,
      drawn,
      layers: layer.map(answerIn),
      drawnBy: customer,
      forCustomer: forCustomer ? 'all' : [],
      gap,
      refit,
    });
    for (const line of tableLines({ header, rows: made.pieces.map(rowOf) })) say(line);
    for (const one of questionsAboutSet(made)) say(`the set: ${asked(one)}`);
    say(`${join(patterns, set, 'set.yaml')}: answer what stands under "open:", then run "check".`);
    for (const line of findingLines(findings)) warn(line);
    return 0;
  },
};

/** What `--layer` says: the name may have an equals sign in it, the meaning has none. */
function answerIn(words: string): [layer: string, means: string] {
  const at = words.lastIndexOf('=');
  if (at < 1 || at === words.length - 1) {
    refuse('argument', `--layer ${words} says nothing.`, 'Write it like --layer RED=PAD.');
  }
  return [words.slice(0, at), words.slice(at + 1)];
}

const header = ['piece', 'side', 'quantity', 'material', 'asked'];

function rowOf(piece: FirstPiece): string[] {
  const { name, side, quantity, material } = piece;
  // What has a column of its own is not said twice.
  const questions = questionsAbout(piece).map((one) =>
    asked(header.includes(one.key) ? { ...one, value: null } : one),
  );
  return [name, side.value, String(quantity), material.value, questions.join('; ') || '-'];
}

/** A question with the value that is proposed: `pile: rearward? no drawing says where it leans`. */
function asked({ key, value, why }: FirstQuestion): string {
  return `${key}${value === null ? '' : `: ${value}`}? ${why}`;
}
