import { join, resolve } from 'node:path';
import { clothName } from '../pattern/shop/cloth.ts';
import { counted, metresUp } from '../base/wording.ts';
import { recut } from '../jobs/recut.ts';
import { runSchema } from '../run/run-file.ts';
import type { Command } from './command.ts';
import { checkNumber } from './numbers.ts';
import { findingLines } from './print.ts';

interface RecutArguments {
  folder: string;
  part: string[];
  remnant: string | undefined;
  rolls: string | undefined;
  out: string | undefined;
  seed: number;
  effort: number;
  force: boolean;
}

export const recutCommand: Command<RecutArguments> = {
  command: 'recut <folder>',
  describe: 'parts of a run once more, lost or spoilt: same shape, own program, sheet and labels',
  builder: (args) =>
    args
      .positional('folder', { type: 'string', demandOption: true, describe: 'what "cut" wrote' })
      .option('part', {
        type: 'string',
        array: true,
        demandOption: true,
        requiresArg: true,
        describe: 'the label of a part; several one after the other',
      })
      .option('remnant', {
        type: 'string',
        requiresArg: true,
        describe: 'the name of a roll or remnant; left out: what the run left on its roll',
      })
      .option('rolls', {
        type: 'string',
        requiresArg: true,
        describe:
          'file of rolls and remnants; ../../shared/rolls.yaml from the run folder if left out',
      })
      .option('out', {
        type: 'string',
        describe: 'folder to write; the run folder’s name with -recut behind it if left out',
      })
      .option('seed', {
        type: 'number',
        default: 1,
        requiresArg: true,
        describe: 'another seed searches another way',
      })
      .option('effort', {
        type: 'number',
        default: 500,
        requiresArg: true,
        describe: 'rounds of moves a material',
      })
      .option('force', {
        type: 'boolean',
        default: false,
        describe: 'write over an earlier recut of that name',
      })
      .example(
        '$0 recut out/fenlark-week --part footrest-right.1.1041',
        'cuts it again from the end of the roll',
      ),
  run: async ({ folder, part, remnant, rolls, out, seed, effort, force }, { say, warn }) => {
    checkNumber('seed', runSchema.shape.seed, seed);
    checkNumber('effort', runSchema.shape.effort, effort);
    const target = resolve(out ?? `${resolve(folder)}-recut`);
    const file = resolve(rolls ?? join(folder, '../../shared/rolls.yaml'));
    const facts = await recut({
      folder: resolve(folder),
      labels: part.map(String),
      out: target,
      force,
      stock: file,
      search: { seed, limit: { rounds: effort }, threads: 1 },
      ...(remnant === undefined ? {} : { remnant: { name: remnant, file } }),
    });
    for (const line of findingLines(facts.findings)) warn(line);
    const rollLines = facts.materials.map(
      ({ material, lay, parts }) =>
        `${clothName(material.name, lay.roll.colour)}: ${counted(parts.length, 'part')}, ${metresUp(lay.length)} from the start of ${lay.roll.name ?? 'what is left on its roll'}`,
    );
    say([...rollLines, `files     ${target}: open sheet.html first`].join('\n'));
    return 0;
  },
};
